package drawing

import (
	"fmt"

	"pgregory.net/rapid"

	"rackwright/io/layout"
	"rackwright/model"
)

// Boards made up for the tests, by the rules of cuts.csv.

// nasty are names such as input may have.
var nasty = []string{"leg", "C-06 coffee table", "apron, long", "שולחן מטבח", "🪑 chair",
	"<script>alert(1)</script>", "a\x1b[31mred\u202e\n", "e\u0301tage\u0300re", "x\uffff\xff",
	"a name that is much longer than any board of the shop and goes on for two hundred signs or " +
		"so, as somebody has pasted the whole letter of the customer into the cell of the " +
		"table that should say what the part is"}

// maker makes the rows of a board.
type maker struct {
	t    *rapid.T
	step int
	rows []model.Cut
}

func (m *maker) int(name string, from, to int) int {
	return rapid.IntRange(from, to).Draw(m.t, name)
}

func (m *maker) row(kind model.Kind, r model.Rect) *model.Cut {
	m.rows = append(m.rows, model.Cut{Board: "B-1", Origin: model.FromRack, Material: "pine",
		Section: "1x8", Step: m.step, Kind: kind, From: r.From, To: r.To, Left: r.Left,
		Right: r.Right})
	return &m.rows[len(m.rows)-1]
}

// split cuts a piece across or along, and goes on with what comes off.
func (m *maker) split(r model.Rect, rip bool, depth int) {
	const kerf = model.UnitsPerInch / 8
	for n := m.int("pieces", 1, 8); n > 1; n-- {
		near, dust := r, r
		from, to := &r.From, r.To
		if rip {
			from, to = &r.Left, r.Right
		}
		if to-*from < 3*kerf {
			break
		}
		at := *from + model.Length(m.int("size", 1, int(to-*from-kerf-1)))
		if m.int("even", 0, 2) > 0 {
			at = *from + max(1, (to-*from)/model.Length(n)-kerf)
		}
		if rip {
			near.Right, dust.Left, dust.Right = at, at, at+kerf
		} else {
			near.To, dust.From, dust.To = at, at, at+kerf
		}
		*from = at + kerf
		m.step++
		m.row(model.KindKerf, dust)
		m.piece(near, rip, depth)
	}
	m.piece(r, rip, depth)
}

// piece cuts on, or says what becomes of a piece.
func (m *maker) piece(r model.Rect, rip bool, depth int) {
	if depth > 0 {
		m.split(r, !rip, depth-1)
		return
	}
	name := func() string { return rapid.SampledFrom(nasty).Draw(m.t, "name") }
	switch m.int("kind", 0, 5) {
	case 0:
		m.row(model.KindWaste, r)
	case 1:
		m.row(model.KindOffcut, r).Offcut = "2027-03-off-" + fmt.Sprint(len(m.rows))
	default:
		c := m.row(model.KindPart, r)
		c.Commission, c.Part, c.Copy = name(), name(), int64(m.int("copy", 1, 200))
		c.Face = model.Face(m.int("face", 0, 2))
	}
}

// anyBoard is a board of any size, cut anyhow, with its settings.
func anyBoard(t *rapid.T) (*layout.Board, *model.Settings) {
	m := &maker{t: t}
	unit := rapid.SampledFrom([]model.Unit{model.Inch, model.Millimetre}).Draw(t, "unit")
	s := model.DefaultSettingsIn(unit)
	whole := model.Rect{To: model.Length(m.int("long", 100, 20_000) * 320),
		Right: model.Length(m.int("wide", 5, 600) * 320)}
	first := rapid.SampledFrom([]model.First{model.NotRipped, model.CrosscutFirst,
		model.RipFirst}).Draw(t, "first")
	depth := 0
	if first != model.NotRipped {
		depth = m.int("depth", 1, 2)
	}
	m.split(whole, first == model.RipFirst, depth)
	rack := model.Board{ID: "B-1", Bin: "C2"}
	for range m.int("defects", 0, 4) {
		from := m.int("from", 0, int(whole.To)-1)
		left := m.int("left", 0, int(whole.Right)-1)
		kinds := append([]string{"bark", nasty[9]}, append(s.Sound, append(s.Hidden, s.Weak...)...)...)
		rack.Defects = append(rack.Defects, model.Defect{From: model.Length(from),
			To: model.Length(m.int("to", from+1, int(whole.To))), Left: model.Length(left),
			Right: model.Length(m.int("right", left+1, int(whole.Right))),
			Kind:  rapid.SampledFrom(kinds).Draw(t, "kind")})
	}
	job := &model.Job{Settings: s, Rack: []model.Board{rack}}
	plan := &model.Plan{Cuts: m.rows, Placements: []model.Placement{{Board: "B-1", First: first}}}
	return layout.Boards(job, plan)[0], &job.Settings
}
