package along

import (
	"testing"

	"rackwright/model"
)

// The longest board and the widest kerf have no more positions in the smallest unit than the bound
// is derived over.
func TestLongestBoardHasABound(t *testing.T) {
	if model.LongestBoard+model.WidestKerf > maxPositions {
		t.Errorf("%d units are more than %d", model.LongestBoard+model.WidestKerf, maxPositions)
	}
}
