package nest

import (
	"testing"

	"rackwright/model/proof"
	proofalong "rackwright/model/proof/along"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutstock/cuts"
)

// Solver and checker are written twice, and these numbers must be the same on both sides: they
// decide what a cut is divided by. Their values decide bytes of plan.json, too.
func TestNumbersThatBothSidesShare(t *testing.T) {
	for _, c := range []struct {
		name          string
		solver, proof int64
		want          int64
	}{
		{"largest number of a cut", cuts.MostCoef, proof.MostCoef, 1 << 20},
		{"largest denominator of a cut", cuts.MostDen, proof.MostDen, 1 << 16},
	} {
		if c.solver != c.want || c.proof != c.want {
			t.Errorf("%s: %d in the solver, %d in the proof, pinned %d", c.name, c.solver, c.proof,
				c.want)
		}
	}
}

// The checker refuses lists longer and leaves deeper than its own limits, so a plan of ours must
// not have them.
func TestCheckerTakesTheLongestList(t *testing.T) {
	if cutstock.Deepest >= proof.MaxDepth {
		t.Errorf("the solver splits %d deep, the checker reads %d at most", cutstock.Deepest,
			proof.MaxDepth)
	}
	if cuts.Deepest >= proof.MaxListDepth {
		t.Errorf("the solver splits lists %d deep, the checker reads %d at most", cuts.Deepest,
			proof.MaxListDepth)
	}
	if cutstock.LongestList >= proofalong.MaxListed {
		t.Errorf("the solver lists up to %d patterns, the checker at most %d",
			cutstock.LongestList, proofalong.MaxListed)
	}
}
