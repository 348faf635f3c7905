package folder

import (
	"fmt"
	"io/fs"

	"rackwright/io/csvfile"
	"rackwright/model"
	"rackwright/model/makeup"
)

// The form in which a maker marks what was cut. It lies in the out folder and may be filled in
// there, or in a copy: so nothing of a plan is read from it, and what the plan says in it is
// compared with the plan.

// Form is the name of that form.
const Form = "marks.csv"

// FormFilled says whether anything is filled in in the form of an out folder. One that is not there
// or cannot be read has nothing in it.
func FormFilled(out fs.FS) (filled bool) {
	r := &reader{fsys: out, unit: model.Inch}
	if f, ok := r.table(Form, false); ok {
		f.Form(func(_ csvfile.Cells, _ model.Mark, is bool) { filled = filled || is })
	}
	return filled
}

// CheckForm judges the form of an out folder, where it is there: but for what the maker filled in
// it has each row of the plan once. The error is [model.InputErrors].
func CheckForm(out fs.FS, job *model.Job, plan *model.Plan) error {
	r := &reader{fsys: out, unit: job.Settings.Units}
	f, ok := r.table(Form, false)
	if !ok {
		return r.m.Err()
	}
	rows := newRows(job, plan)
	f.Form(func(c csvfile.Cells, m model.Mark, _ bool) { rows.is(c, &m) })
	if n, first := rows.missing(); n > 0 && r.m.Err() == nil {
		r.m.Add(&model.InputError{Code: model.CodePlan, File: Form,
			Cause:  fmt.Sprintf("rows are missing (%d): the first is that of %s", n, first),
			Remedy: "take the file out of the folder, or put the plan's own there"})
	}
	return r.m.Err()
}

// ReadMarks reads a form that a maker filled in; it may have some of the rows of its plan, in any
// order. Name is what mistakes call it. The error is [model.InputErrors].
func ReadMarks(fsys fs.FS, name string, job *model.Job, plan *model.Plan) ([]model.Marked,
	[]model.Note, error) {
	r := &reader{fsys: fsys, unit: job.Settings.Units}
	var marks []model.Marked
	if f, ok := r.table(name, true); ok {
		rows := newRows(job, plan)
		f.Marks(func(c csvfile.Cells, m model.Marked) {
			if rows.is(c, &m.Mark) {
				marks = append(marks, m)
			}
		})
	}
	if err := r.m.Err(); err != nil {
		return nil, r.fewNotes(), err
	}
	return marks, r.fewNotes(), nil
}

// rowsOfForm are the rows of a plan's form, and which of them were met.
type rowsOfForm struct {
	form []model.Mark
	at   map[model.Mark]int // by what names a row
	line []int
}

// namedBy is what of a row says which it is.
func namedBy(m model.Mark) model.Mark {
	m.Length, m.Width, m.Makes = 0, 0, ""
	return m
}

// formFor is the form of a plan; pieces of parts that are made up say what they make.
func formFor(job *model.Job, plan *model.Plan) []model.Mark {
	form, names := model.MarksOf(plan.Cuts), makeup.NamesOf(job)
	for i := range form {
		if m := &form[i]; names[[2]string{m.Commission, m.Part}] != nil {
			m.Makes = names.Of(m.Commission, m.Part, m.Copy, "%s %d")
		}
	}
	return form
}

func newRows(job *model.Job, plan *model.Plan) *rowsOfForm {
	r := &rowsOfForm{form: formFor(job, plan), at: map[model.Mark]int{}}
	for i := range r.form {
		r.at[namedBy(r.form[i])] = i
	}
	r.line = make([]int, len(r.form))
	return r
}

// is says whether a row is one of the form's that was not met before, as the plan has it.
func (r *rowsOfForm) is(c csvfile.Cells, m *model.Mark) bool {
	i, ok := r.at[namedBy(*m)]
	if !ok {
		if m.Board != "" && m.Row != "" {
			r.unknown(c, m)
		}
		return false
	}
	if r.line[i] > 0 {
		c.Bad(model.CodeDuplicate, "row", fmt.Sprintf("%s stands in line %d already", name(m),
			r.line[i]), "take one of the two out")
		return false
	}
	r.line[i] = c.Where().Line
	good := true
	for _, f := range []struct {
		column   string
		got, was model.Length
	}{{"length", m.Length, r.form[i].Length}, {"width", m.Width, r.form[i].Width}} {
		if f.got != f.was && f.got != 0 { // 0 could not be read
			good = false
			c.Bad(model.CodePlan, f.column, "the plan has "+f.was.Shop(c.Unit())+" here",
				"write that, and what the tape says as measured")
		}
	}
	if was := r.form[i].Makes; m.Makes != "" && m.Makes != was {
		good = false
		c.Bad(model.CodePlan, "makes", fmt.Sprintf("%.60q: the plan has %q here", m.Makes, was),
			"write that, or leave the cell empty")
	}
	m.Makes = "" // it was for the maker alone
	return good
}

// unknown says what of a row the plan does not have.
func (r *rowsOfForm) unknown(c csvfile.Cells, m *model.Mark) {
	var ids []string
	for i := range r.form {
		if r.form[i].Row == model.MarkRest {
			ids = append(ids, r.form[i].Board)
		}
		if r.form[i].Board == m.Board {
			c.Bad(model.CodePlan, "row", "the plan cuts no such "+string(m.Row)+" from board "+
				m.Board, "write the row as the plan's own "+Form+" has it")
			return
		}
	}
	remedy := "write a board of the plan"
	if len(ids) > 0 && c.Mistakes()*len(ids) < 1_000_000 { // each search is through all boards
		remedy += ", the nearest is " + model.Nearest(m.Board, ids)
	}
	c.Bad(model.CodeUnknownBoard, "board", fmt.Sprintf("the plan cuts no board %q", m.Board),
		remedy)
}

// missing is how many rows were not met, and the name of the first.
func (r *rowsOfForm) missing() (n int, first string) {
	for i := range r.form {
		if r.line[i] == 0 {
			if n++; n == 1 {
				first = name(&r.form[i])
			}
		}
	}
	return n, first
}

// name tells people which row is meant.
func name(m *model.Mark) string {
	switch m.Row {
	case model.MarkPiece:
		if m.Makes != "" {
			return m.Commission + ", " + m.Makes
		}
		return fmt.Sprintf("%s, %s, %d", m.Commission, m.Part, m.Copy)
	case model.MarkOffcut:
		return "offcut " + m.Offcut
	}
	return "the rest of board " + m.Board
}
