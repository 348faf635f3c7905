package nest

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/model"
)

// rows writes down what a set of boards and their pieces mean: the cuts, what to buy, the rack after, setups and costs.
func (d *decoder) rows(boards []*used, date string) *model.Plan {
	p := &model.Plan{Date: date}
	gone := map[string]bool{}
	var offcuts []model.Board
	shares := newShares(d.job)
	for _, u := range boards {
		gone[u.ID] = true
		cuts := d.tile(u)
		p.Cuts = append(p.Cuts, cuts...)
		p.Placements = append(p.Placements, placement(u))
		var credit model.Money
		bad := d.job.Widened(&u.Board, nil)
		for _, c := range cuts {
			if c.Kind == model.KindOffcut {
				worth := d.worth.WorthOfSpan(u.rate, &u.Wood, model.Span{From: c.From, To: c.To}, bad)
				credit += worth
				offcuts = append(offcuts, offcut(u, c, worth, date))
			}
		}
		shares.board(u, credit)
	}
	for i := range d.job.Rack {
		if !gone[d.job.Rack[i].ID] {
			p.Rack = append(p.Rack, d.job.Rack[i])
		}
	}
	p.Rack = append(p.Rack, offcuts...)
	p.Buy = purchases(d.job, boards)
	p.Setups = setups(boards)
	p.Costs = shares.costs
	for i := range p.Costs {
		p.Costs[i].Tally = shares.wood[i].Millionths(d.job.Settings.Units) // once, so that small pieces lose nothing
		p.Value += p.Costs[i].Cost
	}
	return p
}

func placement(u *used) model.Placement {
	pl := model.Placement{Board: u.ID}
	if u.offer != nil {
		pl.Offer = u.offer.Where.Line
	}
	for _, c := range u.pieces {
		pl.Pieces = append(pl.Pieces, model.Piece{Commission: c.part.Commission, Part: c.part.Name, Copy: c.copy, From: c.from, To: c.to})
	}
	return pl
}

// offcut is what a cut puts back on the rack: with the defects that lie in it, measured from its own end.
func offcut(u *used, c model.Cut, worth model.Money, date string) model.Board {
	b := model.Board{ID: c.Offcut, Wood: u.Wood, Bin: u.Bin, Since: date, For: u.For}
	b.Length = c.To - c.From
	if u.Longest < b.Length { // else it can give no longer one anyway
		b.Longest = u.Longest
	}
	if u.Value != nil {
		b.Value = &worth
	}
	for _, f := range u.Defects {
		if f.From < c.To && f.To > c.From {
			f.From, f.To = max(f.From, c.From)-c.From, min(f.To, c.To)-c.From
			b.Defects = append(b.Defects, f)
		}
	}
	return b
}

// tile says what becomes of every span of a board.
func (d *decoder) tile(u *used) []model.Cut {
	trim, kerf := d.job.Settings.TrimFor(u.origin), d.job.Settings.CrosscutKerf
	t := tiler{d: d, u: u}
	end := u.Length - trim
	t.row(model.KindTrim, 0, trim)
	at := trim
	for n, p := range u.pieces {
		if n == 0 {
			cut := max(at, p.from-kerf)
			t.gap(at, cut)
			t.row(model.KindKerf, cut, p.from)
		} else {
			t.row(model.KindKerf, at, at+kerf)
			cut := max(at+kerf, p.from-kerf)
			t.gap(at+kerf, cut)
			t.row(model.KindKerf, cut, p.from)
		}
		t.row(model.KindPart, p.from, p.to)
		c := &t.cuts[len(t.cuts)-1]
		c.Commission, c.Part, c.Copy, c.Face = p.part.Commission, p.part.Name, p.copy, p.part.Face
		at = p.to
	}
	cut := min(end, at+kerf)
	t.row(model.KindKerf, at, cut)
	t.gap(cut, end)
	t.row(model.KindTrim, end, u.Length)
	t.steps()
	return t.cuts
}

type tiler struct {
	d    *decoder
	u    *used
	cuts []model.Cut
}

// row adds a span; an empty one is no row.
func (t *tiler) row(kind model.Kind, from, to model.Length) {
	if from < to {
		t.cuts = append(t.cuts, model.Cut{Board: t.u.ID, Origin: t.u.origin, Material: t.u.Material, Section: t.u.Section,
			Kind: kind, From: from, To: to, Right: t.u.Width})
	}
}

// gap is what lies between the kerfs of two pieces: one offcut, or waste with the recorded defects in it.
func (t *tiler) gap(from, to model.Length) {
	if t.keeps(from, to) {
		t.row(model.KindOffcut, from, to)
		t.cuts[len(t.cuts)-1].Offcut = t.d.id("off")
		return
	}
	defects := slices.Clone(t.u.Defects)
	slices.SortStableFunc(defects, func(a, b model.Defect) int { return cmp.Compare(a.From, b.From) })
	at := from
	for n := 0; n < len(defects); n++ {
		f, last := defects[n].From, defects[n].To
		for ; n+1 < len(defects) && defects[n+1].From <= last; n++ { // overlapping ones make one row
			last = max(last, defects[n+1].To)
		}
		f, last = min(max(f, at), to), min(last, to)
		if last > f {
			t.row(model.KindWaste, at, f)
			t.row(model.KindDefect, f, last)
			at = last
		}
	}
	t.row(model.KindWaste, at, to)
}

