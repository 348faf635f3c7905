package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/model"
)

// layout is one board as a plan cuts it.
type layout struct {
	id     string
	first  model.First
	whole  model.Rect
	rows   []model.Cut
	labels []string // of the rows: parts A, B, ..., offcuts a, b, ...
	noted  []model.Defect
	bin    string
}

// layoutOf collects what a plan says of a board; nil where it does not use it.
func layoutOf(job *model.Job, plan *model.Plan, id string) *layout {
	l := &layout{id: id}
	parts, offcuts := 0, 0
	for _, c := range plan.Cuts {
		if c.Board != id || c.From >= c.To || c.Left >= c.Right {
			continue
		}
		label := ""
		switch c.Kind {
		case model.KindPart:
			label, parts = letters(parts, 'A'), parts+1
		case model.KindOffcut:
			label, offcuts = letters(offcuts, 'a'), offcuts+1
		}
		l.rows, l.labels = append(l.rows, c), append(l.labels, label)
		l.whole.To, l.whole.Right = max(l.whole.To, c.To), max(l.whole.Right, c.Right)
	}
	if len(l.rows) == 0 {
		return nil
	}
	for _, p := range plan.Placements {
		if p.Board == id {
			l.first = p.First
		}
	}
	for _, b := range job.Rack {
		if b.ID == id && l.rows[0].Origin == model.FromRack {
			l.noted, l.bin = b.Defects, b.Bin
		}
	}
	return l
}

// letters counts A, B, ..., Z, AA, AB, ..., or the same in small letters.
func letters(n int, first byte) string {
	if n < 26 {
		return string(rune(int(first) + n))
	}
	return letters(n/26-1, first) + string(rune(int(first)+n%26))
}

// The signs that fill what is neither part nor offcut.
const (
	trimSign   = '/'
	wasteSign  = '.'
	defectSign = '#'
)

// Show draws one board that a plan uses, names what is cut from it and in which order, in lines of
// at most width characters. The drawing is ASCII; names stand as they were given.
func Show(w io.Writer, job *model.Job, plan *model.Plan, board string, width int) error {
	p := printer{w: w, job: job, width: width}
	l := layoutOf(job, plan, board)
	if l == nil {
		return fmt.Errorf("the plan does not use board %s", board)
	}
	c, from := &l.rows[0], "the yard"
	if c.Origin == model.FromRack {
		from = "the rack"
	}
	if l.bin != "" {
		from += ", bin " + l.bin
	}
	p.line("Board %s, from %s: %s %s, %s x %s. %s.", l.id, from, c.Material, c.Section,
		p.exact(l.whole.To), p.exact(l.whole.Right), kindOfCutting(l.first))
	p.line("")
	p.drawing(l)
	p.line("")
	p.legend(l)
	p.line("")
	p.order(l)
	p.line("")
	p.cautions(planHazards(job, l.alone(plan)))
	return p.err
}

// kindOfCutting says in which order a board is broken down.
func kindOfCutting(f model.First) string {
	switch f {
	case model.CrosscutFirst:
		return "Crosscut first, then ripped"
	case model.RipFirst:
		return "Ripped first, then crosscut"
	}
	return "Crosscut only"
}

// alone is the part of a plan that is of this board.
func (l *layout) alone(plan *model.Plan) *model.Plan {
	out := &model.Plan{Cuts: l.rows}
	for _, s := range plan.Setups {
		if s.Board == l.id {
			out.Setups = append(out.Setups, s)
		}
	}
	return out
}

// boxes are the rows that are no kerfs, each as far as the kerf beyond it.
func (l *layout) boxes() (out []box) {
	cuts, _ := l.replay()
	for i, c := range l.rows {
		if c.Kind == model.KindKerf {
			continue
		}
		b := box{Rect: rectOf(&c), label: l.labels[i], fill: ' '}
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
				switch d := k.dust; {
				case !k.rip && d.From == b.To && d.Left < c.Right && c.Left < d.Right:
					b.To = d.To
				case k.rip && d.Left == b.Right && d.From < c.To && c.From < d.To:
					b.Right = d.Right
				}
			}
		}
		out = append(out, b)
	}
	return out
}

