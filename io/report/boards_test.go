package report

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"rackwright/model"
)

// manyBoards are a bought one that is ripped first, and rack boards: one that is ripped last, and
// some that are not ripped, each with a commission of its own.
func manyBoards() (*model.Job, *model.Plan) {
	job, plan := stripsPlan()
	_, lengths := lengthsPlan()
	take := func(id string, from *model.Plan, first model.First) {
		for _, c := range from.Cuts {
			c.Board, c.Origin = id, model.FromRack
			plan.Cuts = append(plan.Cuts, c)
		}
		plan.Placements = append(plan.Placements, model.Placement{Board: id, First: first})
	}
	take("R-1", lengths, model.CrosscutFirst)
	for n := range 4 {
		id := fmt.Sprintf("R-%d", n+2)
		single := &model.Plan{}
		for k := range n + 1 {
			at := model.Length(k) * 20 * inch
			single.Cuts = append(single.Cuts, model.Cut{Material: "pine", Section: "1x8",
				Kind: model.KindPart, Step: k + 1, From: at, To: at + 20*inch, Right: 29 * inch / 4,
				Commission: fmt.Sprintf("C-%d, x", k+1), Part: "slat", Copy: 1})
		}
		take(id, single, model.NotRipped)
	}
	for n := range 5 {
		job.Rack = append(job.Rack,
			model.Board{ID: fmt.Sprintf("R-%d", n+1), Wood: job.Yard[0].Wood})
	}
	job.Rack[0].Bin = "wall 3"
	return job, plan
}

// Each board has its line; in a wide terminal with the commissions it is cut for, as many as have
// room. By hand from the samples: stripsPlan has 4 pieces and an offcut, lengthsPlan 3 and two.
func TestBoardList(t *testing.T) {
	job, plan := manyBoards()
	for width, want := range map[int]string{80: `
  board  from    wood                    ripped  pieces + offcuts
  ---------------------------------------------------------------
  B-1    bought  pine 1x8, 96" x 7 1/4"  first   4 + 1
  R-1    wall 3  pine 1x8, 96" x 7 1/4"  last    3 + 2
  R-2    rack    pine 1x8, 20" x 7 1/4"  no      1
  R-3    rack    pine 1x8, 40" x 7 1/4"  no      2
  R-4    rack    pine 1x8, 60" x 7 1/4"  no      3
  R-5    rack    pine 1x8, 80" x 7 1/4"  no      4

6 boards. Ripped: first, last (after crosscuts), or not at all. From: its bin,
rack if it has none, or bought.
`, 92: `
  board  from    wood                    ripped  pieces + offcuts  for
  ---------------------------------------------------------------------------------------
  B-1    bought  pine 1x8, 96" x 7 1/4"  first   4 + 1             C-1 shelf
  R-1    wall 3  pine 1x8, 96" x 7 1/4"  last    3 + 2             C-1 shelf
  R-2    rack    pine 1x8, 20" x 7 1/4"  no      1                 C-1, x
  R-3    rack    pine 1x8, 40" x 7 1/4"  no      2                 C-1, x; C-2, x
  R-4    rack    pine 1x8, 60" x 7 1/4"  no      3                 C-1, x; C-2, x; C-3, x
  R-5    rack    pine 1x8, 80" x 7 1/4"  no      4                 C-1, x; C-2, x; 2 more

6 boards. Ripped: first, last (after crosscuts), or not at all. From: its bin, rack if it
has none, or bought.
`} {
		var b bytes.Buffer
		if err := BoardList(&b, job, plan, width); err != nil {
			t.Fatal(err)
		}
		if got := "\n" + b.String(); got != want {
			t.Errorf("in %d columns it is%s\nnot%s", width, got, want)
		}
	}
	var b bytes.Buffer
	if err := BoardList(&b, &model.Job{}, &model.Plan{}, 80); err != nil ||
		b.String() != "The plan cuts no board.\n" {
		t.Errorf("of no board it says %q, %v", &b, err)
	}
}

// The commands name the folder as a shell takes it.
func TestFiles(t *testing.T) {
	for out, word := range map[string]string{"march/out": "march/out",
		"my month/out": `"my month/out"`, "a$b": "'a$b'", "it's": `"it's"`} {
		var b, shop bytes.Buffer
		job := &model.Job{}
		if err := errors.Join(Files(&b, job, out, false, 80),
			Files(&shop, job, out, true, 80)); err != nil {
			t.Fatal(err)
		}
		if booked := "  `rackwright book " + word + "` "; strings.Contains(b.String(), booked) ||
			!strings.Contains(shop.String(), booked) {
			t.Errorf("of %s in a shop it says\n%s", out, &shop)
		}
		if !strings.Contains(b.String(), "\n  `rackwright show "+word+"` lists the boards") {
			t.Errorf("of %s it says\n%s", out, &b)
		}
	}
}
