// Package rows lists rows of things: of each set of counts that is worth enough, the row that is
// worth most.
//
// A thing has pieces, a size and a value: it is a piece itself, or a row of pieces that another
// search has listed. So rows of rows are listed, too. There are three searches:
//
//	Pieces  single pieces, where their order does not matter
//	Stages  things with several rows each, where their order does not matter
//	Line    things whose value hangs on where they start
//
// None of them meets more than a need asks for. What may still follow is bounded by Tails where
// order does not matter, and by what may precede a start where it does.
package rows

import "rackwright/nest/price/counts"

// Row is a set of pieces and the most that they are worth.
type Row struct {
	Counts counts.Counts
	Pieces int
	Value  int64
}

// Limit is what searches may take together, in steps and in numbers kept.
type Limit struct{ Steps, Kept int64 }

// Take takes from a limit; false where it is spent.
func (l *Limit) Take(steps, kept int64) bool {
	l.Steps -= steps
	l.Kept -= kept
	return l.Steps >= 0 && l.Kept >= 0
}
