package papers

import (
	"fmt"
	"strings"
	"unicode"

	"rackwright/io/drawing"
	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/model"
)

// The boards of the saw paper.

// heading names the board that is taken in hand.
func (s *saw) heading(b *layout.Board, again bool) {
	s.rule(side, s.w-side, s.y, fine)
	s.y += 1
	s.set(boardType, true)
	name := s.cut(b.ID, (s.w-2*side)/2)
	s.put(side, s.y, name)
	x := side + s.width(name) + 3
	text := ""
	if again {
		text = fmt.Sprintf("again, drawn on page %d", s.page[b.ID])
	} else {
		text = fmt.Sprintf("%s %s, %s", b.Material(), b.Section(),
			sizes(&s.job.Settings, b.Size.To, b.Size.Right))
		switch {
		case b.Origin() == model.FromYard:
			text += ", bought"
		case b.Bin != "":
			text += ", " + b.InBin()
		}
	}
	s.set(plainType, false)
	if again {
		s.pdf.Link(x, s.y, s.width(text), boardType*point*lead, s.links[b.ID])
	} else {
		s.links[b.ID] = s.pdf.AddLink()
		s.pdf.SetLink(s.links[b.ID], s.y, s.pdf.PageNo())
		s.mark(b.ID, s.level)
	}
	s.put(x, s.y+(boardType-plainType)*point*(lead+capped)/2, s.cut(text, s.w-side-x))
	s.y += boardType*point*lead + 1
}

// scene draws a board with its cuts numbered as in the rows.
func (s *saw) scene(b *layout.Board) *drawing.Scene {
	return drawing.Board(b, &s.job.Settings, drawing.Options{Width: int((s.w - 2*side) * 1000),
		Text: drawn, Numbers: s.numbers[b.ID]})
}

// heightOf is what a drawing takes with its key.
func (s *saw) heightOf(d *drawing.Scene) float64 {
	s.set(keyType, false)
	height := float64(d.Height)/1000 + 2.5
	for _, pair := range s.key(d) {
		height += float64(max(len(pair[0]), len(pair[1]))) * s.line()
	}
	return height
}

// key breaks what has no room in a drawing into lines, two texts beside each other. Cuts are left
// out: each of them has its row.
func (s *saw) key(d *drawing.Scene) (pairs [][2][]string) {
	n := 0
	for _, k := range d.Key {
		if k.Letter != "" && unicode.IsDigit(rune(k.Letter[0])) {
			continue
		}
		lines := s.lines(strings.TrimSpace(k.Letter+"  "+k.Text), s.w/2-side-2)
		if n%2 == 0 {
			pairs = append(pairs, [2][]string{})
		}
		pairs[n/2][n%2] = lines
		n++
	}
	return pairs
}

// board sets the drawing of a board, its key, and what is to be done before any rip.
func (s *saw) board(b *layout.Board, d *drawing.Scene) {
	s.need(float64(d.Height)/1000 + 2)
	d.PDF(s.pdf, side, s.y)
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.SetFillColor(0, 0, 0)
	s.y += float64(d.Height)/1000 + 1.5
	s.set(keyType, false)
	for _, pair := range s.key(d) {
		for n := range max(len(pair[0]), len(pair[1])) {
			s.need(s.line())
			for k, lines := range pair {
				if n < len(lines) {
					s.put([]float64{side, s.w / 2}[k], s.y, lines[n])
				}
			}
			s.y += s.line()
		}
	}
	for _, text := range report.AboveCuts(s.job, b)[1:] {
		s.para(side, text)
	}
	s.y += 1
}

// uncut shows the boards that no saw touches.
func (s *saw) uncut(list []*layout.Board) {
	headed := false
	for _, b := range list {
		if _, shown := s.page[b.ID]; shown {
			continue
		}
		if !headed {
			headed = true
			s.set(woodType, true)
			s.y += 2
			s.need(60)
			s.mark("Boards without a cut", 0)
			s.level = 1
			s.para(side, "Boards without a cut")
		}
		scene := s.scene(b)
		s.need(min(boardType*point*lead+3+s.heightOf(scene), s.floor-top-under-1))
		s.heading(b, false)
		s.page[b.ID] = s.pdf.PageNo()
		s.board(b, scene)
	}
}
