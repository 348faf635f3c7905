package drawing

import (
	"fmt"
	"strings"

	"rackwright/model"
)

// The tape below a board, and the texts there.

// graduations are the steps that a tape may have, each in units of length.
func graduations(u model.Unit) (out []model.Length) {
	if u == model.Millimetre {
		for n := model.Length(model.UnitsPerMillimetre); n <= model.MaxLength; n *= 10 {
			out = append(out, n, 5*n)
		}
		return out
	}
	const inch = model.UnitsPerInch
	out = []model.Length{inch / 16, inch / 8, inch / 4, inch / 2, inch, 6 * inch}
	for n := model.Length(12 * inch); n <= model.MaxLength; n *= 10 {
		out = append(out, n, 5*n)
	}
	return out
}

// steps finds the fine and the numbered graduation of the tape: ticks keep a distance, numbers have
// room.
func (k *sketch) steps(size int) (fine, numbered model.Length) {
	room := func(l model.Length) int { return k.along(l) - k.x }
	for _, g := range graduations(k.s.Units) {
		if fine == 0 && room(g) >= 2000 {
			fine = g
		}
		// the number before the last one may be the longest
		last := k.b.Size.To / g * g
		wide := 2*size + max(TextWidth(k.numeral(last), false, size),
			TextWidth(k.numeral(max(0, last-g)), false, size))
		if numbered == 0 && fine > 0 && g%fine == 0 && room(g) >= wide {
			numbered = g
		}
	}
	return fine, numbered
}

// tape draws it from y down, and says where it ends.
func (k *sketch) tape(y int) int {
	size := k.opt.Text * 3 / 4
	end, low := k.x+k.wide, size+600
	pens := []Segment{{k.x, y + low, end, y + low}}
	fine, numbered := k.steps(size)
	for at := model.Length(0); fine > 0 && at <= k.b.Size.To; at += fine {
		x, tick := k.along(at), 900
		if numbered > 0 && at%numbered == 0 {
			tick = low
			k.number(at, x, y+low, size)
		}
		pens = append(pens, Segment{x, y + low, x, y + low - tick})
	}
	k.lines = append(k.lines, &Lines{pens, Pale, hatchPen})
	return y + low
}

// numeral is a number of the tape, without its unit.
func (k *sketch) numeral(at model.Length) string {
	text := clean(at.Exact(k.s.Units))
	return strings.TrimSuffix(strings.TrimSuffix(text, `"`), " mm")
}

// number writes a number of the tape beside its tick, where no cut is in its way.
func (k *sketch) number(at model.Length, x, y, size int) {
	t := &Text{X: x + 300, Y: y - 600, Size: size, Text: k.numeral(at)}
	t.Wide = TextWidth(t.Text, false, size)
	for i := range k.below {
		if cut := k.below[i].at; cut > x && cut < t.X+t.Wide+200 {
			return
		}
	}
	if t.X+t.Wide <= k.x+k.wide {
		k.texts = append(k.texts, t)
	}
}

// note says how the board lies, and returns where that ends.
func (k *sketch) note(y int) int {
	text := "Marked end left, left edge on top."
	if k.times > 1 {
		text += fmt.Sprintf(" Width drawn %d times.", k.times)
	}
	size := k.small()
	for _, line := range Wrap(text, false, size, k.opt.Width-2*margin) {
		k.texts = append(k.texts, &Text{X: margin, Y: y + size*above/100, Size: size, Text: line,
			Wide: TextWidth(line, false, size)})
		y += pitch(size)
	}
	return y
}

// row writes labels above an edge (way -1) or below it (way 1), with their lines to the board, up
// to end; it says how far they go.
func (k *sketch) row(labels []label, edge, way, end int) int {
	size := k.opt.Text
	for i := range labels {
		labels[i].wide = TextWidth(labels[i].text, labels[i].bold, size)
	}
	where := rows{from: margin, end: end, gap: size * 3 / 4, far: 6 * size, most: 2}
	all, dropped := where.stand(labels)
	k.inKey(labels, dropped)
	if len(all) == 0 {
		return edge
	}
	// how far from the edge the lines of a row end
	near, next := 500, 500
	for i, s := range all {
		if s.pass != labels[i].at {
			near = 1800
		}
		if s.middle != s.pass {
			next = 1800
		}
	}
	first := near + 200
	second := first + size + 200
	out, pens := edge, []Segment(nil)
	for i, l := range labels {
		s, ok := all[i]
		if !ok {
			continue
		}
		pens = append(pens, Segment{l.at, l.on, l.at, edge},
			Segment{l.at, edge, s.pass, edge + way*near})
		from := first
		if s.row == 1 {
			pens = append(pens, Segment{s.pass, edge + way*near, s.pass, edge + way*second},
				Segment{s.pass, edge + way*second, s.middle, edge + way*(second+next)})
			from = second + next + 200
		}
		y := edge + from
		if way < 0 {
			y = edge - from - size
		}
		k.texts = append(k.texts, &Text{X: s.middle - l.wide/2, Y: y + size*above/100,
			Wide: l.wide, Size: size, Bold: l.bold, Text: l.text})
		out = way * max(way*out, way*edge+from+size)
	}
	k.pens(pens)
	return out
}
