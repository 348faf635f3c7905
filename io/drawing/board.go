package drawing

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
)

// Options say how a board is drawn.
type Options struct {
	Width int // of the whole picture, in micrometres; 0: 250 mm
	Text  int // size of texts, in micrometres; 0: 3 mm
	// Numbers are those of the cuts, by step, where they are not to be numbered as on the board.
	Numbers map[int]int
	// Alone makes a picture that stands for itself: with Head on top, paragraph by paragraph, and
	// below the board the signs that it shows, its key and Foot. A line of Foot without a letter is
	// a paragraph, too.
	Alone bool
	Head  []string
	Foot  []KeyLine
	// Inline is for [Scene.Inline]: there is no Desc.
	Inline bool
}

// usual gives the options left out.
func (o Options) usual() Options {
	if o.Width == 0 {
		o.Width = 250_000
	}
	if o.Text == 0 {
		o.Text = 3000
	}
	o.Width = max(o.Width, 20*o.Text)
	return o
}

// The margins around a drawing, and the widths of its lines, in micrometres.
const (
	margin   = 1500
	pad      = 700 // between a text and what is around it
	boardPen = 400
	piecePen = 150
	hatchPen = 120
	boldPen  = 240
)

// sketch is a drawing of a board while it is laid out. Its layers are painted one after the other.
type sketch struct {
	scale
	b    *layout.Board
	s    *model.Settings
	opt  Options
	cuts []layout.Cut

	signs, lines, papers, texts []Shape
	taken                       []Rect // by texts and what they must not cover
	top, below                  []label
	key                         []KeyLine
}

// Board draws a board as it lies at the saw, to scale: its marked end on the left, its left edge on
// top. The settings give the units, and what the faces tolerate.
func Board(b *layout.Board, s *model.Settings, opt Options) *Scene {
	k := &sketch{b: b, s: s, opt: opt.usual()}
	return k.draw()
}

func (k *sketch) draw() *Scene {
	k.cuts, _ = k.b.Cuts()
	side, lengths := k.rips()
	x := margin + markWide
	room := k.opt.Width - x - margin - k.fences(side)
	k.scale = newScale(k.b.Size, k.narrowest(), x, room, k.opt.Text)
	k.board()
	k.spots()
	k.pieces()
	k.crosscuts()
	return k.scene(k.beside(side, lengths))
}

// narrowest is the width of the narrowest piece that has a letter.
func (k *sketch) narrowest() model.Length {
	out := k.b.Size.Right
	for i, c := range k.b.Rows {
		if k.b.Labels[i] != "" {
			out = min(out, c.Right-c.Left)
		}
	}
	return out
}

// numberOf is that of a cut.
func (k *sketch) numberOf(step int) int {
	if n, other := k.opt.Numbers[step]; other {
		return n
	}
	return step
}

// show writes a length.
func (k *sketch) show(l model.Length) string { return clean(k.s.Show(l)) }

// scene puts the layers together, moved down to below the head and what stands on the board.
func (k *sketch) scene(top, bottom int) *Scene {
	out := &Scene{Width: k.opt.Width, Title: k.title()}
	if !k.opt.Inline {
		out.Desc = out.Title + ". " + k.all()
	}
	y := margin
	if k.opt.Alone {
		for _, p := range k.opt.Head {
			y = k.paragraph(out, clean(p), y, true)
		}
	}
	dy := y - top
	board := slices.Concat(k.signs, k.lines, k.papers, k.texts)
	for _, s := range board {
		s.move(dy)
	}
	out.Shapes = append(out.Shapes, board...)
	y = bottom + dy
	sortKey(k.key)
	out.Key = k.key
	if k.opt.Alone {
		y = out.legend(k.signsMet(), k.opt, y+k.opt.Text/2)
		for _, line := range out.Key {
			y = k.keyLine(out, line, y)
		}
		for _, line := range k.opt.Foot {
			y = k.footLine(out, KeyLine{line.Letter, clean(line.Text)}, y)
		}
	}
	out.Height = y + margin
	return out.onPaper()
}

// onPaper puts a background under all else.
func (s *Scene) onPaper() *Scene {
	paper := &Rect{Wide: s.Width, High: s.Height, Fill: Paper}
	s.Shapes = slices.Insert(s.Shapes, 0, Shape(paper))
	return s
}

// title names the board and its wood.
func (k *sketch) title() string {
	return clean(fmt.Sprintf("Board %s: %s %s, %s x %s", k.b.ID, k.b.Material(), k.b.Section(),
		k.show(k.b.Size.To), k.show(k.b.Size.Right)))
}

// all tells every piece of the board, in one text.
func (k *sketch) all() string {
	var out []string
	for i := range k.b.Rows {
		if k.b.Labels[i] != "" {
			line := k.pieceLine(i)
			out = append(out, line.Letter+": "+line.Text+".")
		}
	}
	return strings.Join(out, " ")
}

// pitch is how far lines of text of a size stand apart.
func pitch(size int) int { return size * 6 / 5 }

// small is the size of texts that need not be read from afar.
func (k *sketch) small() int { return k.opt.Text * 4 / 5 }

// paragraph writes a text over the whole width from y on, and says where it ends.
func (k *sketch) paragraph(out *Scene, text string, y int, bold bool) int {
	return k.column(out, text, margin, y, bold)
}

// column writes a text from x to the right margin.
func (k *sketch) column(out *Scene, text string, x, y int, bold bool) int {
	size := k.opt.Text
	for _, line := range Wrap(text, bold, size, k.opt.Width-margin-x) {
		out.Shapes = append(out.Shapes, &Text{X: x, Y: y + size*above/100,
			Wide: TextWidth(line, bold, size), Size: size, Bold: bold, Text: line})
		y += pitch(size)
	}
	return y
}

// footLine writes a line of the key, or a paragraph a little apart.
func (k *sketch) footLine(out *Scene, line KeyLine, y int) int {
	if line.Letter == "" {
		return k.paragraph(out, line.Text, y+k.opt.Text/2, false)
	}
	return k.keyLine(out, line, y)
}

// keyLine writes a line of the key, its letter before it.
func (k *sketch) keyLine(out *Scene, line KeyLine, y int) int {
	size := k.opt.Text
	wide := TextWidth(line.Letter, true, size)
	out.Shapes = append(out.Shapes, &Text{X: margin, Y: y + size*above/100, Wide: wide,
		Size: size, Bold: true, Text: line.Letter})
	return k.column(out, line.Text, margin+max(3*size, wide+size), y, false)
}
