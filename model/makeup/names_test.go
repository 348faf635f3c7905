package makeup

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

// pieceOf is a piece of a part of which three copies are wanted.
func pieceOf(inOne int64, of ...model.Member) *model.Part {
	return &model.Part{Commission: "C, 1", Name: "top, piece", Qty: int64(len(of)),
		Makes: &model.Makes{Part: "top", Wanted: 3, InOne: inOne, Of: of}}
}

// A piece is named by what it makes, spare copies apart, and its cell says which it is.
func TestNames(t *testing.T) {
	member := func(stave, staves, layer, layers int64, copies ...int64) model.Member {
		return model.Member{Stave: stave, Staves: staves, Layer: layer, Layers: layers,
			Copies: copies}
	}
	for _, c := range []struct {
		inOne       int64
		of          model.Member
		name, stave string
	}{
		{1, member(2, 7, 1, 1, 1), "top 1, stave 2/7", "2/7"},
		{1, member(2, 7, 1, 2, 3), "top 3, stave 2/7, layer 1/2", "2/7 1/2"},
		{1, member(1, 1, 2, 2, 2), "top 2, layer 2/2", "layer 2/2"},
		{1, member(1, 7, 1, 1, 5), "top, spare 2, stave 1/7", "1/7"},
		{1, member(1, 1, 1, 1, 4), "top, spare 1", ""},
		{3, member(1, 1, 1, 1, 1, 2, 3), "top, 3 in one: copies 1-3", "3 in one"},
		{4, member(1, 1, 1, 1, 1, 3, 4, 5), "top, 4 in one: copies 1, 3, spares 1-2", "4 in one"},
		{4, member(1, 1, 1, 1, 3), "top, 4 in one: copy 3, 3 over", "4 in one"},
		{2, member(1, 1, 1, 1, 3, 4), "top, 2 in one: copy 3, spare 1", "2 in one"},
	} {
		p := pieceOf(c.inOne, c.of)
		names := NamesOf(&model.Job{Parts: []model.Part{*p, {Commission: "C, 1", Name: "leg"}}})
		if got := names.Of(p.Commission, p.Name, 1, "%s %d"); got != c.name {
			t.Errorf("%+v is %q, not %q", c.of, got, c.name)
		}
		if got := names.Stave(p.Commission, p.Name, 1); got != c.stave {
			t.Errorf("%+v is %q, not %q", c.of, got, c.stave)
		}
		// in the order of work, with commas in its names and others beside it
		cell := "C, 1, leg, 2; C, 1, top, piece, 1; off-3; C, 1, top, piece, 9; waste"
		want := "C, 1, leg, 2; C, 1, " + c.name + "; off-3; C, 1, top, piece, 9; waste"
		if got := names.Reword(cell); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
	names := NamesOf(&model.Job{Parts: []model.Part{{Commission: "C", Name: "leg"}}})
	if got := names.Of("C", "leg", 2, "%s, copy %d") + names.Stave("C", "leg", 2) +
		names.Reword("C, leg, 2"); got != "leg, copy 2C, leg, 2" {
		t.Error(got)
	}
}

func TestNumbers(t *testing.T) {
	for want, list := range map[string][]int64{"": nil, "7": {7}, "1-2": {1, 2},
		"1, 3-5, 9": {1, 3, 4, 5, 9}} {
		if got := Numbers(list); got != want {
			t.Errorf("%v: %q, not %q", list, got, want)
		}
	}
}

// By hand: two copies of a panel of staves of 3, 3 and 4 in, which are two parts, 10 in together;
// of the second copy a stave was cut before, so that its width is not known.
func TestLaid(t *testing.T) {
	const in = model.UnitsPerInch
	stave := func(name string, net model.Length, of ...[2]int64) model.Part {
		p := model.Part{Commission: "C", Name: name, Qty: int64(len(of)),
			Makes: &model.Makes{Part: "top", Wanted: 2, Width: 9 * in, InOne: 1, Net: net}}
		for _, m := range of {
			p.Makes.Of = append(p.Makes.Of, model.Member{Copies: []int64{m[0]}, Stave: m[1],
				Staves: 3, Layer: 1, Layers: 1})
		}
		return p
	}
	job := &model.Job{Parts: []model.Part{stave("top, stave 3", 3*in, [2]int64{2, 1},
		[2]int64{1, 1}, [2]int64{1, 2}), stave("top, stave 4", 4*in, [2]int64{1, 3},
		[2]int64{2, 3}), {Commission: "C", Name: "leg"}}}
	cut := func(board, part string, n int64) model.Cut {
		return model.Cut{Board: board, Kind: model.KindPart, Commission: "C", Part: part, Copy: n}
	}
	got := LaidOf(job, []model.Cut{cut("A", "top, stave 4", 1), cut("A", "top, stave 3", 1),
		cut("B", "leg", 1), cut("B", "top, stave 3", 2), cut("B", "top, stave 3", 3)})
	row := func(n, stave int64, board string, net, glued model.Length) Laid {
		return Laid{"C", "top", n, 1, 1, stave, 3, board, net, glued, 9 * in}
	}
	if d := cmp.Diff([]Laid{row(1, 1, "B", 3*in, 10*in), row(1, 2, "B", 3*in, 10*in),
		row(1, 3, "A", 4*in, 10*in), row(2, 1, "A", 3*in, 0)}, got); d != "" {
		t.Error(d)
	}
}
