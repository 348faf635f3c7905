package papers

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"rackwright/io/drawing"
	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/model"
)

// Type of the saw paper.
const (
	cutType = 9.0
	keyType = 8.0
	drawn   = 2500 // type of a drawing, in micrometres
)

// passes are the names of the passes of order.csv.
var passes = [...]string{"", "first crosscuts", "rips", "last crosscuts", "last rips"}

// Saw writes the order of work: the boards as they are taken in hand, each drawn where it comes up
// first, and its cuts with their places, settings and boxes. The cautions of the plan stand at the
// foot of each page.
func Saw(w io.Writer, job *model.Job, plan *model.Plan, opt Options) error {
	s := &saw{sheet: newSheet(job, plan, opt, "At the saw"), job: job, plan: plan,
		boards: map[string]*layout.Board{}, words: map[string][]string{}, page: map[string]int{},
		links: map[string]int{}, stands: map[string]stand{}, numbers: map[string]map[int]int{}}
	list := layout.Boards(job, plan)
	for _, b := range list {
		s.boards[b.ID], s.numbers[b.ID] = b, map[int]int{}
	}
	for _, row := range plan.Order {
		if of := s.numbers[row.Board]; of != nil {
			of[row.Step] = row.Sequence
		}
	}
	s.footer(report.Cautions(job, plan))
	s.sheet.page()
	s.intro(list)
	s.cols = s.columns()
	for n := 0; n < len(plan.Order); {
		end := n + 1
		for end < len(plan.Order) && plan.Order[end].Board == plan.Order[n].Board &&
			plan.Order[end].Pass == plan.Order[n].Pass {
			end++
		}
		s.lift(plan.Order[n:end])
		n = end
	}
	s.uncut(list)
	return s.write(w)
}

// copyNumber is that of a piece, after its commission and part.
var copyNumber = regexp.MustCompile(`, (\d+(?:;|$))`)

// saw is the paper, and how things stand at the saw.
type saw struct {
	*sheet
	job    *model.Job
	plan   *model.Plan
	boards map[string]*layout.Board
	words  map[string][]string // of the cuts of a board, by step
	// of the cuts of a board in the order of work, by step
	numbers map[string]map[int]int
	cols    []column
	page    map[string]int // that a board is drawn on
	links   map[string]int // to there
	level   int            // of a board in the outline
	pass    int
	stands  map[string]stand // by saw
}

// stand is where a stop or fence stands, and for which wood.
type stand struct {
	material string
	section  model.Section
	length   model.Length
}

// intro says in which order the paper goes, and how cuts are marked out.
func (s *saw) intro(list []*layout.Board) {
	s.set(headType, true)
	s.para(side, "Order of work")
	s.set(plainType, false)
	if len(list) == 0 {
		s.para(side, "No board is cut.")
		return
	}
	for _, w := range s.plan.Work.Ways {
		if w.Way != s.plan.Work.Order {
			continue
		}
		way := "board by board, with the fewest commissions open at once"
		if w.Way == model.LeastTime {
			way = "pass by pass over all boards, in the fewest minutes"
		}
		s.para(side, fmt.Sprintf("It goes %s: %s, %s, %v minutes besides the cuts themselves, at "+
			"most %s begun and not finished at once.", way, report.Count(w.Settings, "setting"),
			report.Count(w.Lifts, "lift"), w.Minutes, report.Count(w.Open, "commission")))
	}
	ripped := slices.IndexFunc(list, func(b *layout.Board) bool {
		cuts, _ := b.Cuts()
		return slices.ContainsFunc(cuts, func(c layout.Cut) bool { return c.Rip })
	})
	s.para(side, report.AboveCuts(s.job, list[max(0, ripped)])[0]+
		" A setting in bold is one to make; "+
		"in plain type, stop or fence stands there already.")
	s.y += 2
}

