package nest

import (
	"context"
	"encoding/binary"
	"math"
	"slices"

	"rackwright/model"
	"rackwright/nest/cutlist"
	"rackwright/nest/cutting"
)

// The rest of a plan that was begun. Its job has the copies still wanted and the boards as they are
// now. What the plan before makes of the boards not begun is in a [model.Revision]. Some of these
// layouts still stand: their board is there, their copies are wanted, and where they lie is sound
// wood. keep.go decides which of them are kept.

// Replan plans the rest of a job, as [Plan] does. The revision has all but Changed and Counts,
// which are found here; the plan has it with them. What is minimised is
//
//	value + Change x boards not begun that are not cut as laid out before
//
// Value and bound are of the rest alone, and do not count what changes. A group of parts and
// boards in which all layouts stand and give all that is wanted keeps them, whatever else there
// may be.
func Replan(ctx context.Context, job *model.Job, rev *model.Revision, opt Options) (*model.Plan,
	error) {
	return makePlan(ctx, job, rev, opt)
}

// prior is what is known of the plan before; nil: there is none.
type prior struct {
	*model.Revision
	laid [][]laid // by group, the layouts that stand
}

// laid is a layout that stands.
type laid struct {
	at      int             // in Revision.Before
	row     int             // of the rack; -1: the board is to come
	pattern cutting.Pattern // with its worth
	copies  []copyOf        // of its places
}

// standing finds the layouts of a revision that stand.
func standing(job *model.Job, worth *model.Valuation, groups []*group, rev *model.Revision) *prior {
	if rev == nil {
		return nil
	}
	r := &prior{Revision: rev}
	parts := map[[2]string]int{}
	for i := range job.Parts {
		parts[[2]string{job.Parts[i].Commission, job.Parts[i].Name}] = i
	}
	for _, g := range groups {
		f := finder{job: job, unit: worth.Unit, group: g, parts: parts, items: map[copyOf]int{},
			stocks: map[string]int{}, rows: map[string]int{}, offers: map[int]int{}}
		f.index()
		var out []laid
		for n := range rev.Before {
			if l, ok := f.find(&rev.Before[n].Placement); ok {
				l.at = n
				out = append(out, l)
			}
		}
		r.laid = append(r.laid, out)
	}
	return r
}

// finder finds layouts in a group.
type finder struct {
	job    *model.Job
	unit   model.Length
	group  *group
	parts  map[[2]string]int // by commission and name
	items  map[copyOf]int
	stocks map[string]int // by board of the rack
	rows   map[string]int
	offers map[int]int // stocks by line of the yard
}

func (f *finder) index() {
	for n := range f.group.items {
		for _, c := range f.group.items[n].copies {
			f.items[c] = n
		}
	}
	for n := range f.group.stocks {
		s := &f.group.stocks[n]
		for _, row := range s.boards {
			f.stocks[f.job.Rack[row].ID], f.rows[f.job.Rack[row].ID] = n, row
		}
		if !s.onHand() {
			f.offers[f.job.Yard[s.offer].Where.Line] = n
		}
	}
}

// find gives a layout of the group, if it stands.
func (f *finder) find(b *model.Placement) (l laid, ok bool) {
	l.row = -1
	if b.Offer != 0 {
		l.pattern.Stock, ok = f.offers[b.Offer]
	} else if l.pattern.Stock, ok = f.stocks[b.Board]; ok {
		l.row = f.rows[b.Board]
	}
	if !ok || len(b.Pieces) == 0 {
		return l, false
	}
	p := &f.group.program
	s := &p.Stocks[l.pattern.Stock]
	if b.First == model.RipFirst {
		l.pattern.First = cutting.RipFirst
	}
	if b.First != model.NotRipped && !s.Rippable() {
		return l, false
	}
	units := func(m model.Length) int64 {
		ok = ok && m%f.unit == 0
		return int64(m / f.unit)
	}
	l.pattern.Ripped = cutting.Span{From: units(b.RipFrom), To: units(b.RipTo)}
	for _, piece := range b.Pieces {
		part, known := f.parts[[2]string{piece.Commission, piece.Part}]
		c := copyOf{part, piece.Copy}
		item, wanted := f.items[c]
		pl := cutting.Place{Item: item, At: units(piece.From), Left: units(piece.Left),
			Right: units(piece.Right)}
		if b.First == model.NotRipped && s.Rippable() {
			pl.Right = s.Across.Width
		}
		if !known || !wanted || units(piece.To)-pl.At != p.Items[item].Size {
			return l, false
		}
		l.pattern.Places, l.copies = append(l.pattern.Places, pl), append(l.copies, c)
	}
	if ok = ok && p.Stands(&l.pattern); ok {
		l.pattern.Worth = p.Worth(&l.pattern)
		ok = laidOut(s, &l.pattern) == b.First
	}
	return l, ok
}

