package folder

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"slices"

	"rackwright/io/csvfile"
	"rackwright/io/planfile"
	"rackwright/model"
	"rackwright/model/makeup"
)

// planFiles are the files of an out folder, and how each is written. plan.json holds the job, the
// value and its proof; the tables hold the rest of the plan.
var planFiles = map[string]func(w io.Writer, job *model.Job, plan *model.Plan) error{
	"cuts.csv": func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteCuts(w, plan.Cuts, makeup.NamesOf(job), job.Settings.Units)
	},
	"buy.csv": func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteBuy(w, plan.Buy, job.Settings.Units)
	},
	"rack.csv": func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteRack(w, plan.Rack, job.Settings.Units)
	},
	"defects.csv": func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteDefects(w, plan.Rack, job.Settings.Units)
	},
	"order.csv": func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteOrder(w, plan.Order, job.Settings.Units)
	},
	Form: func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteMarks(w, formFor(job, plan), job.Settings.Units)
	},
	"costs.csv": func(w io.Writer, _ *model.Job, plan *model.Plan) error {
		return csvfile.WriteCosts(w, plan.Costs)
	},
	GlueUps: func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteLaid(w, makeup.LaidOf(job, plan.Cuts), job.Settings.Units)
	},
	"plan.json": planfile.Write,
}

// GlueUps is the table of staves and layers; it is there only where parts are glued up.
const GlueUps = "glue_ups.csv"

// PlanFiles gives the names of the files of an out folder, in their order.
func PlanFiles() []string { return slices.Sorted(maps.Keys(planFiles)) }

// Page is the plan as a page to look at. It lies beside the files of a plan and is never read back.
const Page = "report.html"

// Papers gives the names of the papers that are made of a plan, in their order. They may lie beside
// its files, too, and are never read back.
func Papers() []string { return []string{"bench.pdf", "labels.pdf", "saw.pdf", "yard.pdf"} }

// former are files that plans of older versions have: a new plan takes their place.
var former = []string{"setups.csv"}

// OutFiles gives the names of all that an out folder may hold, in their order.
func OutFiles() []string {
	return slices.Sorted(slices.Values(slices.Concat(PlanFiles(), Papers(), former,
		[]string{Page})))
}

// Writers are the files of an out folder, each as what writes it. They may write beside each other.
func Writers(job *model.Job, plan *model.Plan) map[string]func(io.Writer) error {
	files := map[string]func(io.Writer) error{}
	for name, write := range planFiles {
		if name != GlueUps || makeup.GluesUp(job) {
			files[name] = func(w io.Writer) error { return write(w, job, plan) }
		}
	}
	return files
}

// Encode gives the bytes of every file of an out folder.
func Encode(job *model.Job, plan *model.Plan) (map[string][]byte, error) {
	files := map[string][]byte{}
	var errs []error
	writers := Writers(job, plan)
	for _, name := range slices.Sorted(maps.Keys(writers)) {
		var b bytes.Buffer
		errs = append(errs, writers[name](&b))
		files[name] = b.Bytes()
	}
	return files, errors.Join(errs...)
}

// ErrNoPlan says that a folder has no plan.json that can be opened.
var ErrNoPlan = errors.New("no plan.json can be read there")

// ReadPlan reads an out folder back: the job that it was made for, and the plan. The error is
// [ErrNoPlan], or [model.InputErrors]: those of plan.json alone, or else of all tables.
func ReadPlan(fsys fs.FS) (*model.Job, *model.Plan, error) {
	f, err := fsys.Open("plan.json")
	if err != nil {
		return nil, nil, ErrNoPlan
	}
	defer f.Close()
	job, plan, err := planfile.Read(f)
	if err != nil {
		return nil, nil, err
	}
	if err := readTables(fsys, job, plan); err != nil {
		return nil, nil, err
	}
	return job, plan, nil
}

// readTables reads what a plan has in tables: Cuts, Buy, Rack with its defects, Order and Costs.
// What tables say of glue-ups follows from the cuts and the job, and must stand there. Lengths are
// in the shop's unit.
func readTables(fsys fs.FS, job *model.Job, plan *model.Plan) error {
	u := job.Settings.Units
	r := &reader{fsys: fsys, unit: u, ours: true}
	if names := makeup.NamesOf(job); len(names) > 0 {
		plan.Cuts = rows(r, "cuts.csv", func(f *csvfile.File) []model.Cut {
			return f.CutsMade(names)
		})
	} else {
		plan.Cuts = rows(r, "cuts.csv", (*csvfile.File).Cuts)
	}
	plan.Buy = rows(r, "buy.csv", (*csvfile.File).Buy)
	plan.Order = rows(r, "order.csv", (*csvfile.File).Order)
	plan.Costs = rows(r, "costs.csv", (*csvfile.File).Costs)
	after := &model.Job{Settings: model.DefaultSettingsIn(u)} // as next month's would begin
	r.rack(after, true)
	after.Validate(&r.m)
	plan.Rack = after.Rack
	if r.m.Err() == nil { // else it would be compared with cuts that are not known
		r.glueUps(job, plan)
	}
	return r.m.Err()
}

// glueUps has glue_ups.csv say what follows from job and cuts.
func (r *reader) glueUps(job *model.Job, plan *model.Plan) {
	if f, ok := r.table(GlueUps, makeup.GluesUp(job)); ok {
		f.Laid(makeup.LaidOf(job, plan.Cuts))
	}
}

// rows gives those of a file that must be there.
func rows[T any](r *reader, name string, read func(*csvfile.File) []T) []T {
	f, ok := r.table(name, true)
	if !ok {
		return nil
	}
	return read(f)
}
