package papers

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
	"rackwright/model/makeup"
)

const (
	padding   = 2.0 // of a label
	largest   = 9.0 // type of a label
	smallest  = 4.0
	widestQR  = 22.0
	cornerLen = 1.2 // marks to cut by
)

// line is one line of a label. One that is spare goes first where there is little room.
type line struct {
	text        string
	bold, spare bool
}

// label is what one label says, and the text of its code.
type label struct {
	id    string
	lines []line
}

// Labels writes a label for each bought board, then one for each blank and each offcut as they come
// off the saw. The first one is number opt.From of its sheet.
func Labels(w io.Writer, job *model.Job, plan *model.Plan, opt Options) error {
	grid := &job.Settings.Labels
	if opt.Paper == "" {
		opt.Paper = model.PaperOf(job.Settings.Units)
	}
	opt.Paper = grid.On(opt.Paper)
	s := newSheet(job, plan, opt, "Labels")
	list := labelsOf(newShop(job, plan))
	skip := max(1, opt.From) - 1
	each := grid.Columns * grid.Rows
	if len(list) == 0 {
		s.pdf.AddPage()
		s.set(plainType, false)
		s.put(side, side, "No board is used, so there is nothing to label.")
	}
	for n := range list {
		at := (skip + int64(n)) % each
		if n == 0 || at == 0 {
			s.pdf.AddPage()
		}
		x, y := grid.Label(at, opt.Paper)
		s.label(&list[n], millimetres(x.From), millimetres(y.From), millimetres(x.To-x.From),
			millimetres(y.To-y.From))
	}
	pages := s.pdf.PageCount()
	for n := 1; n <= pages; n++ {
		s.pdf.SetPage(n)
		s.margin(millimetres(grid.Top), fmt.Sprintf("Page %d of %d", n, pages))
	}
	return s.pdf.Output(w)
}

// margin sets the head of a page into the margin of a label sheet, where that has room.
func (s *sheet) margin(height float64, page string) {
	const size, least = 6.0, 4.0
	if height < least {
		return
	}
	s.set(size, false)
	s.putRight(s.w-side, height-s.line()-1, page)
	s.put(side, height-s.line()-1, s.cut(s.title+", "+s.about, s.w-2*side-s.width(page)-3))
}

// labelsOf are all labels of a plan, in their order.
func labelsOf(s *shop) (out []label) {
	for i := range s.plan.Buy {
		b := &s.plan.Buy[i]
		for _, id := range b.Boards {
			out = append(out, s.boughtLabel(b, id))
		}
	}
	for _, p := range s.pieces {
		if p.offcut() {
			out = append(out, s.offcutLabel(p))
		} else {
			out = append(out, s.blankLabel(p))
		}
	}
	return out
}

func (s *shop) boughtLabel(b *model.Purchase, id string) label {
	where := []string{"bought"}
	for _, w := range []string{b.Yard, b.Grade} {
		if w != "" {
			where = append(where, w)
		}
	}
	return label{id, []line{{id, true, false}, {b.Material + " " + string(b.Section), false, false},
		{s.atYard(b.Length, b.Width), false, false},
		{strings.Join(where, ", "), false, true}, {"measured ____________", false, false}}}
}

// atYard writes the size of a board as a yard says it.
func (s *shop) atYard(length, width model.Length) string {
	if s.job.Settings.Units == model.Millimetre {
		return s.sizes(length, width)
	}
	return s.job.Settings.ShowAtYard(length) + " x " + s.length(width)
}

func (s *shop) offcutLabel(p *piece) label {
	bin := "bin ____________"
	if p.bin != "" {
		bin = (&layout.Board{Bin: p.bin}).InBin()
	}
	from := "from " + p.row.Board
	if s.plan.Date != "" {
		from += ", " + s.plan.Date
	}
	return label{ascii(p.id), []line{{p.id, true, false},
		{p.row.Material + " " + string(p.row.Section), false, false},
		{s.sizes(p.size[:]...), false, false}, {bin, false, false},
		{"offcut " + from, false, true}}}
}

