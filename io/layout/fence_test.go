package layout

import (
	"testing"

	"rackwright/model"
)

// strips is a board of 100 x 10 that is ripped into such pieces, widths in turn with kerfs of 1.
func strips(kinds []model.Kind, widths ...model.Length) *Board {
	var rows []model.Cut
	left := model.Length(0)
	for i, kind := range kinds {
		row := func(kind model.Kind, wide model.Length) {
			rows = append(rows, model.Cut{Board: "B", Step: min(i+1, len(kinds)-1), Kind: kind,
				To: 100, Left: left, Right: left + wide, Offcut: "off", Commission: "C", Part: "p",
				Copy: int64(i)})
			left += wide
		}
		row(kind, widths[i])
		if i+1 < len(kinds) {
			row(model.KindKerf, 1)
		}
	}
	plan := &model.Plan{Cuts: rows,
		Placements: []model.Placement{{Board: "B", First: model.RipFirst}}}
	return Boards(&model.Job{}, plan)[0]
}

// The fence is set to what is to have its width: a part, else an offcut, else what is cut on.
func TestFence(t *testing.T) {
	const part, offcut, waste = model.KindPart, model.KindOffcut, model.KindWaste
	for _, c := range []struct {
		kinds  []model.Kind
		widths []model.Length
		fences []model.Length
	}{
		{[]model.Kind{part, part, part}, []model.Length{3, 2, 3}, []model.Length{3, 2}},
		{[]model.Kind{part, offcut}, []model.Length{6, 3}, []model.Length{6}},
		{[]model.Kind{offcut, part}, []model.Length{6, 3}, []model.Length{3}},
		{[]model.Kind{waste, part}, []model.Length{1, 8}, []model.Length{8}},
		{[]model.Kind{part, waste}, []model.Length{8, 1}, []model.Length{8}},
		{[]model.Kind{waste, part, part}, []model.Length{1, 4, 3}, []model.Length{8, 4}},
	} {
		b := strips(c.kinds, c.widths...)
		cuts, unknown := b.Cuts()
		if len(cuts) != len(c.fences) || len(unknown) > 0 {
			t.Fatalf("%v: %d cuts, %v", c.kinds, len(cuts), unknown)
		}
		for i := range cuts {
			if got := b.Fence(&cuts[i]); got != c.fences[i] {
				t.Errorf("%v, cut %d: fence %d, want %d", c.kinds, i+1, got, c.fences[i])
			}
		}
	}
}

// A bin is not called bin twice.
func TestInBin(t *testing.T) {
	for bin, want := range map[string]string{"": "", "A4": "bin A4", "bin 4": "bin 4",
		"Bin 4": "Bin 4", "binder": "bin binder"} {
		if got := (&Board{Bin: bin}).InBin(); got != want {
			t.Errorf("%q: %q, want %q", bin, got, want)
		}
	}
}
