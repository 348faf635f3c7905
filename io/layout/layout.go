package layout

import (
	"cmp"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// Board is one board as a plan cuts it.
type Board struct {
	ID     string
	First  model.First
	Span   model.Span     // what is ripped first where that is not all between the trims; or zero
	Size   model.Rect     // the whole board
	Rows   []model.Cut    // those that have any size, at least one
	Labels []string       // of the rows: parts A, B, ..., offcuts a, b, ...; else empty
	Noted  []model.Defect // as recorded, of a board of the rack
	Bin    string
	Names  makeup.Names // of pieces that make parts of the job

	parts, offcuts int // labels given so far
}

// Boards lists the boards that a plan cuts, in the order of its cuts.
func Boards(job *model.Job, plan *model.Plan) (list []*Board) {
	all, names := map[string]*Board{}, makeup.NamesOf(job)
	for rows := plan.Cuts; len(rows) > 0; {
		id, n := rows[0].Board, 1 // as a rule all rows of a board follow each other
		for n < len(rows) && rows[n].Board == id {
			n++
		}
		b := all[id]
		for i := range rows[:n] {
			if sizeless(&rows[i]) {
				continue
			}
			if b == nil {
				b = &Board{ID: id, Names: names, Rows: make([]model.Cut, 0, n-i),
					Labels: make([]string, 0, n-i)}
				all[id], list = b, append(list, b)
			}
			b.add(&rows[i])
		}
		rows = rows[n:]
	}
	for i := range plan.Placements {
		x := &plan.Placements[i]
		if b := all[x.Board]; b != nil {
			b.First, b.Span = x.First, model.Span{From: x.RipFrom, To: x.RipTo}
		}
	}
	for i := range job.Rack {
		r := &job.Rack[i]
		if b := all[r.ID]; b != nil && b.Origin() == model.FromRack {
			b.Noted, b.Bin = r.Defects, r.Bin
		}
	}
	return list
}

// sizeless says of a row that there is nothing of it to draw; no plan of ours has one.
func sizeless(c *model.Cut) bool { return c.From >= c.To || c.Left >= c.Right }

func (b *Board) add(c *model.Cut) {
	label := ""
	switch c.Kind {
	case model.KindPart:
		label, b.parts = Letters(b.parts, 'A'), b.parts+1
	case model.KindOffcut:
		label, b.offcuts = Letters(b.offcuts, 'a'), b.offcuts+1
	}
	b.Rows, b.Labels = append(b.Rows, *c), append(b.Labels, label)
	b.Size.To, b.Size.Right = max(b.Size.To, c.To), max(b.Size.Right, c.Right)
}

// Name names the part of a row, without its commission: by what it makes, or else by format, which
// takes part and copy.
func (b *Board) Name(row int, format string) string {
	c := &b.Rows[row]
	return b.Names.Of(c.Commission, c.Part, c.Copy, format)
}

// Made names the part of a row by what it makes; empty: it makes nothing.
func (b *Board) Made(row int) string {
	c := &b.Rows[row]
	if p := b.Names[[2]string{c.Commission, c.Part}]; p != nil {
		return makeup.NameOf(p, c.Copy)
	}
	return ""
}

// Letters counts A, B, ..., Z, AA, AB, ..., or the same in small letters.
func Letters(n int, first byte) string {
	if n < 26 {
		return string(rune(int(first) + n))
	}
	return Letters(n/26-1, first) + string(rune(int(first)+n%26))
}

// Origin is where the board comes from, Material and Section what it is.
func (b *Board) Origin() model.Origin   { return b.Rows[0].Origin }
func (b *Board) Material() string       { return b.Rows[0].Material }
func (b *Board) Section() model.Section { return b.Rows[0].Section }

// InBin names the bin of a board; empty where it has none.
func (b *Board) InBin() string { return InBin(b.Bin) }

// InBin names a bin, as bin 4 where its name is 4 or bin 4; empty where there is none.
func InBin(bin string) string {
	if bin == "" || strings.HasPrefix(strings.ToLower(bin), "bin ") {
		return bin
	}
	return "bin " + bin
}

func isWaste(k model.Kind) bool {
	return k == model.KindWaste || k == model.KindDefect || k == model.KindKerf
}

// Axis is the direction that the first cuts take the board apart in.
func (b *Board) Axis() model.Axis {
	if b.First == model.RipFirst {
		return model.Across
	}
	return model.Along
}

// SideBySide puts the parts together that share a length (crosscut first) or a strip (rip first),
// in order.
func (b *Board) SideBySide() (out [][]*model.Cut) {
	var parts []*model.Cut
	for i := range b.Rows {
		if b.Rows[i].Kind == model.KindPart {
			parts = append(parts, &b.Rows[i])
		}
	}
	a := b.Axis()
	byStart := func(a model.Axis) func(c, d *model.Cut) int {
		return func(c, d *model.Cut) int {
			return cmp.Compare(c.Rect().On(a).From, d.Rect().On(a).From)
		}
	}
	slices.SortStableFunc(parts, byStart(a))
	var end model.Length
	for _, c := range parts {
		span := c.Rect().On(a)
		if len(out) == 0 || span.From >= end {
			out = append(out, nil)
		}
		end = max(end, span.To)
		out[len(out)-1] = append(out[len(out)-1], c)
	}
	for _, group := range out {
		slices.SortStableFunc(group, byStart(a.Other()))
	}
	return out
}

// Usable is what lies between the trims.
func (b *Board) Usable() model.Span {
	out := b.Size.On(model.Along)
	for _, c := range b.Rows {
		if c.Kind == model.KindTrim && c.From == 0 {
			out.From = c.To
		} else if c.Kind == model.KindTrim {
			out.To = c.From
		}
	}
	return out
}

// Strip says whether a piece is as long as what is ripped first, and not as wide as the board.
func (b *Board) Strip(r model.Rect) bool {
	span := b.Span
	if span == (model.Span{}) {
		span = b.Usable()
	}
	return r.On(model.Along) == span && (r.Left > 0 || r.Right < b.Size.Right)
}
