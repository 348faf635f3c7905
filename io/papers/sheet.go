package papers

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"rackwright/io/drawing"
	"rackwright/model"
)

// Places are in millimetres from the top left corner of a page, sizes of type in points.
const (
	point  = 25.4 / 72
	side   = 14.0 // margins
	top    = 11.0
	low    = 11.0
	under  = 9.0  // from the top margin down to where a page begins below its head
	lead   = 1.25 // from line to line, in sizes of the type
	capped = 0.72 // height of capital letters, in sizes of the type
	small  = 7.0  // type of head and foot
	hair   = 0.15 // widths of lines
	fine   = 0.3
)

// Options say how papers are set.
type Options struct {
	Paper model.Paper // empty: that of the shop's unit
	Job   string      // name of the job folder, for the head of each page; may be empty
	From  int64       // first free label of a used sheet, from 1 on; 0: 1
}

// sheet is a paper that is being laid out, page after page.
type sheet struct {
	pdf   *fpdf.Fpdf
	unit  model.Unit
	paper model.Paper
	w, h  float64
	y     float64 // what is free begins here
	floor float64 // nothing goes below

	title, about string     // of the head
	foot         []string   // lines at the foot of a page
	feet         [][]string // of the pages so far
	size         float64    // type in use
	bold         bool
	indent       float64 // of the rows of a table, for the boxes before them
	again        func()  // heads what goes on from one page to the next; or nil
}

// newPDF is a document without pages, the same bytes whenever it is written: its date is that of
// the plan, or none.
func newPDF(p model.Paper, title, date string) *fpdf.Fpdf {
	w, h := p.Size()
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm",
		Size: fpdf.SizeType{Wd: millimetres(w), Ht: millimetres(h)}})
	pdf.SetCatalogSort(true)
	made, err := time.Parse(time.DateOnly, date)
	if err != nil {
		made = time.Unix(0, 0).UTC()
	}
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetProducer(Producer, false)
	pdf.SetTitle(title, true)
	pdf.SetLang("en")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	drawing.AddFonts(pdf)
	return pdf
}

// Producer stands in each file as who made it.
const Producer = "rackwright papers"

// IsOurs says whether the bytes of a file are a paper of this room.
func IsOurs(file []byte) bool { return bytes.Contains(file, []byte("/Producer ("+Producer+")")) }

func millimetres(l model.Length) float64 { return float64(l) / model.UnitsPerMillimetre }

// newSheet begins a paper of a plan that has no page yet.
func newSheet(job *model.Job, plan *model.Plan, opt Options, title string) *sheet {
	return blankSheet(job.Settings.Units, opt.Paper, title, aboutOf(job, plan, opt), plan.Date)
}

// blankSheet begins a paper that has no page yet, about something of some date.
func blankSheet(u model.Unit, p model.Paper, title, about, date string) *sheet {
	s := &sheet{unit: u, paper: p, title: title, about: about}
	if s.paper == "" {
		s.paper = model.PaperOf(s.unit)
	}
	s.pdf = newPDF(s.paper, title+", "+s.about, date)
	w, h := s.paper.Size()
	s.w, s.h = millimetres(w), millimetres(h)
	s.set(plainType, false)
	return s
}

// footer says what stands at the foot of the pages that begin from now on.
func (s *sheet) footer(paragraphs []string) {
	size, bold := s.size, s.bold
	s.set(small, false)
	s.foot = nil
	for _, text := range paragraphs {
		s.foot = append(s.foot, s.lines(text, s.w-2*side)...)
	}
	s.set(size, bold)
}

// floorOver is how far down a page goes that has such a foot.
func (s *sheet) floorOver(foot []string) float64 {
	if len(foot) == 0 {
		return s.h - low
	}
	return s.h - low - float64(len(foot))*small*point*lead - 2.5
}

// aboutOf says which job a page is of.
func aboutOf(job *model.Job, plan *model.Plan, opt Options) string {
	var words []string
	batch := job.Settings.Batch
	if opt.Job != "" {
		words = append(words, "job "+opt.Job)
	}
	if batch != "" && batch != opt.Job {
		words = append(words, "batch "+batch)
	}
	if r := plan.Revision; r != nil {
		words = append(words, fmt.Sprintf("revision %d", r.Number))
	}
	date := plan.Date
	if date == "" {
		date = "date ____________"
	}
	return printable(strings.Join(append(words, date), ", "))
}

// page begins a new page.
func (s *sheet) page() {
	size, bold := s.size, s.bold
	s.pdf.AddPage()
	s.feet = append(s.feet, s.foot)
	s.y, s.floor = top+under, s.floorOver(s.foot)
	if again := s.again; again != nil {
		s.again = nil // what heads a page breaks none
		again()
		s.again = again
	}
	s.set(size, bold)
}

// need begins a new page where there is not so much room left.
func (s *sheet) need(height float64) {
	if s.y+height > s.floor && s.y > top+under {
		s.page()
	}
}

// write sets head and foot of every page, and writes the file.
func (s *sheet) write(w io.Writer) error {
	pages := s.pdf.PageCount()
	for n := 1; n <= pages; n++ {
		s.pdf.SetPage(n)
		s.head(fmt.Sprintf("Page %d of %d", n, pages))
		foot := s.feet[n-1]
		if len(foot) == 0 {
			continue
		}
		s.set(small, false)
		y := s.floorOver(foot) + 2.5
		s.rule(side, s.w-side, y-1, hair)
		for _, line := range foot {
			s.put(side, y, line)
			y += s.line()
		}
	}
	return s.pdf.Output(w)
}

func (s *sheet) head(page string) {
	s.set(small+1, false)
	s.putRight(s.w-side, top, page)
	free := s.w - 2*side - s.width(page) - 4
	s.set(small+2, true)
	s.put(side, top-0.4, s.title)
	used := s.width(s.title) + 4
	s.set(small+1, false)
	s.put(side+used, top, s.cut(s.about, free-used))
	s.rule(side, s.w-side, top+5, fine)
}
