package rows

import (
	"slices"

	"rackwright/nest/price/counts"
)

// Piece is a kind of piece.
type Piece struct {
	Item  int
	Size  int64 // a kerf behind it included
	Value int64
	Full  bool // of full size; these stand first
}

// Pieces lists rows of single pieces in which one has full size, wherever in the row. What a set of
// counts is worth does not hang on the order. So each set is met once, in the order of the kinds.
// Dead ends are few: the tails know how many copies there may be.
type Pieces struct {
	Form  *counts.Form
	Kinds []Piece
	Tails *Tails                 // of the kinds
	End   func(room int64) int64 // what a row is worth behind its last piece
	Need  int64
	Limit *Limit

	counts counts.Counts
	out    []Row
}

// List gives the rows in so much room that are worth at least Need; false where the limit is spent.
func (s *Pieces) List(room int64) ([]Row, bool) {
	s.counts = s.Form.None()
	full := 0
	for full < len(s.Kinds) && s.Kinds[full].Full {
		full++
	}
	ok := s.from(0, full, room, 0, 0)
	return s.out, ok
}

// from adds pieces of the kinds from n to end, to so many that are worth so much.
func (s *Pieces) from(n, end int, room, value int64, pieces int) bool {
	if !s.Limit.Take(8*int64(end-n), 0) {
		return false
	}
	for ; n < end; n++ {
		k := &s.Kinds[n]
		if k.Size > room || value+k.Value+s.Tails.Most(n, room-k.Size) < s.Need ||
			s.Form.Of(s.counts, k.Item) >= s.Form.Most(k.Item) {
			continue
		}
		before := slices.Clone(s.counts)
		s.Form.Sum(s.counts, s.counts, s.Form.One(k.Item))
		v := value + k.Value
		if all := v + s.End(room-k.Size); all >= s.Need {
			if !s.Limit.Take(stepsOfState, int64(len(s.counts))+6) {
				return false
			}
			s.out = append(s.out, Row{slices.Clone(s.counts), pieces + 1, all})
		}
		if !s.from(n, len(s.Kinds), room-k.Size, v, pieces+1) {
			return false
		}
		copy(s.counts, before)
	}
	return true
}
