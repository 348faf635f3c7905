package check

import (
	"testing"

	"rackwright/model/internal/handmade"
)

func TestCheckAcceptsGlueUpsMadeByHand(t *testing.T) {
	for _, f := range checked(handmade.Glued()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}
