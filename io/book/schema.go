package book

// oldest is the version of the form that a new file has. An event that programs of that version do
// not know lifts it to that of its kind, at most version; mark says that a file is a book at all.
const (
	oldest  = 1
	version = 3 // 2: counted events; 3: plans
	mark    = 0x5261636b

	withPlans = 3
)

// formOf is the version of the form that an event of a kind asks for.
func formOf(k Kind) int {
	switch k {
	case Counted:
		return 2
	case Booked, Received, Cut:
		return withPlans
	}
	return oldest
}

// schema is what a book is made of, each part by its name in the order of their making. The rack
// has a row for each id that ever came; says is NULL where the board is gone. The files have one
// row: the event up to which rack.csv and defects.csv are known to be written. Parts that came with
// a later form are there from that form on.
var schema = []struct {
	form      int
	name, sql string
}{
	{oldest, "events", `CREATE TABLE events (
	number INTEGER PRIMARY KEY,
	date   TEXT NOT NULL,
	kind   TEXT NOT NULL,
	says   TEXT NOT NULL,
	hash   TEXT NOT NULL
) STRICT`},
	{oldest, "rack", `CREATE TABLE rack (
	place INTEGER PRIMARY KEY,
	board TEXT NOT NULL UNIQUE,
	says  TEXT
) STRICT`},
	{oldest, "files", `CREATE TABLE files (
	event INTEGER NOT NULL
) STRICT`},
	{oldest, "events_follow", `CREATE TRIGGER events_follow BEFORE INSERT ON events
WHEN NEW.number IS NOT (SELECT coalesce(max(number), 0) + 1 FROM events)
BEGIN SELECT RAISE(ABORT, 'an event has the number after the last'); END`},
	{oldest, "events_stay", `CREATE TRIGGER events_stay BEFORE UPDATE ON events
BEGIN SELECT RAISE(ABORT, 'an event never changes'); END`},
	{oldest, "events_last", `CREATE TRIGGER events_last BEFORE DELETE ON events
BEGIN SELECT RAISE(ABORT, 'an event never goes'); END`},
	{withPlans, "plans", `CREATE TABLE plans (
	hash  TEXT PRIMARY KEY,
	files BLOB NOT NULL
) STRICT`},
	{withPlans, "plans_stay", `CREATE TRIGGER plans_stay BEFORE UPDATE ON plans
BEGIN SELECT RAISE(ABORT, 'the files of a plan never change'); END`},
	{withPlans, "plans_last", `CREATE TRIGGER plans_last BEFORE DELETE ON plans
BEGIN SELECT RAISE(ABORT, 'the files of a plan never go'); END`},
}