// keeps says whether a gap is long enough for an offcut, and has a run of that length that some face could use.
func (t *tiler) keeps(from, to model.Length) bool {
	keep := t.d.worth.Keep(&t.u.Wood)
	if to <= from || to-from < keep {
		return false
	}
	for f := model.Show; f <= model.Hidden; f++ {
		bad := t.d.job.Widened(&t.u.Board, func(kind string) bool { return t.d.job.Settings.Tolerates(f, kind) })
		for _, run := range model.ClearRuns(from, to, bad) {
			if run.To-run.From >= keep {
				return true
			}
		}
	}
	return false
}

// steps numbers the cuts: each piece of the board has the number of the cut that frees its far side, the last one that of the last cut;
// a kerf goes with the piece before it.
func (t *tiler) steps() {
	step := 0
	for n := range t.cuts {
		c := &t.cuts[n]
		var before model.Kind
		if n > 0 {
			before = t.cuts[n-1].Kind
		}
		loose := func(k model.Kind) bool { return k == model.KindWaste || k == model.KindDefect }
		switch {
		case c.Kind == model.KindKerf && before != model.KindKerf:
		case loose(c.Kind) && loose(before):
		default:
			step++
		}
		c.Step = max(1, step)
	}
	if last := t.cuts[len(t.cuts)-1].Kind; last != model.KindKerf && step > 1 {
		for n := range t.cuts {
			t.cuts[n].Step = min(t.cuts[n].Step, step-1)
		}
	}
}

// purchases are the boards to use, then those of the reserve, both in the order of the yard.
func purchases(job *model.Job, boards []*used) (out []model.Purchase) {
	yard := model.NewTallier(&job.Settings)
	use := make([]int64, len(job.Yard))
	for _, u := range boards {
		if u.offer != nil {
			use[u.order]++
		}
	}
	for n, qty := range [][]int64{use, reserve(job, boards)} {
		for i, q := range qty {
			if q == 0 {
				continue
			}
			o := &job.Yard[i]
			out = append(out, model.Purchase{
				Material: o.Material, Section: o.Section, Length: o.Length, Width: o.Width, Yard: o.Yard, Grade: o.Grade,
				Qty: q, Price: job.PriceOf(o), Total: model.Money(q) * job.PriceOf(o), Tax: model.Money(q) * job.TaxOf(o),
				Tally: yard.Boards(&o.Wood, q).Millionths(job.Settings.Units), Reserve: n == 1,
			})
		}
	}
	return out
}

func setups(boards []*used) (out []model.Setup) {
	for n, u := range boards {
		for _, p := range u.pieces {
			at := slices.IndexFunc(out, func(s model.Setup) bool { return s.Board == u.ID && s.Stop == p.to-p.from })
			if at < 0 {
				at = len(out)
				out = append(out, model.Setup{Saw: "crosscut", Setup: n, Stop: p.to - p.from, Board: u.ID})
			}
			out[at].Pieces++
		}
	}
	slices.SortStableFunc(out, func(a, b model.Setup) int {
		return cmp.Or(cmp.Compare(b.Stop, a.Stop), cmp.Compare(a.Setup, b.Setup))
	})
	setup := 0
	for i := range out {
		if i == 0 || out[i].Stop != out[i-1].Stop {
			setup++
		}
		out[i].Setup = setup
	}
	return out
}

// shares divides what each board costs among the commissions of its pieces.
type shares struct {
	job   *model.Job
	costs []model.Cost
	wood  []model.Volume // of the blanks, by commission
	at    map[string]int
}

func newShares(job *model.Job) *shares {
	s := &shares{job: job, at: map[string]int{}}
	for i, c := range job.Commissions {
		s.at[c.Name] = i
		s.costs = append(s.costs, model.Cost{Commission: c.Name})
	}
	s.wood = make([]model.Volume, len(s.costs))
	return s
}

func (s *shares) board(u *used, credit model.Money) {
	pieces := slices.Clone(u.pieces)
	slices.SortFunc(pieces, func(a, b piece) int { return cmp.Or(cmp.Compare(a.index, b.index), cmp.Compare(a.copy, b.copy)) })
	weights := make([]int64, len(pieces))
	for n, p := range pieces {
		weights[n] = int64(p.to - p.from + s.job.Settings.CrosscutKerf)
	}
	var yard, rack model.Money
	if u.offer != nil {
		yard = u.cost
	} else {
		rack = u.cost
	}
	y, r := split(yard, weights), split(rack, weights)
	h, c := split(s.job.Settings.Handling, weights), split(credit, weights)
	for n, p := range pieces {
		at := s.at[p.part.Commission]
		row := &s.costs[at]
		row.Yard += y[n]
		row.Rack += r[n]
		row.Handling += h[n]
		row.Credit += c[n]
		row.Cost += y[n] + r[n] + h[n] - c[n]
		s.wood[at].Add(u.Volume(p.to-p.from, s.job.Settings.Units))
	}
}

// split shares an amount by weight, rounded down; what is left over goes by one unit to the largest fractions, earlier pieces first.
func split(amount model.Money, weights []int64) []model.Money {
	var total uint64
	for _, w := range weights {
		total += uint64(w)
	}
	out, rest := make([]model.Money, len(weights)), make([]uint64, len(weights))
	left := amount
	for n, w := range weights {
		hi, lo := bits.Mul64(uint64(amount), uint64(w))
		q, m := bits.Div64(hi, lo, total)
		out[n], rest[n] = model.Money(q), m
		left -= model.Money(q)
	}
	order := make([]int, len(weights))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
	for _, n := range order[:left] {
		out[n]++
	}
	return out
}
