package check

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/beside"
)

// Reading is what the proof of a bound needs of a plan, as the checker read it off the cuts. Where
// Check found nothing wrong, all of it is true.
type Reading struct {
	Job    *model.Job
	Plan   *model.Plan
	Worth  *model.Valuation // of the job
	Boards []Board          // in the order of the cuts
	by     *checker
	sound  bool // nothing was found wrong
}

// Board is one board that a plan uses.
type Board struct {
	Rack  int   // index in the job's rack, -1 for a bought board
	Offer int   // index in the job's yard, -1 for a board of the rack
	Parts []int // of each piece on it the index in the job's parts
	Net   int64 // price or worth, with handling and rips, less its offcuts; in ticks
}

// Check judges a plan by its job: no findings mean that it is accepted. It judges everything but
// the certificates of the groups and the bound, which proof.Bounds judges by the reading.
func Check(job *model.Job, plan *model.Plan) (*Reading, []model.Finding) {
	c := newChecker(job, plan)
	c.readBoards()
	c.copies()
	c.made()
	if len(c.found) == 0 {
		c.placements()
		c.purchases()
		c.rackAfter()
		c.order()
		c.costs()
		c.reasons()
		c.groups()
		c.revision()
	}
	return c.reading(), c.found
}

// Again judges a plan that may have another order of work than the one that was read, and other
// groups, but shares all else with it: it says what [Check] would say.
func (r *Reading) Again(plan *model.Plan) []model.Finding {
	if !r.sound || !sharesRows(r.by.plan, plan) {
		_, found := Check(r.Job, plan)
		return found
	}
	c := *r.by
	c.plan = plan
	c.order()
	c.groups()
	return c.found
}

// sharesRows says whether two plans share all but order of work and groups.
func sharesRows(a, b *model.Plan) bool {
	return a.Value == b.Value && a.Date == b.Date && a.Revision == b.Revision &&
		shared(a.Cuts, b.Cuts) && shared(a.Buy, b.Buy) && shared(a.Rack, b.Rack) &&
		shared(a.Costs, b.Costs) && shared(a.Shortages, b.Shortages) &&
		shared(a.Placements, b.Placements) && shared(a.Made, b.Made)
}

