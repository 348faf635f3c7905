// Package book is the book of a shop: what happened to each board of the rack, event by event.
//
// Start at [Open] or [Create]; [Rack] adds events up. An event never changes and never goes. What
// was wrong is put right by a later one. Each has
//
//	number   1, 2, 3 and so on
//	date     the day, YYYY-MM-DD; the numbers have the order, whatever the clock said
//	kind     why it came to that
//	says     canonical JSON: the event that is undone, if one is, what it says of a plan, and the
//	         changes of boards
//	hash     the SHA-256 over the one before and all of these, so that no event can be altered
//
// A change names a board as it was and as it is: without a was it came, without an is it left. So
// the rack is the sum of all changes whatever their kind, and an event is undone by its changes
// turned round. A plan that is booked changes no board; one that is received or cut does. With the
// first event of a new kind the version in the file goes up, so that an older program refuses what
// it would misread.
//
//	event.go   what an event says, and its form as JSON
//	fold.go    what events add up to, and which of them are legal
//	plan.go    what an event says of a plan; cut.go: that what is cut adds up
//	plans.go   what events add up to for plans; may.go: which of them are legal then
//	lives.go   how each plan stands that is booked
//	chain.go   the hashes
//	changes.go what two racks differ in
//	store.go   the events and the rack that they add up to, in one SQLite file
//	schema.go  its tables, triggers and version
//	follow.go  plans in the file, and which events may follow those in it
//	kept.go    the files that are kept of each plan
//	audit.go   what may be wrong with such a file
//	rest.go    what is left of a damaged one; rebuild.go: a new one made of that
//	place.go   how the file is opened; network_linux.go, network_other.go: where it lies
//
// SQLite opens its file itself, so this room takes a path where others take a reader. All that has
// to do with it is in these last files. Nothing that is read makes a path: the path is the
// caller's, whole.
//
// The file has a write-ahead log and synchronous FULL: what is entered stays, though the power
// fail. Where no such log can be had, as on a network file system, it has a rollback journal.
package book
