package layout

import (
	"slices"

	"rackwright/model"
)

// The cuts of a board in order. The steps of its rows are replayed with the pieces in hand. A step
// is one straight cut, from edge to edge of one piece. It goes along the kerf row of its number, or
// along the inner side of a trim, which has its saw cut in it.

// stroke is one straight cut: what it turns into dust, which is of no width where the saw cut is in
// the trim.
type stroke struct {
	step int
	dust model.Rect
}

// strokes lists the cuts of a board in order; unknown are the steps that the rows do not tell.
func (b *Board) strokes() (out []stroke, unknown []int) {
	last := 0
	for i := range b.Rows {
		last = max(last, b.Rows[i].Step)
	}
	for n := 1; n <= last; n++ {
		cuts := b.strokesOf(n)
		if len(cuts) == 0 && len(b.Rows) > 1 {
			unknown = append(unknown, n)
		}
		out = append(out, cuts...)
	}
	return out, unknown
}

func (b *Board) strokesOf(n int) (trims []stroke) {
	var kerfs []stroke
	for i := range b.Rows {
		if c := &b.Rows[i]; c.Step == n && c.Kind == model.KindKerf {
			kerfs = append(kerfs, stroke{n, c.Rect()})
		}
	}
	for i := range b.Rows {
		c := &b.Rows[i]
		if c.Step != n || c.Kind != model.KindTrim {
			continue
		}
		at := c.From
		if at == 0 {
			at = c.To
		}
		if !slices.ContainsFunc(kerfs, func(k stroke) bool {
			return k.dust.From == at || k.dust.To == at
		}) {
			trims = append(trims,
				stroke{n, model.Rect{From: at, To: at, Left: c.Left, Right: c.Right}})
		}
	}
	if len(trims)+len(kerfs) == 0 && b.First == model.NotRipped {
		return b.withoutKerf(n)
	}
	return append(trims, kerfs...)
}

// withoutKerf finds a crosscut of a saw that is said to have no kerf: where the first piece of a
// step ends.
func (b *Board) withoutKerf(n int) []stroke {
	i := slices.IndexFunc(b.Rows, func(c model.Cut) bool { return c.Step == n })
	for i >= 0 && i+1 < len(b.Rows) && isWaste(b.Rows[i].Kind) && isWaste(b.Rows[i+1].Kind) {
		i++
	}
	if i < 0 || b.Rows[i].To == b.Size.To {
		return nil
	}
	at := b.Rows[i].To
	return []stroke{{n, model.Rect{From: at, To: at, Right: b.Size.Right}}}
}

// Cut is a cut as it is made, on a piece in hand. What is near comes off: on the side of the marked
// end (a crosscut), or of the left edge (a rip). What is far stays. Dust is what the saw takes; it
// is of no width where the saw cut is in the trim.
type Cut struct {
	Step             int // of the rows
	Rip              bool
	Dust             model.Rect
	Piece, Near, Far model.Rect
}

// Cuts makes the cuts one after the other; unknown are the steps that the rows do not tell, or
// that do not go from edge to edge.
func (b *Board) Cuts() (out []Cut, unknown []int) {
	cuts, unknown := b.strokes()
	hand := []model.Rect{b.Size}
	for _, s := range cuts {
		i := slices.IndexFunc(hand, func(r model.Rect) bool {
			return r.From <= s.dust.From && s.dust.To <= r.To && r.Left <= s.dust.Left &&
				s.dust.Right <= r.Right
		})
		if i < 0 {
			unknown = append(unknown, s.step)
			continue
		}
		m := Cut{Step: s.step, Dust: s.dust, Piece: hand[i], Near: hand[i], Far: hand[i]}
		crosscut := s.dust.Left == m.Piece.Left && s.dust.Right == m.Piece.Right
		m.Rip = s.dust.From == m.Piece.From && s.dust.To == m.Piece.To
		if crosscut && m.Rip { // all of the piece is dust
			m.Rip = s.dust.Right-s.dust.Left < s.dust.To-s.dust.From
		}
		switch {
		case m.Rip:
			m.Near.Right, m.Far.Left = s.dust.Left, s.dust.Right
		case crosscut:
			m.Near.To, m.Far.From = s.dust.From, s.dust.To
		default:
			unknown = append(unknown, s.step)
			continue
		}
		hand = slices.Replace(hand, i, i+1, m.Near, m.Far)
		out = append(out, m)
	}
	slices.Sort(unknown)
	return out, slices.Compact(unknown)
}
