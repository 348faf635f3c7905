package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
)

// What stands beside a board: above it spots, letters and fences of lengths that are ripped, below
// it a tape with the crosscuts, and at its far end the fences of a board that is ripped first.

// rip is a rip with what stands for it.
type rip struct {
	cut  *layout.Cut
	text string
	key  KeyLine
}

// rips lists the rips that have a fence setting, in order.
func (k *sketch) rips() (side, lengths []rip) {
	usable := k.b.Usable()
	for i := range k.cuts {
		c := &k.cuts[i]
		fence := k.b.Fence(c)
		if !c.Rip || fence == 0 {
			continue
		}
		text := "fence " + k.show(fence)
		number := strconv.Itoa(k.numberOf(c.Step))
		r := rip{c, number + ": " + text, KeyLine{number, text}}
		if c.Piece.To >= usable.To && k.b.First == model.RipFirst {
			side = append(side, r)
		} else {
			lengths = append(lengths, r)
		}
	}
	return side, lengths
}

// sideRoom is between the far end of a board and the fence settings there.
const sideRoom = 2500

// fences is how much room those at the far end take.
func (k *sketch) fences(side []rip) (wide int) {
	for i := range side {
		wide = max(wide, sideRoom+TextWidth(side[i].text, false, k.opt.Text))
	}
	return wide
}

// atSide writes the fence settings of a board that is ripped first at its far end, each by its rip.
func (k *sketch) atSide(side []rip) {
	var labels []label
	for i := range side {
		d := side[i].cut.Dust
		labels = append(labels, label{at: (k.across(d.Left) + k.across(d.Right)) / 2,
			wide: k.opt.Text, text: side[i].text, key: []KeyLine{side[i].key}})
	}
	slices.SortStableFunc(labels, byPlace)
	gap := pitch(k.opt.Text) - k.opt.Text
	where := rows{from: -k.opt.Text / 2, end: k.high + k.opt.Text/2, gap: gap,
		far: 2 * pitch(k.opt.Text), most: 1}
	all, dropped := where.stand(labels)
	x := k.x + k.wide
	var pens []Segment
	for i, l := range labels {
		at, ok := all[i]
		if !ok {
			continue
		}
		pens = append(pens, Segment{x, l.at, x + boardPen, l.at},
			Segment{x + boardPen, l.at, x + sideRoom - pad, at.middle})
		k.texts = append(k.texts, &Text{X: x + sideRoom, Size: k.opt.Text,
			Y:    at.middle - k.opt.Text/2 + k.opt.Text*above/100,
			Wide: TextWidth(l.text, false, k.opt.Text), Text: l.text})
	}
	k.pens(pens)
	k.inKey(labels, dropped)
}

func byPlace(a, b label) int { return cmp.Compare(a.at, b.at) }

func (k *sketch) pens(all []Segment) {
	if len(all) > 0 {
		k.lines = append(k.lines, &Lines{all, Black, hatchPen})
	}
}

// inKey gives labels that have no room a line in the key.
func (k *sketch) inKey(labels []label, dropped []int) {
	for _, i := range dropped {
		k.key = append(k.key, labels[i].key...)
	}
}

// overLengths puts the fences of lengths above them, those of one length together.
func (k *sketch) overLengths(list []rip) {
	for len(list) > 0 {
		piece := list[0].cut.Piece
		same := func(r rip) bool {
			return r.cut.Piece.From == piece.From && r.cut.Piece.To == piece.To
		}
		over := label{at: (k.along(piece.From) + k.along(piece.To)) / 2, on: k.across(piece.Left)}
		var texts []string
		for _, r := range list {
			if same(r) {
				texts, over.key = append(texts, r.text), append(over.key, r.key)
			}
		}
		over.text = strings.Join(texts, ", ")
		k.top = append(k.top, over)
		list = slices.DeleteFunc(list, same)
	}
}

// crosscuts puts the place of each crosscut below the board, those at one place together, and the
// length of the board at its end.
func (k *sketch) crosscuts() {
	steps := map[model.Length][]int{}
	for i := range k.cuts {
		if c := &k.cuts[i]; !c.Rip {
			steps[c.Dust.From] = append(steps[c.Dust.From], k.numberOf(c.Step))
		}
	}
	for at, list := range steps {
		slices.Sort(list)
		number := spans(slices.Compact(list))
		k.below = append(k.below, label{at: k.along(at), on: k.high, text: number + ": " + k.show(at),
			key: []KeyLine{{number, "crosscut at " + k.show(at)}}})
	}
	if _, cut := steps[k.b.Size.To]; !cut {
		k.below = append(k.below, label{at: k.x + k.wide, on: k.high, text: k.show(k.b.Size.To)})
	}
	slices.SortFunc(k.below, func(a, b label) int {
		return cmp.Or(byPlace(a, b), cmp.Compare(a.text, b.text))
	})
}

// spans writes numbers that follow each other as 5-8.
func spans(list []int) string {
	var out []string
	for i := 0; i < len(list); {
		n := i
		for n+1 < len(list) && list[n+1] == list[n]+1 {
			n++
		}
		switch {
		case n > i+1:
			out = append(out, fmt.Sprintf("%d-%d", list[i], list[n]))
		case n > i:
			out = append(out, strconv.Itoa(list[i]), strconv.Itoa(list[n]))
		default:
			out = append(out, strconv.Itoa(list[i]))
		}
		i = n + 1
	}
	return strings.Join(out, ", ")
}

// beside writes all that stands beside the board, and says from where to where the drawing goes.
func (k *sketch) beside(side, lengths []rip) (top, bottom int) {
	k.atSide(side)
	k.overLengths(lengths)
	slices.SortStableFunc(k.top, byPlace)
	end := k.opt.Width - margin
	if len(side) > 0 {
		end = k.x + k.wide + sideRoom/2
	}
	top = k.row(k.top, -boardPen/2, -1, end)
	if len(side) > 0 {
		top = min(top, -k.opt.Text/2)
	}
	tape := k.tape(k.high + boardPen/2)
	bottom = k.row(k.below, tape, 1, k.opt.Width-margin)
	return top, k.note(bottom + k.opt.Text/4)
}