func (s *shop) blankLabel(p *piece) label {
	of := ""
	lines := []line{}
	if p.part != nil {
		of = " of " + strconv.FormatInt(p.part.All(), 10)
		if k := p.part.Makes; k == nil || makeup.IsSpare(p.part) {
			lines = append(lines, line{
				"finished " + s.sizes(p.part.Length, p.part.Width, p.part.Thickness), false, false})
		} else {
			lines = append(lines,
				line{"for " + s.sizes(k.Length, k.Width, k.Thickness), false, true})
			if k.Net > 0 {
				lines = append(lines, line{"joint to " + s.length(k.Net) + " wide", false, false})
			}
		}
		lines = append(lines,
			line{"blank " + s.sizes(p.blank.Length, p.blank.Width, p.blank.Thickness), false, false})
		if as := s.asCut(p); as != "" {
			lines = append(lines, line{as, false, true})
		}
	}
	name := s.pieceName(p)
	if name == "" {
		name = fmt.Sprintf("%s, %d%s", p.row.Part, p.row.Copy, of)
	}
	head := []line{{name, true, false}, {p.row.Commission, false, false}}
	return label{p.id, append(append(head, lines...),
		line{p.row.Material + " " + string(p.row.Section) + ", " + p.row.Face.String() + " face",
			false, true},
		line{p.id, true, false})}
}

// label sets one label in its place: its lines on the left, its code on the right.
func (s *sheet) label(l *label, x, y, w, h float64) {
	s.corners(x, y, w, h)
	code := min(h-2*padding, 0.36*w, widestQR)
	s.code(x+w-padding/2-code, y+(h-code)/2, code, l.id)
	lines, size := l.lines, 0.0
	room := h - 2*padding
	for {
		size = min(largest, room/(float64(len(lines))*point*lead))
		if size >= smallest+1 {
			break
		}
		fewer := withoutSpare(lines)
		if len(fewer) == len(lines) {
			break
		}
		lines = fewer
	}
	width := w - 1.5*padding - code
	at := y + padding + (room-float64(len(lines))*size*point*lead)/2
	for n, text := range lines {
		fit := size
		s.set(fit, text.bold)
		for fit > max(smallest, 0.7*size) && s.width(text.text) > width {
			fit -= 0.25
			s.set(fit, text.bold)
		}
		shown := s.cut(text.text, width)
		if n > 0 && text.text == l.id { // its letter stands at the end
			shown = s.cutMiddle(text.text, width)
		}
		s.put(x+padding, at+(size-fit)*point*lead/2, shown)
		at += size * point * lead
	}
}

// withoutSpare leaves the last spare line out, if there is one.
func withoutSpare(lines []line) []line {
	for n := len(lines) - 1; n >= 0; n-- {
		if lines[n].spare {
			return append(lines[:n:n], lines[n+1:]...)
		}
	}
	return lines
}

// corners marks the corners of a label, to cut by.
func (s *sheet) corners(x, y, w, h float64) {
	s.pdf.SetLineWidth(hair)
	for _, cx := range []float64{x, x + w} {
		for _, cy := range []float64{y, y + h} {
			dx, dy := cornerLen, cornerLen
			if cx > x {
				dx = -dx
			}
			if cy > y {
				dy = -dy
			}
			s.pdf.Line(cx, cy, cx+dx, cy)
			s.pdf.Line(cx, cy, cx, cy+dy)
		}
	}
}

// cutMiddle shortens a text to a width and keeps its end.
func (s *sheet) cutMiddle(text string, width float64) string {
	const ending = 8
	runes := []rune(printable(text))
	if s.width(string(runes)) <= width || len(runes) <= ending {
		return s.cut(text, width)
	}
	end := string(runes[len(runes)-ending:])
	begin := s.cut(string(runes[:len(runes)-ending]), max(0, width-s.width(end)))
	return begin + end
}
