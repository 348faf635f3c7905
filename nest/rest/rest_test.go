package rest

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

const in = model.UnitsPerInch

// begun is a plan of two rack boards and three bought ones, and a shop in which the first rack
// board is cut with a piece spoiled, a bought board has come shorter and one was not delivered.
func begun() (*model.Job, *model.Plan, *Shop) {
	wood := model.Wood{Material: "pine", Section: "1x6", Length: 96 * in, Width: 11 * in / 2,
		Thickness: 3 * in / 4}
	board := func(id string) model.Board {
		return model.Board{ID: id, Wood: wood, Where: model.Where{File: "../rack.csv", Line: 2}}
	}
	part := func(name string, qty int64) model.Part {
		return model.Part{Commission: "C", Name: name, Qty: qty, Material: "pine",
			Length: 30 * in, Width: 5 * in, Thickness: in / 2}
	}
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}},
		Parts:       []model.Part{part("leg", 4), part("rail", 1), part("top", 2)},
		Rack:        []model.Board{board("B-1"), board("B-2")},
		Yard: []model.Offer{{Wood: wood, Price: 80_000, Available: new(int64(5)),
			Where: model.Where{File: "../yard.csv", Line: 2}}},
		Known: []string{"mar-off-3"}}
	job.Parts[2].Board = "B-1"
	piece := func(part string, n int64, at model.Length) model.Piece {
		return model.Piece{Commission: "C", Part: part, Copy: n, From: at, To: at + 31*in}
	}
	plan := &model.Plan{Placements: []model.Placement{
		{Board: "B-1", Pieces: []model.Piece{piece("leg", 1, 0), piece("leg", 2, 32*in)}},
		{Board: "B-2", Pieces: []model.Piece{piece("rail", 1, 0)}},
		{Board: "mar-buy-1", Offer: 2, Pieces: []model.Piece{piece("leg", 3, in)}},
		{Board: "mar-buy-2", Offer: 2, Pieces: []model.Piece{piece("leg", 4, in)}},
		{Board: "mar-buy-3", Offer: 2, Pieces: []model.Piece{piece("top", 1, in)}}},
		Cuts: []model.Cut{{Board: "B-1", Kind: model.KindOffcut, Offcut: "mar-off-4"},
			{Board: "B-2", Kind: model.KindOffcut, Offcut: "mar-off-5"}}}
	short := board("mar-buy-1")
	short.Length = 90 * in
	shop := &Shop{Begun: []string{"B-1"}, Expected: []string{"mar-buy-2"},
		Cut:   []model.Piece{{Commission: "C", Part: "leg", Copy: 2}},
		Rack:  []model.Board{board("X-1"), short, board("B-2"), board("mar-off-4")},
		Known: []string{"mar-off-4", "mar-off-5", "mar-buy-1", "mar-buy-2", "mar-buy-3", "B-1"}}
	return job, plan, shop
}

// What is cut is not wanted, and copies keep their numbers. A part is freed from a board that is
// gone.
func TestParts(t *testing.T) {
	r := Of(begunWith(nil))
	type wanted struct {
		Name    string
		Qty, Of int64
		Copies  []int64
		Board   string
	}
	var got []wanted
	for _, p := range r.Job.Parts {
		got = append(got, wanted{p.Name, p.Qty, p.Of, p.Copies, p.Board})
	}
	if d := cmp.Diff([]wanted{{"leg", 3, 4, []int64{1, 3, 4}, ""}, {"rail", 1, 0, nil, ""},
		{"top", 2, 0, nil, ""}}, got); d != "" {
		t.Error(d)
	}
	if len(r.Freed) != 1 || r.Freed[0].Name != "top" || r.Freed[0].Board != "B-1" {
		t.Errorf("freed are %+v", r.Freed)
	}
	all := Of(begunWith(func(s *Shop) {
		for _, name := range []string{"leg", "rail", "top"} {
			for n := range int64(4) {
				s.Cut = append(s.Cut, model.Piece{Commission: "C", Part: name, Copy: n + 1})
			}
		}
	}))
	if len(all.Job.Parts) > 0 {
		t.Errorf("all is cut, and yet %d parts are wanted", len(all.Job.Parts))
	}
}

