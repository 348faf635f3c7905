package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
)

// The signs that fill what is neither part nor offcut.
const (
	trimSign   = '/'
	wasteSign  = '.'
	defectSign = '#'
)

// Show draws one board that a plan uses, and names what is cut from it and in which order. No line
// is longer than width. The drawing is ASCII; names stand as they were given.
func Show(w io.Writer, job *model.Job, plan *model.Plan, board string, width int) error {
	p := printer{w: w, job: job, width: width}
	l := boardOf(job, plan, board)
	if l == nil {
		return fmt.Errorf("the plan does not use board %s", board)
	}
	p.line("%s", BoardInWords(job, l))
	p.line("")
	p.drawing(l)
	p.line("")
	p.legend(l)
	p.line("")
	p.order(l)
	p.line("")
	p.cautions(Cautions(job, Only(plan, l)))
	return p.err
}

// BoardInWords says which board it is, where it comes from and how it is cut. Blanks within lengths
// do not break.
func BoardInWords(job *model.Job, l *layout.Board) string {
	from, show := "the yard", job.Settings.Show
	if l.Origin() == model.FromRack {
		from = "the rack"
	}
	if l.Bin != "" {
		from += ", " + l.InBin()
	}
	return fmt.Sprintf("Board %s, from %s: %s %s, %s x %s. %s.", l.ID, from, l.Material(),
		l.Section(), show(l.Size.To), show(l.Size.Right), upperFirst(kindOfCutting(l)))
}

// boardOf finds a board that a plan cuts; nil: it cuts none of that id.
func boardOf(job *model.Job, plan *model.Plan, id string) *layout.Board {
	all := layout.Boards(job, plan)
	i := slices.IndexFunc(all, func(l *layout.Board) bool { return l.ID == id })
	if i < 0 {
		return nil
	}
	return all[i]
}

// UsedBoards lists the boards that a plan cuts, in the order of its cuts.
func UsedBoards(job *model.Job, plan *model.Plan) (ids []string) {
	for _, l := range layout.Boards(job, plan) {
		ids = append(ids, l.ID)
	}
	return ids
}

// Only is the part of a plan that is of some of its boards, to have their cautions alone.
func Only(plan *model.Plan, boards ...*layout.Board) *model.Plan {
	out, among := &model.Plan{}, map[string]bool{}
	for _, l := range boards {
		out.Cuts, among[l.ID] = append(out.Cuts, l.Rows...), true
	}
	for _, s := range plan.Order {
		if among[s.Board] {
			out.Order = append(out.Order, s)
		}
	}
	for _, x := range plan.Placements {
		if among[x.Board] {
			out.Placements = append(out.Placements, x)
		}
	}
	return out
}

// kindOfCutting says in which order a board is broken down.
func kindOfCutting(l *layout.Board) string {
	usable := l.Usable()
	switch near, far := l.Span.From > usable.From, l.Span.To < usable.To; {
	case l.First == model.CrosscutFirst:
		return "crosscut first, then ripped"
	case l.First == model.NotRipped:
		return "crosscut only"
	case l.Span == (model.Span{}):
		return "ripped first, then crosscut"
	case near && far:
		return "both ends crosscut off, then ripped, then crosscut"
	case near:
		return "marked end crosscut off, then ripped, then crosscut"
	}
	return "far end crosscut off, then ripped, then crosscut"
}

// boxes are the rows that are no kerfs, each as far as the kerf beyond it.
func boxes(l *layout.Board) (out []box) {
	cuts, _ := l.Cuts()
	for i, c := range l.Rows {
		if c.Kind == model.KindKerf {
			continue
		}
		b := box{Rect: c.Rect(), label: l.Labels[i], fill: ' '}
		switch c.Kind {
		case model.KindTrim:
			b.fill = trimSign
		case model.KindWaste:
			b.fill = wasteSign
		case model.KindDefect:
			b.fill = defectSign
		}
		for range 2 { // a gap may be two kerfs
			for _, k := range cuts {
				switch d := k.Dust; {
				case !k.Rip && d.From == b.To && d.Left < c.Right && c.Left < d.Right:
					b.To = d.To
				case k.Rip && d.Left == b.Right && d.From < c.To && c.From < d.To:
					b.Right = d.Right
				}
			}
		}
		out = append(out, b)
	}
	return out
}

func (p *printer) drawing(l *layout.Board) {
	unit, end := model.Length(model.UnitsPerInch),
		strings.ReplaceAll(p.show(l.Size.To), model.NoBreakSpace, " ")
	if p.job.Settings.Units == model.Millimetre {
		unit = 25 * model.UnitsPerMillimetre
	}
	var bad []model.Rect
	for _, d := range l.Noted {
		bad = append(bad, model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right})
	}
	const start = "marked end"
	p.raw(fmt.Sprintf("%s%*s", start, p.columns()-len(start), end))
	for _, line := range draw(boxes(l), bad, l.Size, p.columns(), unit) {
		p.raw(line)
	}
	p.line("The left edge is on top. Lengths are to scale, except where a short piece needs room.")
}

// legend says what stands behind the letters and signs of a drawing.
func (p *printer) legend(l *layout.Board) {
	met := map[model.Kind]bool{}
	for i, c := range l.Rows {
		met[c.Kind] = true
		what := ""
		switch c.Kind {
		case model.KindPart:
			what = c.Commission + ", " + l.Name(i, "%s, copy %d")
		case model.KindOffcut:
			what = "offcut " + c.Offcut
		default:
			continue
		}
		p.item(fmt.Sprintf("  %-3s", l.Labels[i]), "%s: %s x %s; %s", what, p.show(c.To-c.From),
			p.show(c.Right-c.Left), p.place(l, c.Rect()))
	}
	for _, d := range l.Noted {
		p.item(fmt.Sprintf("  %-3c", defectSign), "%s: %s", d.Kind,
			p.place(l, model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right}))
	}
	if met[model.KindDefect] && len(l.Noted) == 0 {
		p.item(fmt.Sprintf("  %-3c", defectSign), "defect")
	}
	if met[model.KindTrim] {
		p.item(fmt.Sprintf("  %-3c", trimSign), "trim")
	}
	if met[model.KindWaste] {
		p.item(fmt.Sprintf("  %-3c", wasteSign), "waste")
	}
}

// place says where a rectangle lies, measured from the marked end and from the left edge.
func (p *printer) place(l *layout.Board, r model.Rect) string {
	text := fmt.Sprintf("from %s to %s", p.show(r.From), p.show(r.To))
	if r.Left == 0 && r.Right == l.Size.Right {
		return text + ", all the width"
	}
	return text + fmt.Sprintf(", across from %s to %s", p.show(r.Left), p.show(r.Right))
}
