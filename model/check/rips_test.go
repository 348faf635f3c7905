package check

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
)

// seenRips gives the rips of a board as a maker sees them in its rows: what is dust along it.
// On the drawn boards no crosscut is as wide as the shortest rip is long. Without a kerf a rip is a
// line, which no row tells of; so it is found by the words: the sides inside the board of the parts
// that lie beside each other.
func seenRips(job *model.Job, u *usedBoard) (out []model.Rect) {
	if job.Settings.RipKerf > 0 {
		for _, r := range u.rows {
			if r.Kind == model.KindKerf && r.To-r.From >= job.Settings.Safety.ShortestRip {
				out = append(out, r.Rect())
			}
		}
		return out
	}
	var parts []model.Rect
	for _, r := range u.rows {
		if r.Kind == model.KindPart {
			parts = append(parts, r.Rect())
		}
	}
	line := func(from, to, y model.Length) {
		one := model.Rect{From: from, To: to, Left: y, Right: y}
		if y > 0 && y < u.board.Width && !slices.Contains(out, one) {
			out = append(out, one)
		}
	}
	if u.down == model.CrosscutFirst {
		for _, p := range parts {
			if p.Left > 0 || p.Right < u.board.Width {
				length := widened(p.On(model.Along), model.Along, parts)
				line(length.From, length.To, p.Left)
				line(length.From, length.To, p.Right)
			}
		}
		return out
	}
	from, to := job.Settings.RackEnd, u.board.Length-job.Settings.RackEnd
	if u.hasSpan() {
		from, to = u.span.From, u.span.To
	}
	for _, p := range parts {
		strip := widened(p.On(model.Across), model.Across, parts)
		line(from, to, strip.From)
		line(from, to, strip.To)
		for _, y := range []model.Length{p.Left, p.Right} {
			if y != strip.From && y != strip.To {
				line(p.From, p.To, y)
			}
		}
	}
	return out
}

// widened is a span widened by all parts that overlap it, and those that overlap them.
func widened(s model.Span, a model.Axis, parts []model.Rect) model.Span {
	for again := true; again; {
		again = false
		for _, p := range parts {
			if o := p.On(a); o.From < s.To && s.From < o.To && (o.From < s.From || o.To > s.To) {
				s, again = model.Span{From: min(s.From, o.From), To: max(s.To, o.To)}, true
			}
		}
	}
	return s
}

// Whatever legal pattern is drawn: what its rips cost, and which of them run through weak defects,
// is what the rows of the cuts show.
func TestRipsAreThoseThatTheRowsShow(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	var through, beside, spans, kerfless int
	for range 6000 {
		job, u := drawn(r)
		if len(u.rows) == 0 {
			continue
		}
		job.Settings.Ripping = model.Money(1 + r.IntN(10_000))
		job.Settings.Weak = []string{"knot", "split"} // the knots drawn lie between the blanks
		if r.IntN(2) == 0 {
			d := model.Defect{From: model.Length(r.IntN(int(u.board.Length))),
				Left: model.Length(r.IntN(int(u.board.Width))), Kind: "knot"}
			d.To = min(u.board.Length, d.From+1+model.Length(r.IntN(9)))
			d.Right = min(u.board.Width, d.Left+1+model.Length(r.IntN(9)))
			u.board.Defects = append(u.board.Defects, d)
		}
		k := newChecker(job, &model.Plan{})
		k.judgePieces(u)
		b := k.findSlabs(u)
		u.rows = k.layOutRipped(b)
		u.ripped = b
		var sum model.Length
		crossed := 0
		seen := seenRips(job, u)
		for _, s := range seen {
			sum += s.To - s.From
		}
		for _, d := range u.board.Defects {
			m, hit := job.Settings.Margin, false
			for _, s := range seen {
				hit = hit || max(s.From, d.From-m) < min(s.To, d.To+m) && (s.Left < s.Right &&
					max(s.Left, d.Left-m) < min(s.Right, d.Right+m) ||
					s.Left == s.Right && d.Left-m < s.Left && s.Left < d.Right+m)
			}
			if hit {
				crossed++
			}
		}
		// floor(2^Bits x price x unit / a foot) for each unit
		cost := new(big.Int).Lsh(big.NewInt(int64(job.Settings.Ripping)), k.worth.Bits)
		cost.Mul(cost, big.NewInt(int64(k.worth.Unit))).Quo(cost, big.NewInt(12*8128))
		cost.Mul(cost, big.NewInt(int64(sum/k.worth.Unit)))
		if got := k.netCostOf(u).ripping; cost.Cmp(big.NewInt(got)) != 0 {
			t.Fatalf("%v %+v\n%+v\n%v\nrips of %d in all cost %d ticks, want %d", u.down,
				job.Settings, *u.board, u.rows, sum, got, cost)
		}
		k.found = nil // the last defect may lie under a blank
		if k.judgeWeak(b, ""); len(k.found) > 0 != (crossed > 0) || len(k.found) < crossed {
			t.Fatalf("%v %+v\n%+v\n%v\n%d defects are cut through: %v", u.down, job.Settings,
				*u.board, u.rows, crossed, k.found)
		}
		switch {
		case crossed > 0:
			through++
		case len(u.board.Defects) > 0:
			beside++
		}
		if u.hasSpan() {
			spans++
		}
		if job.Settings.RipKerf == 0 {
			kerfless++
		}
	}
	t.Logf("%d boards with a weak defect cut through, %d without, %d with a span, %d without a "+
		"kerf", through, beside, spans, kerfless)
	if through < 1000 || beside < 1000 || spans < 1000 || kerfless < 1000 {
		t.Errorf("only %d boards with a weak defect cut through, %d without, %d with a span, %d "+
			"without a kerf", through, beside, spans, kerfless)
	}
}
