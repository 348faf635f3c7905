package model

import (
	"maps"
	"testing"
)

// A board counts by its length, what is ripped by its share of the width; the kinds add up to the
// whole.
func TestMeasureOfRips(t *testing.T) {
	row := func(board string, kind Kind, from, to, left, right Length) Cut {
		return Cut{Board: board, Kind: kind, From: from, To: to, Left: left, Right: right}
	}
	m := MeasureOf(&Plan{Cuts: []Cut{
		row("A", KindTrim, 0, 10, 0, 70), row("A", KindPart, 10, 90, 0, 35),
		row("A", KindKerf, 10, 90, 35, 42), row("A", KindOffcut, 10, 90, 42, 70),
		row("A", KindTrim, 90, 100, 0, 70),
		row("B", KindPart, 0, 30, 0, 50), row("B", KindOffcut, 30, 50, 0, 50),
		// thirds of 10 are 3, and 1 is over
		row("C", KindPart, 0, 10, 0, 1), row("C", KindKerf, 0, 10, 1, 2),
		row("C", KindOffcut, 0, 10, 2, 3),
	}})
	want := map[Kind]Length{KindTrim: 20, KindPart: 40 + 30 + 3, KindKerf: 8 + 3,
		KindOffcut: 32 + 20 + 3, KindWaste: 1}
	if !maps.Equal(m.ByKind, want) || m.Length != 160 || m.Offcuts != 3 || m.Waste() != 20+11+1 {
		t.Errorf("%v of %d, %d offcuts, waste %d", m.ByKind, m.Length, m.Offcuts, m.Waste())
	}
}
