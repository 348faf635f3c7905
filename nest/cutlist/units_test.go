package cutlist

import (
	"fmt"
	"testing"

	"rackwright/model"
)

// unitsOf lists what is taken in hand of a board: pass and setting in sixteenths, then the cuts.
func unitsOf(job *model.Job, b *Board) (out []string) {
	_, units := Write(job, job.Valuation(), []*Board{b}, "")
	for n, u := range units {
		for _, c := range u.Cuts {
			out = append(out, fmt.Sprintf("%d: pass %d %s %d, step %d: %s", n, c.Pass, c.Saw,
				c.Setting/(in/16), c.Step, c.Piece))
		}
	}
	return out
}

// The units of boards whose rows other tests have, by hand.
func TestUnits(t *testing.T) {
	job := smallJob()
	lengths := laid(job, oak(60*in, 8*in), model.CrosscutFirst,
		// over [0, 20]
		[5]float64{0, 0, 20, 0, 3}, [5]float64{1, 0, 14, 3.125, 5}, [5]float64{2, 6, 20, 5.125, 7},
		[5]float64{1, 20.125, 34, 0, 8}, [5]float64{1, 46, 60, 0, 8})
	compareRows(t, unitsOf(job, lengths), []string{
		"0: pass 1 crosscut 320, step 1: C, a, 1; C, b, 2; C, c, 3",
		"0: pass 1 crosscut 222, step 2: C, b, 4",
		"0: pass 1 crosscut 224, step 3: C, b, 5", // what stays: waste comes off
		"1: pass 2 rip 48, step 4: C, a, 1",
		"1: pass 2 rip 30, step 5: C, b, 2",
		"1: pass 2 rip 30, step 6: C, c, 3",
		"2: pass 3 crosscut 224, step 7: C, b, 2",
		"3: pass 3 crosscut 224, step 8: C, c, 3", // the same, at the far end
	})
	strips := laid(job, oak(60*in, 8*in), model.RipFirst, [5]float64{0, 0, 30, 0, 3},
		[5]float64{1, 30.125, 44, 0, 2})
	compareRows(t, unitsOf(job, strips), []string{
		"0: pass 2 rip 48, step 1: C, a, 1; C, b, 2; off-1; off-2",
		"1: pass 3 crosscut 480, step 2: C, a, 1",
		"1: pass 3 crosscut 222, step 3: C, b, 2; off-1",
		"2: pass 4 rip 32, step 4: C, b, 2",
	})
	job.Settings.RackEnd = in
	span := laid(job, oak(90*in, 8*in), model.RipFirst, [5]float64{0, 12, 32, 0, 3},
		[5]float64{1, 32.125, 52, 0, 3}, [5]float64{2, 12, 52, 3.125, 5})
	span.Ripped = model.Span{From: 12 * in, To: 52 * in}
	compareRows(t, unitsOf(job, span), []string{
		"0: pass 1 crosscut 0, step 1: trim",
		"0: pass 1 crosscut 0, step 2: waste",
		"0: pass 1 crosscut 0, step 3: ripped span",
		"0: pass 1 crosscut 0, step 4: off-2",
		"1: pass 2 rip 48, step 5: C, a, 1; C, b, 2",
		"1: pass 2 rip 30, step 6: C, c, 3; off-1",
		"2: pass 3 crosscut 320, step 7: C, a, 1; C, b, 2", // one cut parts both
	})
}

// Dust: two kerfs side by side are two cuts, and dust at an edge goes with the first cut or is one
// of its own at the far end.
func TestUnitsWithDust(t *testing.T) {
	job := smallJob()
	dusty := laid(job, oak(60*in, 8*in), model.NotRipped,
		[5]float64{0, 0.0625, 20.0625, 0, 8}, [5]float64{1, 20.25, 40.25, 0, 8},
		[5]float64{2, 40.375, 59.9375, 0, 8})
	compareRows(t, unitsOf(job, dusty), []string{
		"0: pass 1 crosscut 320, step 1: C, a, 1",
		"0: pass 1 crosscut 0, step 2: waste",
		"0: pass 1 crosscut 320, step 3: C, b, 2",
		"0: pass 1 crosscut 313, step 4: C, c, 3",
	})
}

// A board of a single blank that is shaved at its near end has one cut, to the length that stays.
func TestUnitShavedAtItsNearEnd(t *testing.T) {
	job := smallJob()
	shaved := laid(job, oak(60*in, 8*in), model.NotRipped, [5]float64{0, 0.0625, 60, 0, 8})
	compareRows(t, unitsOf(job, shaved), []string{"0: pass 1 crosscut 959, step 1: C, a, 1"})
	whole := laid(job, oak(60*in, 8*in), model.NotRipped, [5]float64{0, 0, 60, 0, 8})
	compareRows(t, unitsOf(job, whole), nil)
}