// shared says whether two lists are one and the same.
func shared[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// reading is what is handed on to the proof.
func (c *checker) reading() *Reading {
	r := &Reading{Job: c.job, Plan: c.plan, Worth: c.worth, by: c, sound: len(c.found) == 0}
	for _, u := range c.boards {
		b := Board{Rack: u.rack, Offer: u.offer, Net: u.net.sum()}
		for _, l := range u.pieces {
			b.Parts = append(b.Parts, l.part)
		}
		r.Boards = append(r.Boards, b)
	}
	return r
}

// checker judges one plan, and gathers what it finds wrong.
type checker struct {
	job    *model.Job
	plan   *model.Plan
	worth  *model.Valuation
	parts  map[partName]int // index in job.Parts
	rack   map[string]int   // id to index in job.Rack
	offers map[int]int      // line of yard.csv to index in job.Yard
	boards []*usedBoard
	found  []model.Finding
}

type partName struct{ commission, part string }

// usedBoard is one board that the plan uses, with its rows of the cuts.
type usedBoard struct {
	id       string
	origin   model.Origin
	board    *model.Board // the rack's; for a bought board a clear one of the offer's wood
	offer    int          // index in job.Yard, -1 for a rack board
	rack     int          // index in job.Rack, -1 for a bought board
	firstRow int          // row of the plan's cuts where it starts
	rows     []model.Cut
	down     model.First  // the kind of cut that breaks it down
	span     model.Span   // that is ripped first; none: all between the trims
	pieces   []laidPiece  // those that name a part of the job, in the order of rows
	bad      []model.Rect // every defect with its margin, sorted
	sawn     []sawn       // its cuts, one a step
	ripped   *rippedBoard // nil where it is not ripped, or its pieces are not right
	net      netCost
}

// laidPiece is one piece on a board.
type laidPiece struct {
	part int // index in job.Parts
	*model.Cut
}

func newChecker(job *model.Job, plan *model.Plan) *checker {
	c := &checker{
		job: job, plan: plan, worth: job.Valuation(),
		parts: map[partName]int{}, rack: map[string]int{}, offers: map[int]int{},
	}
	for i := range job.Parts {
		c.parts[partName{job.Parts[i].Commission, job.Parts[i].Name}] = i
	}
	for i := range job.Rack {
		c.rack[job.Rack[i].ID] = i
	}
	for i := range job.Yard {
		c.offers[job.Yard[i].Where.Line] = i
	}
	return c
}

func (c *checker) say(where, format string, args ...any) {
	c.found = append(c.found, model.Finding{Where: where, What: fmt.Sprintf(format, args...)})
}

// shop writes a length for people.
func (c *checker) shop(l model.Length) string { return l.Shop(c.job.Settings.Units) }

// readBoards splits the cuts into boards, finds out what each of them is, and judges each.
func (c *checker) readBoards() {
	placed := map[string]*model.Placement{}
	for i := range c.plan.Placements {
		if p := &c.plan.Placements[i]; placed[p.Board] == nil {
			placed[p.Board] = p
		}
	}
	// Each board has a checker of its own, so that all are judged beside each other.
	var each []*checker
	var boards []*usedBoard
	seen := map[string]bool{}
	for start := 0; start < len(c.plan.Cuts); {
		id, end := c.plan.Cuts[start].Board, start+1
		for end < len(c.plan.Cuts) && c.plan.Cuts[end].Board == id {
			end++
		}
		one, p := *c, placed[id]
		one.found = nil
		u := one.identify(id, p)
		switch {
		case seen[id]:
			one.say("cuts.csv: board "+id, "is used twice: its rows do not stand together")
			u = nil
		case u != nil:
			u.firstRow, u.rows = start, c.plan.Cuts[start:end]
			if p != nil {
				u.down, u.span = p.First, model.Span{From: p.RipFrom, To: p.RipTo}
			}
			c.boards = append(c.boards, u)
		}
		each, boards = append(each, &one), append(boards, u)
		seen[id] = true
		start = end
	}
	beside.Each(len(boards), 0, func(n int) {
		if u := boards[n]; u != nil {
			u.bad = c.job.WidenedRects(u.board, nil)
			each[n].judgeBoard(u)
			u.net = each[n].netCostOf(u)
		}
	})
	for _, one := range each {
		c.found = append(c.found, one.found...)
	}
	c.newIDs()
}

// identify says what board an id is: one of the rack, or one bought by a line of the yard.
func (c *checker) identify(id string, placed *model.Placement) *usedBoard {
	where, line := "cuts.csv: board "+id, 0
	if placed != nil {
		line = placed.Offer
	}
	if i, ok := c.rack[id]; ok {
		if line != 0 {
			c.say(where, "is a board of the rack, yet plan.json names line %d of yard.csv that "+
				"it was bought by; a bought board needs a new id",
				line)
			return nil
		}
		return &usedBoard{id: id, origin: model.FromRack, board: &c.job.Rack[i], offer: -1, rack: i}
	}
	i, offered := c.offers[line]
	switch {
	case id == "":
		c.say(where, "has no id")
	case line == 0:
		c.say(where, "is not on the rack, and plan.json names no line of yard.csv that it "+
			"was bought by")
	case !offered:
		c.say(where, "was bought, as plan.json has it, by line %d of yard.csv, where no board "+
			"is for sale",
			line)
	default:
		b := &model.Board{ID: id, Wood: c.job.Yard[i].Wood}
		return &usedBoard{id: id, origin: model.FromYard, board: b, offer: i, rack: -1}
	}
	return nil
}

// newIDs judges that ids of offcuts and of bought boards are given once and are none of the
// input's, and that their numbers, of at most twelve digits, are above those of the rack.
func (c *checker) newIDs() {
	taken := map[string]string{}
	highest := map[string]string{} // id of the rack by what stands before its number
	there := func(id string) {
		whole := id
		if before, piece := numbered(id); piece != "" && strings.HasSuffix(before, ".") {
			whole = strings.TrimSuffix(before, ".") // one of alike boards
		}
		stem, n := numbered(whole)
		stem = strings.ToLower(stem)
		if _, old := numbered(highest[stem]); len(n) <= 12 && above(n, old) {
			highest[stem] = whole
		}
	}
	for id := range c.rack {
		taken[id] = "a board of the rack"
		there(id)
	}
	for _, id := range c.job.Known {
		taken[id] = "a board that the book knows"
		there(id)
	}
	before := c.before()
	for _, id := range c.givenBefore() {
		there(id)
	}
	given := "rack"
	if c.plan.Revision != nil {
		given = "rack or of the plan before"
	}
	goesOn := func(where, id string) {
		stem, n := numbered(id)
		stem = strings.ToLower(stem)
		if _, old := numbered(highest[stem]); n != "" && old != "" && !above(n, old) {
			c.say(where, "the id %s does not go on after %s of the %s", id, highest[stem], given)
		}
	}
	for _, u := range c.boards {
		if u.offer >= 0 {
			taken[u.id] = "a bought board"
			if b := before[u.id]; b == nil || b.Offer != c.job.Yard[u.offer].Where.Line {
				goesOn("cuts.csv: board "+u.id, u.id)
			}
		}
	}
	for _, u := range c.boards {
		for i := range u.rows {
			r := &u.rows[i]
			if r.Kind != model.KindOffcut {
				continue
			}
			where := c.rowName(u, i)
			if r.Offcut == "" {
				c.say(where, "the offcut has no id")
			} else if who := taken[r.Offcut]; who != "" {
				c.say(where, "the offcut's id %s is not new: it is that of %s", r.Offcut, who)
			}
			if b := before[u.id]; b == nil || !slices.Contains(b.Offcuts, r.Offcut) {
				goesOn(where, r.Offcut)
			}
			taken[r.Offcut] = "another offcut"
		}
	}
}

// numbered parts an id before the digits at its end.
func numbered(id string) (stem, digits string) {
	stem = strings.TrimRight(id, "0123456789")
	return stem, id[len(stem):]
}

// above says whether a number in digits is higher than another, as long as they may be.
func above(a, b string) bool {
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return len(a) > len(b) || len(a) == len(b) && a > b
}

// rowName names the i-th row of a board, counted over the whole file below its header.
func (c *checker) rowName(u *usedBoard, i int) string {
	return fmt.Sprintf("cuts.csv: board %s, line %d", u.id, u.firstRow+i+2)
}

// copies judges that every copy of every part is cut exactly once, or else named as a shortage.
func (c *checker) copies() {
	had := make([]map[int64]bool, len(c.job.Parts))
	take := func(where string, part int, n int64, how string) {
		p := &c.job.Parts[part]
		switch {
		case !p.Wants(n) && p.Copies != nil:
			c.say(where, "%s names copy %d of %s of %s, which is not wanted any more", how, n,
				p.Name, p.Commission)
			return
		case !p.Wants(n):
			c.say(where, "%s names copy %d of %s of %s, of which %d are wanted", how, n, p.Name,
				p.Commission, p.Qty)
			return
		case had[part][n]:
			c.say(where, "%s names copy %d of %s of %s once more", how, n, p.Name, p.Commission)
			return
		case had[part] == nil:
			had[part] = map[int64]bool{}
		}
		had[part][n] = true
	}
	for _, u := range c.boards {
		for _, l := range u.pieces {
			take("cuts.csv: board "+u.id, l.part, l.Copy, "a row")
		}
	}
	for i, s := range c.plan.Shortages {
		where := fmt.Sprintf("plan.json: shortage %d", i+1)
		part, known := c.parts[partName{s.Commission, s.Part}]
		switch {
		case !known:
			c.say(where, "the job has no part %q of %q", s.Part, s.Commission)
			continue
		case len(s.Copies) == 0:
			c.say(where, "names no copy of %s of %s", s.Part, s.Commission)
		case s.Reason == "":
			c.say(where, "gives no reason why %s of %s is short", s.Part, s.Commission)
		}
		for _, n := range s.Copies {
			take(where, part, n, "the shortage")
		}
	}
	for i := range c.job.Parts {
		p := &c.job.Parts[i]
		for n := int64(0); n < p.Qty && int64(len(had[i])) < p.Qty; n++ {
			if !had[i][p.CopyAt(n)] {
				c.say("cuts.csv",
					"%d of %d copies of %s of %s are neither cut nor short; the first is copy %d",
					p.Qty-int64(len(had[i])), p.Qty, p.Name, p.Commission, p.CopyAt(n))
				break
			}
		}
	}
}

// placements judges that the placements tell of the same boards and pieces as the cuts.
func (c *checker) placements() {
	if len(c.plan.Placements) != len(c.boards) {
		c.say("plan.json: placements", "tell of %d boards, cuts.csv uses %d",
			len(c.plan.Placements), len(c.boards))
		return
	}
	for i, u := range c.boards {
		p := &c.plan.Placements[i]
		where := fmt.Sprintf("plan.json: placement %d", i+1)
		if p.Board != u.id {
			c.say(where, "is of board %s, where cuts.csv has %s", p.Board, u.id)
			continue
		}
		want := make([]model.Piece, len(u.pieces))
		for k, l := range u.pieces {
			want[k] = model.Piece{Commission: l.Commission, Part: l.Part, Copy: l.Copy,
				From: l.From,
				To:   l.To}
			if u.down != model.NotRipped {
				want[k].Left, want[k].Right = l.Left, l.Right
			}
		}
		if !slices.Equal(p.Pieces, want) {
			c.say(where, "the pieces on board %s are not those of cuts.csv", u.id)
		}
	}
}
