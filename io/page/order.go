package page

import (
	"fmt"
	"strconv"

	"rackwright/io/report"
	"rackwright/io/table"
	"rackwright/model"
)

// work is the order of work, in passes one after the other.
type work struct {
	Ways     *grid
	Words    []string // of the ways
	ByBoards bool     // one pass: board by board
	Passes   []*pass
}

// pass is what is sawn at one saw before the next pass begins, or all of it board by board.
type pass struct {
	Anchor string
	Name   string
	About  string
	Runs   []*run
	Visits int
}

// run is what is sawn at one setting.
type run struct {
	Setting string // empty: each cut says where it is made
	Wood    string
	Visits  []*visit
	at      setting
}

// setting is where stop or fence stands; the zero value is none.
type setting struct {
	saw    string
	length model.Length
	wood   model.WoodKind
}

// visit is a board, or pieces of one, taken in hand.
type visit struct {
	Tick  string
	Board *board
	First bool // it was not in hand before, so its drawing stands here
	Held  bool // it is in hand still
	Cuts  []sawn
}

// sawn is one cut.
type sawn struct {
	Step  int    // number of the cut on its board
	Set   string // how stop or fence is to be set for it; empty: as it stands
	Words string
	Off   string // the blanks and offcuts that come off
}

// passNames are those of the passes, with what is cut in them.
var passNames = [...][2]string{
	{"Board by board", "each through all of its cuts, both saws ready"},
	{"First crosscuts", "boards into lengths; ends off boards that are ripped first"},
	{"Rips", "lengths, and boards that are ripped first, into strips"},
	{"Last crosscuts", "strips into blanks; blanks shorter than their length"},
	{"Last rips", "blanks narrower than their strip"},
}

// order lays out the rows of order.csv as they are worked through.
func (v *view) order() {
	rows := v.plan.Order
	if len(rows) == 0 {
		return
	}
	o := orderer{view: v, boards: map[string]*board{}, words: map[*board][]string{},
		byBoards: v.plan.Work.Order == model.LeastClutter}
	for _, b := range v.Boards {
		o.boards[b.layout.ID] = b
	}
	v.Work = &work{Ways: v.waysOfWork(), Words: visible(report.OrderOfWork(v.plan)),
		ByBoards: o.byBoards}
	for from := 0; from < len(rows); {
		to := from + 1
		for to < len(rows) && rows[to].Board == rows[from].Board &&
			(o.byBoards || rows[to].Pass == rows[from].Pass) {
			to++
		}
		o.take(rows[from:to])
		from = to
	}
}

// waysOfWork sets the ways of working side by side.
func (v *view) waysOfWork() *grid {
	g := &grid{}
	for _, name := range []string{"way of working", "settings", "lifts", "minutes",
		"most commissions open"} {
		g.Columns = append(g.Columns, table.Column{Name: name, Align: table.Right})
	}
	g.Columns[0].Align = table.Left
	for _, w := range v.plan.Work.Ways {
		name := report.WayWords(w.Way)
		if w.Way == v.plan.Work.Order {
			name += " (this order)"
		}
		g.Rows = append(g.Rows, []string{name, strconv.Itoa(w.Settings), strconv.Itoa(w.Lifts),
			w.Minutes.String(), strconv.Itoa(w.Open)})
	}
	return g
}

// orderer puts rows in their passes and runs.
type orderer struct {
	*view
	byBoards bool
	boards   map[string]*board
	words    map[*board][]string // of the cuts of boards that were in hand
	stands   [2]setting          // of stop and fence, where it goes board by board
	pass     *pass
	number   int // of the pass
}

// take takes a board in hand, or what is cut of it in one pass.
func (o *orderer) take(rows []model.Sawing) {
	b := o.boards[rows[0].Board]
	if b == nil {
		return // a plan edited by hand
	}
	first := o.words[b] == nil
	if b.InOrder = true; first {
		o.words[b] = append(report.CutsInWords(o.job, b.layout), "")
	}
	number := rows[0].Pass
	if o.byBoards {
		number = 0
	}
	if o.pass == nil || number != o.number {
		if number >= len(passNames) {
			return
		}
		o.pass = &pass{Anchor: fmt.Sprintf("p%d", len(o.view.Work.Passes)+1),
			Name: passNames[number][0], About: passNames[number][1]}
		o.view.Work.Passes, o.number = append(o.view.Work.Passes, o.pass), number
	}
	if o.byBoards {
		o.put(setting{}, o.visit(b, rows, first, false))
		return
	}
	for n, part := range o.parts(b, rows) {
		o.put(part.at, o.visit(b, part.rows, first && n == 0, n > 0 && number == 1))
	}
}

// atOne are rows at one setting.
type atOne struct {
	at   setting
	rows []model.Sawing
}

// parts parts the rows of a board by their settings. Cuts at their marks go with the cut before,
// the first ones with the cut after.
func (o *orderer) parts(b *board, rows []model.Sawing) (out []atOne) {
	from, at := 0, setting{}
	for i := range rows {
		s := settingOf(b, &rows[i])
		if s.length == 0 || s == at {
			continue
		}
		if at.length != 0 {
			out, from = append(out, atOne{at, rows[from:i]}), i
		}
		at = s
	}
	return append(out, atOne{at, rows[from:]})
}

func settingOf(b *board, s *model.Sawing) setting {
	return setting{s.Saw, s.Setting, model.WoodKind{Material: b.layout.Material(),
		Section: b.layout.Section()}}
}

// put puts a visit into the run of its setting. What needs no setting goes with the run before.
func (o *orderer) put(at setting, x *visit) {
	o.pass.Visits++
	runs := o.pass.Runs
	if n := len(runs); n > 0 && (runs[n-1].at == at || at.length == 0) {
		runs[n-1].Visits = append(runs[n-1].Visits, x)
		return
	}
	r := &run{at: at, Visits: []*visit{x}}
	if at.length != 0 {
		r.Setting, r.Wood = o.set(at), x.Board.Wood
	} else if !o.byBoards {
		r.Setting = "No stop: cut at the marks"
	}
	o.pass.Runs = append(runs, r)
}

// set words a setting.
func (o *orderer) set(at setting) string {
	if at.saw == model.Rip {
		return "Fence " + o.length(at.length)
	}
	return "Stop " + o.length(at.length)
}

func (o *orderer) visit(b *board, rows []model.Sawing, first, held bool) *visit {
	x := &visit{Tick: fmt.Sprintf("w%d", rows[0].Sequence), Board: b, First: first, Held: held}
	for i := range rows {
		s := &rows[i]
		cut := sawn{Step: s.Step, Off: model.Visible(b.layout.Names.Reword(s.Piece))}
		if n := min(max(s.Step, 1), len(o.words[b])); n > 0 {
			cut.Words = model.Visible(o.words[b][n-1])
		}
		switch s.Piece {
		case "trim", "waste", "ripped span": // the words say it
			cut.Off = ""
		}
		if at := settingOf(b, s); o.byBoards && at.length != 0 {
			saw := 0
			if at.saw == model.Rip {
				saw = 1
			}
			if o.stands[saw] != at {
				o.stands[saw], cut.Set = at, o.set(at)
			}
		}
		x.Cuts = append(x.Cuts, cut)
	}
	return x
}