// lift sets the cuts of one board that follow each other in a pass.
func (s *saw) lift(rows []model.Sawing) {
	b := s.boards[rows[0].Board]
	if b == nil {
		return // no plan of ours: there is no such board
	}
	s.toPass(rows[0].Pass)
	_, again := s.page[b.ID]
	var scene *drawing.Scene
	height := boardType*point*lead + 3
	if !again {
		scene = s.scene(b)
		height += s.heightOf(scene)
	}
	s.set(cutType, false)
	for i := range rows {
		height += s.rowHeight(s.cells(b, &rows[i], ""))
	}
	s.need(min(height, s.floor-top-under-1))
	s.heading(b, again)
	if !again {
		s.page[b.ID] = s.pdf.PageNo()
		s.board(b, scene)
	}
	s.again = func() {
		s.set(plainType, true)
		s.put(side, s.y, s.cut(b.ID+", continued", s.w-2*side))
		s.y += s.line() + 1
	}
	s.set(cutType, false)
	for i := range rows {
		s.row(s.cells(b, &rows[i], s.setting(b, &rows[i])))
	}
	s.again = nil
	s.y += 3
}

// toPass heads a pass.
func (s *saw) toPass(pass int) {
	if pass == s.pass {
		return
	}
	s.pass = pass
	name := fmt.Sprintf("Pass %d", pass)
	if pass > 0 && pass < len(passes) {
		name += ": " + passes[pass]
	}
	s.set(woodType, true)
	if s.plan.Work.Order == model.LeastClutter { // passes take turns on each board
		s.set(plainType, true)
	} else {
		s.y += 2
	}
	s.need(60)
	if s.plan.Work.Order != model.LeastClutter {
		s.mark(name, 0)
		s.level = 1
	}
	s.para(side, name)
	s.y += 1
}

// setting says where stop or fence is to stand for a cut, aloud where it has to be moved there.
func (s *saw) setting(b *layout.Board, row *model.Sawing) string {
	if row.Setting == 0 {
		return "mark"
	}
	what := "stop "
	if row.Saw == model.Rip {
		what = "fence "
	}
	text, to := what+s.job.Settings.Show(row.Setting), stand{b.Material(), b.Section(), row.Setting}
	if s.stands[row.Saw] == to {
		return text
	}
	s.stands[row.Saw] = to
	return loud + text
}

// columns are those of the cuts: the number in the order of work, the setting that is made for the
// cut, the cut, and what comes off.
func (s *saw) columns() []column {
	s.set(cutType, true)
	setting := s.width("fence")
	for i := range s.plan.Order {
		setting = max(setting, s.width("fence "+s.job.Settings.Show(s.plan.Order[i].Setting)))
	}
	s.set(cutType, false)
	s.indent = s.boxSize() + between
	return s.spread([]column{{width: s.width(fmt.Sprint(len(s.plan.Order))), right: true},
		{width: setting}, {}, {width: 55}})
}

// cells are those of a cut, with their columns.
func (s *saw) cells(b *layout.Board, row *model.Sawing, setting string) ([]column, []string) {
	wide := slices.Clone(s.cols[:3])
	wide[2].width += between + s.cols[3].width
	words, known := s.words[b.ID]
	if !known {
		words = report.CutsInWords(s.job, b)
		s.words[b.ID] = words
	}
	text := row.Saw
	if row.Step > 0 && row.Step <= len(words) {
		text = words[row.Step-1]
	}
	off := b.Names.Reword(row.Piece)
	if strings.Contains(text, row.Piece+" comes off") { // the trim, or waste
		off = ""
	}
	if off == "" { // the words of the cut may take its place
		return wide, []string{fmt.Sprint(row.Sequence), setting, text}
	}
	off = copyNumber.ReplaceAllString(off, ","+model.NoBreakSpace+"$1")
	return s.cols, []string{fmt.Sprint(row.Sequence), setting, text,
		strings.ReplaceAll(off, "; ", ";\n")}
}