// begunWith is begun with a further change, as the arguments of Of.
func begunWith(change func(*Shop)) (*model.Job, *model.Plan, *Shop, model.Money) {
	job, plan, shop := begun()
	if change != nil {
		change(shop)
	}
	return job, plan, shop, 5000
}

// The rack has the boards of the plan in their order, as they are now; what came, or did not, is no
// longer for sale.
func TestBoards(t *testing.T) {
	r := Of(begunWith(nil))
	var got []string
	for _, b := range r.Job.Rack {
		id := b.ID
		if b.Bought {
			id += ", bought"
		}
		if b.Value != nil {
			t.Errorf("%s has a value, though the yard sells such wood", id)
		}
		got = append(got, id)
	}
	if d := cmp.Diff([]string{"B-2", "mar-buy-1, bought", "X-1", "mar-off-4"}, got); d != "" {
		t.Error(d)
	}
	if l := r.Job.Rack[1].Length; l != 90*in {
		t.Errorf("the board that came short is %d long", l)
	}
	if n := *r.Job.Yard[0].Available; n != 3 {
		t.Errorf("%d boards are for sale, not 5 less one that came and one that did not", n)
	}
	job, _, _ := begun()
	if *job.Yard[0].Available != 5 {
		t.Error("the yard of the job itself was changed")
	}
}

// Where the yard sells no more of a kind of wood, boards that came carry what they are worth by its
// price: half of 8.00.
func TestWorthOfWhatIsNoLongerSold(t *testing.T) {
	job, plan, shop, change := begunWith(nil)
	job.Yard[0].Available = new(int64(2))
	shop.Expected = nil
	r := Of(job, plan, shop, change)
	for _, b := range r.Job.Rack {
		if b.Bought != (b.Value != nil) {
			t.Errorf("%s: bought %v, value %v", b.ID, b.Bought, b.Value)
		}
	}
	// 90 in of 96 in, less keep_length of 12 in: (90-12)/96 of 4.00
	if v := *r.Job.Rack[1].Value; v != 32_500 {
		t.Errorf("the board is worth %v", v)
	}
}

// The boards not begun that are there or to come are laid out as the plan has them; ids that still
// stand for them may be used, and no others.
func TestBefore(t *testing.T) {
	r := Of(begunWith(nil))
	type laid struct {
		Board   string
		Offer   int
		Offcuts []string
	}
	var got []laid
	for _, b := range r.Revision.Before {
		got = append(got, laid{b.Board, b.Offer, b.Offcuts})
	}
	if d := cmp.Diff([]laid{{"B-2", 0, []string{"mar-off-5"}}, {"mar-buy-1", 0, nil},
		{"mar-buy-2", 2, nil}}, got); d != "" {
		t.Error(d)
	}
	if want := []string{"B-1", "mar-buy-3", "mar-off-3"}; !slices.Equal(r.Job.Known, want) {
		t.Errorf("known are %q, not %q", r.Job.Known, want)
	}
	if r.Revision.Change != 5000 || r.Job.Settings.Change != 5000 {
		t.Error("what a change counts is not taken over")
	}
}

// What is left of the rest is again such a rest: ids of the plan before that stay known, a board
// that came stays a bought one, and copies keep their numbers.
func TestRestOfARest(t *testing.T) {
	job, plan, shop, change := begunWith(nil)
	r := Of(job, plan, shop, change)
	second := &model.Plan{Revision: r.Revision, Placements: []model.Placement{
		{Board: "mar-buy-1", Pieces: []model.Piece{{Commission: "C", Part: "leg", Copy: 3,
			From: in, To: 32 * in}}}}}
	shop.Cut, shop.Begun = []model.Piece{{Commission: "C", Part: "leg", Copy: 1}}, nil
	shop.Expected, shop.Known = nil, nil
	again := Of(r.Job, second, shop, change)
	if p := again.Job.Parts[0]; !slices.Equal(p.Copies, []int64{3, 4}) || p.Of != 4 {
		t.Errorf("copies %v of %d", p.Copies, p.Of)
	}
	for _, b := range again.Job.Rack {
		if b.Bought != (b.ID == "mar-buy-1") {
			t.Errorf("%s is bought: %v", b.ID, b.Bought)
		}
	}
	for _, id := range []string{"B-1", "mar-buy-2", "mar-buy-3", "mar-off-5"} {
		if !slices.Contains(again.Job.Known, id) {
			t.Errorf("id %s is not known any more", id)
		}
	}
}