// laidIn are the layouts that stand in a group.
func (r *prior) laidIn(group int) []laid {
	if r == nil {
		return nil
	}
	return r.laid[group]
}

// given are ids that the plan before gave.
func (r *prior) given() (ids []string) {
	if r == nil {
		return nil
	}
	for n := range r.Before {
		ids = append(append(ids, r.Before[n].Board), r.Before[n].Offcuts...)
	}
	return ids
}

// revision is the revision of a plan that is written down: it counts what has changed.
func (r *prior) revision(plan *model.Plan) *model.Revision {
	if r == nil {
		return nil
	}
	now := map[string]*model.Placement{}
	for n := range plan.Placements {
		now[plan.Placements[n].Board] = &plan.Placements[n]
	}
	out := *r.Revision
	out.Changed = 0
	for n := range out.Before {
		b := &out.Before[n]
		if p := now[b.Board]; p == nil || p.Offer != b.Offer || !p.Same(&b.Placement) {
			out.Changed++
		}
	}
	out.Counts = model.Money(out.Changed) * out.Change
	return &out
}

// asBefore takes out of the uses those that lie as before, and gives their boards.
func (d *decoder) asBefore(g *group, all []laid, uses []cutting.Use) (out []layout,
	others []cutting.Use) {
	if len(all) == 0 {
		return nil, uses
	}
	for n, of := range matched(&g.program, all, uses) {
		if of < 0 {
			continue
		}
		uses[of].Times--
		l, before := &all[n], &d.prior.Before[all[n].at]
		var b *cutlist.Board
		if l.row >= 0 {
			b = cutlist.OnRack(d.job, d.worth, l.row)
		} else {
			b = cutlist.Bought(d.job, d.worth, g.stocks[l.pattern.Stock].offer)
			b.ID = before.Board
		}
		d.shape(g, &l.pattern, b)
		b.Offcuts = before.Offcuts
		out = append(out, layout{b, l.pattern.Places, l.copies, l.at})
	}
	return out, slices.DeleteFunc(uses, func(u cutting.Use) bool { return u.Times == 0 })
}

// matched gives for each layout the use that is the same, or -1; no use is given more often than
// its times.
func matched(p *cutting.Problem, all []laid, uses []cutting.Use) []int {
	same, left := map[string][]int{}, make([]int64, len(uses))
	for n := range uses {
		t := p.Normal(uses[n].Pattern)
		key := keyOf(&t)
		same[key], left[n] = append(same[key], n), uses[n].Times
	}
	out := make([]int, len(all))
	for n := range all {
		out[n] = -1
		key := keyOf(&all[n].pattern)
		for len(same[key]) > 0 && left[same[key][0]] == 0 {
			same[key] = same[key][1:]
		}
		if of := same[key]; len(of) > 0 {
			out[n] = of[0]
			left[of[0]]--
		}
	}
	return out
}

// keyOf is the same for two patterns of the same stock that are cut alike.
func keyOf(t *cutting.Pattern) string {
	var key []byte
	for _, v := range []int64{int64(t.Stock), int64(t.First), t.Ripped.From, t.Ripped.To} {
		key = binary.AppendVarint(key, v)
	}
	for _, pl := range t.Places {
		for _, v := range []int64{int64(pl.Item), pl.At, pl.Left, pl.Right} {
			key = binary.AppendVarint(key, v)
		}
	}
	return string(key)
}

// awaited gives, for a line of the yard, the next board that the plan before was to get by it and
// that does not lie as before: its purchase stays. Where there is none the id is empty.
func (r *prior) awaited(kept []layout) func(line int) (id string, order int) {
	if r == nil {
		return func(int) (string, int) { return "", math.MaxInt }
	}
	taken := map[string]bool{}
	for _, l := range kept {
		taken[l.ID] = true
	}
	return func(line int) (string, int) {
		for n := range r.Before {
			if b := &r.Before[n]; b.Offer == line && !taken[b.Board] {
				taken[b.Board] = true
				return b.Board, n
			}
		}
		return "", math.MaxInt
	}
}
