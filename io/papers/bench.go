package papers

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/report"
	"rackwright/model"
	"rackwright/model/makeup"
)

// Bench writes a sheet for each commission: its parts, the blanks of each with a box and the board
// that it came from, and its final cuts by stop length.
func Bench(w io.Writer, job *model.Job, plan *model.Plan, opt Options) error {
	s := &bench{newSheet(job, plan, opt, "At the bench"), newShop(job, plan)}
	if len(job.Commissions) == 0 {
		s.page()
		s.para(side, "No commission.")
	}
	for n := range job.Commissions {
		s.commission(&job.Commissions[n])
	}
	return s.write(w)
}

type bench struct {
	*sheet
	shop *shop
}

func (s *bench) commission(c *model.Commission) {
	var parts []*model.Part
	for i := range s.shop.job.Parts {
		if p := &s.shop.job.Parts[i]; p.Commission == c.Name {
			parts = append(parts, p)
		}
	}
	s.footer(report.FinalCautions(s.shop.job, parts))
	s.page()
	s.set(headType, true)
	s.mark(c.Name, 0)
	s.para(side, c.Name)
	s.set(plainType, false)
	if c.Due != "" {
		s.para(side, "due "+c.Due)
	}
	if c.Note != "" {
		s.para(side, c.Note)
	}
	s.again = func() {
		s.set(plainType, true)
		s.put(side, s.y, s.cut(c.Name+", continued", s.w-2*side))
		s.y += s.line() + 2
	}
	s.y += 2
	for _, p := range parts {
		s.part(p)
	}
	s.madeUp(parts)
	s.finalCuts(parts)
	s.again = nil
}

// part sets one part: what it is to be, its blanks, and what is short of it.
func (s *bench) part(p *model.Part) {
	s.need(24)
	s.rule(side, s.w-side, s.y, fine)
	s.y += 1.5
	s.set(boardType, true)
	s.para(side, fmt.Sprintf("%s, %s", p.Name, report.Count(int(p.Qty), "piece")))
	s.set(plainType, false)
	words := []string{"Finished " + s.shop.sizes(p.Length, p.Width, p.Thickness),
		p.Material, p.Face.String() + " face"}
	if k := p.Makes; k != nil && !makeup.IsSpare(p) {
		words[0] = "For " + k.Part + ", finished " + s.shop.sizes(k.Length, k.Width, k.Thickness)
	}
	if p.Section != "" {
		words[1] += " " + string(p.Section)
	}
	if p.Note != "" {
		words = append(words, p.Note)
	}
	s.para(side, strings.Join(words, ", "))
	for _, alike := range s.alike(p) {
		s.blanks(alike)
	}
	for i := range s.shop.plan.Shortages {
		if x := &s.shop.plan.Shortages[i]; x.Commission == p.Commission && x.Part == p.Name {
			s.para(side, "Short: copies "+numbers(x.Copies)+", as "+x.Reason+".")
		}
	}
	s.y += 2
}

// alike puts the blanks of a part together that have the same wood and come off in the same size,
// by their copies.
func (s *bench) alike(p *model.Part) (out [][]*piece) {
	for _, b := range s.shop.blanks[p] {
		n := slices.IndexFunc(out, func(o []*piece) bool {
			return o[0].size == b.size && o[0].wood.Section == b.wood.Section &&
				o[0].wood.Surface == b.wood.Surface
		})
		if n < 0 {
			n, out = len(out), append(out, nil)
		}
		out[n] = append(out[n], b)
	}
	return out
}

// blanks sets alike blanks: their size, and a box with copy and id for each.
func (s *bench) blanks(list []*piece) {
	first := list[0]
	s.need(2 * s.line())
	text := "Blank " + s.shop.sizes(first.blank.Length, first.blank.Width, first.blank.Thickness) +
		", from " + strings.TrimSpace(string(first.wood.Section)+" "+string(first.wood.Surface))
	if as := s.shop.asCut(first); as != "" {
		text += ", " + as
	}
	s.para(side, text)
	room := s.w - 2*side
	widest := 0.0
	words := make([]string, len(list))
	for n, p := range list {
		words[n] = fmt.Sprintf("%d  %s", p.row.Copy, p.id)
		if name := s.shop.pieceName(p); name != "" { // its id comes last, and is to be seen
			id := "  " + p.id
			words[n] = s.cut(name, max(0, room-s.boxSize()-1.5-s.width(id))) + id
		}
		widest = max(widest, s.width(words[n]))
	}
	each := s.boxSize() + 1.5 + widest + 5
	columns := max(1, int(room/each))
	pitch := s.line() * 1.25
	for n, text := range words {
		if n%columns == 0 {
			s.need(pitch)
		}
		x := side + float64(n%columns)*each
		s.box(x, s.y)
		s.put(x+s.boxSize()+1.5, s.y, s.cut(text, room-s.boxSize()-1.5))
		if n%columns == columns-1 || n == len(words)-1 {
			s.y += pitch
		}
	}
}

// madeUp says how parts come about that are glued up, or cut several in one blank.
func (s *bench) madeUp(parts []*model.Part) {
	list := report.Assemblies(parts)
	if len(list) == 0 {
		return
	}
	s.need(30)
	s.y += 3
	s.set(boardType, true)
	s.para(side, "Gluing up and parting")
	s.set(plainType, false)
	glued := false
	for n := range list {
		a := &list[n]
		glued = glued || !a.Gang()
		texts := report.HowMade(s.shop.job, a)
		s.need(3 * s.line())
		s.set(plainType, true)
		s.para(side, fmt.Sprintf("%s %s: %s", a.Piece.Makes.Part, a.Which(), a.Of()))
		s.set(plainType, false)
		for _, text := range texts {
			s.para(side, text)
		}
		s.y += 1
	}
	if glued {
		s.para(side, report.MakersChoice)
	}
}

// finalCuts lists what is cut from the blanks at the end, longest stop first.
func (s *bench) finalCuts(parts []*model.Part) {
	cuts := report.FinalCuts(s.shop.job, parts)
	if len(cuts) == 0 {
		return
	}
	s.need(30)
	s.y += 3
	s.set(boardType, true)
	s.para(side, "Final cuts, by stop length")
	s.set(plainType, false)
	s.para(side, "Off is what both ends lose together, saw cuts included.")
	s.y += 1
	var cells [][]string
	widths := [3]float64{s.width("length"), s.width("length"), s.width("length")}
	for _, c := range cuts {
		row := []string{s.shop.length(c.Stop), s.shop.length(c.Blank),
			s.shop.length(c.Off), strconv.FormatInt(c.Qty, 10), c.Part}
		for k := range widths {
			widths[k] = max(widths[k], s.width(row[k])+0.5)
		}
		cells = append(cells, row)
	}
	s.rows([]column{{"stop", widths[0], true}, {"blank", widths[1], true},
		{"off", widths[2], true}, {"qty", 12, true}, {head: "part"}}, cells, plainType)
}

// numbers lists copies; three or more that follow each other as the first to the last.
func numbers(list []int64) string {
	var words []string
	for n := 0; n < len(list); {
		end := n + 1
		for end < len(list) && list[end] == list[end-1]+1 {
			end++
		}
		switch {
		case end-n > 2:
			words = append(words, fmt.Sprintf("%d to %d", list[n], list[end-1]))
		default:
			for _, k := range list[n:end] {
				words = append(words, strconv.FormatInt(k, 10))
			}
		}
		n = end
	}
	return strings.Join(words, ", ")
}