func rectOf(c *model.Cut) model.Rect {
	return model.Rect{From: c.From, To: c.To, Left: c.Left, Right: c.Right}
}

func (p *printer) drawing(l *layout) {
	unit, end := model.Length(model.UnitsPerInch),
		strings.ReplaceAll(p.exact(l.whole.To), noBreakSpace, " ")
	if p.job.Settings.Units == model.Millimetre {
		unit = 25 * model.UnitsPerMillimetre
	}
	var bad []model.Rect
	for _, d := range l.noted {
		bad = append(bad, model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right})
	}
	const start = "marked end"
	p.raw(fmt.Sprintf("%s%*s", start, p.columns()-len(start), end))
	for _, line := range draw(l.boxes(), bad, l.whole, p.columns(), unit) {
		p.raw(line)
	}
	p.line("The left edge is on top. Lengths are to scale, except where a short piece needs room.")
}

// legend says what stands behind the letters and signs of a drawing.
func (p *printer) legend(l *layout) {
	met := map[model.Kind]bool{}
	for i, c := range l.rows {
		met[c.Kind] = true
		what := ""
		switch c.Kind {
		case model.KindPart:
			what = fmt.Sprintf("%s, %s, copy %d", c.Commission, c.Part, c.Copy)
		case model.KindOffcut:
			what = "offcut " + c.Offcut
		default:
			continue
		}
		p.item(fmt.Sprintf("  %-3s", l.labels[i]), "%s: %s x %s; %s", what, p.exact(c.To-c.From),
			p.exact(c.Right-c.Left), p.place(l, rectOf(&c)))
	}
	for _, d := range l.noted {
		p.item(fmt.Sprintf("  %-3c", defectSign), "%s: %s", d.Kind,
			p.place(l, model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right}))
	}
	if met[model.KindDefect] && len(l.noted) == 0 {
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
func (p *printer) place(l *layout, r model.Rect) string {
	text := fmt.Sprintf("from %s to %s", p.exact(r.From), p.exact(r.To))
	if r.Left == 0 && r.Right == l.whole.Right {
		return text + ", all the width"
	}
	return text + fmt.Sprintf(", across from %s to %s", p.exact(r.Left), p.exact(r.Right))
}

// UsedBoards lists the boards that a plan cuts, in the order of its cuts.
func UsedBoards(plan *model.Plan) (ids []string) {
	met := map[string]bool{}
	for i := range plan.Cuts {
		if c := &plan.Cuts[i]; c.From >= c.To || c.Left >= c.Right {
			continue // no board of ours: show could not draw it
		}
		if id := plan.Cuts[i].Board; !met[id] {
			met[id] = true
			ids = append(ids, id)
		}
	}
	return ids
}

// columns is how wide a line may be.
func (p *printer) columns() int {
	if p.width == 0 {
		return 80
	}
	return p.width
}

// item prints a text with its head before it; the lines of a long one stand below each other.
func (p *printer) item(head, format string, args ...any) {
	room := p.columns() - len(head)
	text := wrap(broken(fmt.Sprintf(format, args...), room), room)
	p.raw(head + strings.ReplaceAll(
		strings.ReplaceAll(text, "\n", "\n"+strings.Repeat(" ", len(head))), noBreakSpace, " "))
}

// broken parts words that are longer than a line.
func broken(text string, width int) string {
	words := strings.Split(text, " ")
	for i, w := range words {
		var pieces []string
		for r := []rune(w); len(r) > 0; r = r[min(width, len(r)):] {
			pieces = append(pieces, string(r[:min(width, len(r))]))
		}
		words[i] = strings.Join(pieces, " ")
	}
	return strings.Join(words, " ")
}

func isWaste(k model.Kind) bool {
	return slices.Contains([]model.Kind{model.KindWaste, model.KindDefect, model.KindKerf}, k)
}
