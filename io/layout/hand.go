package layout

import (
	"strings"

	"rackwright/model"
)

// TheTrim is the name of a piece that is trim alone.
const TheTrim = "the trim"

// InHand is a piece in hand: its name, and what is to become of it.
type InHand struct {
	Name  string
	Kept  bool // some of it is a part or an offcut
	Parts bool // some of it is a part
	Last  bool // nothing more is to be cut from it
}

// rowsIn gives the rows that lie in a piece; kerfs do not count.
func (b *Board) rowsIn(r model.Rect) (out []int) {
	for i, c := range b.Rows {
		if c.Kind != model.KindKerf && r.From <= c.From && c.To <= r.To && r.Left <= c.Left &&
			c.Right <= r.Right {
			out = append(out, i)
		}
	}
	return out
}

// InHand names a piece by the letters in it.
func (b *Board) InHand(r model.Rect) InHand {
	if r.From >= r.To || r.Left >= r.Right {
		return InHand{Name: "nothing"}
	}
	rows := b.rowsIn(r)
	var labels []string
	trim, parts := false, 0
	for _, i := range rows {
		if b.Labels[i] != "" {
			labels = append(labels, b.Labels[i])
		}
		if b.Rows[i].Kind == model.KindPart {
			parts++
		}
		trim = trim || b.Rows[i].Kind == model.KindTrim
	}
	list, done := strings.Join(labels, ", "), len(rows) == 1 && b.Rows[rows[0]].Rect() == r
	switch {
	case len(labels) == 0 && trim && len(rows) == 1:
		return InHand{Name: TheTrim, Last: true}
	case len(labels) == 0:
		return InHand{Name: "waste", Last: true}
	case done && parts == 0:
		return InHand{Name: "offcut " + list, Kept: true, Last: true}
	case done:
		return InHand{Name: list, Kept: true, Parts: true, Last: true}
	}
	kind := "piece"
	if b.First == model.CrosscutFirst && r.Left == 0 && r.Right == b.Size.Right {
		kind = "length"
	} else if b.First == model.RipFirst && b.Strip(r) {
		kind = "strip"
	}
	return InHand{Name: "the " + kind + " with " + list, Kept: true, Parts: parts > 0}
}
