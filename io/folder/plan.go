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
)

// planFiles are the files of an out folder, and how each is written. plan.json holds the job, the
// value and its proof; the tables hold the rest of the plan.
var planFiles = map[string]func(w io.Writer, job *model.Job, plan *model.Plan) error{
	"cuts.csv": func(w io.Writer, job *model.Job, plan *model.Plan) error {
		return csvfile.WriteCuts(w, plan.Cuts, job.Settings.Units)
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
		return csvfile.WriteMarks(w, model.MarksOf(plan.Cuts), job.Settings.Units)
	},
	"costs.csv": func(w io.Writer, _ *model.Job, plan *model.Plan) error {
		return csvfile.WriteCosts(w, plan.Costs)
	},
	"plan.json": planfile.Write,
}

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

// Encode gives the bytes of every file of an out folder.
func Encode(job *model.Job, plan *model.Plan) (map[string][]byte, error) {
	files := map[string][]byte{}
	var errs []error
	for _, name := range PlanFiles() {
		var b bytes.Buffer
		errs = append(errs, planFiles[name](&b, job, plan))
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
	if err := readTables(fsys, job.Settings.Units, plan); err != nil {
		return nil, nil, err
	}
	return job, plan, nil
}

// readTables reads what a plan has in tables: Cuts, Buy, Rack with its defects, Order and Costs.
// Lengths are in the shop's unit.
func readTables(fsys fs.FS, u model.Unit, plan *model.Plan) error {
	r := &reader{fsys: fsys, unit: u, ours: true}
	plan.Cuts = rows(r, "cuts.csv", (*csvfile.File).Cuts)
	plan.Buy = rows(r, "buy.csv", (*csvfile.File).Buy)
	plan.Order = rows(r, "order.csv", (*csvfile.File).Order)
	plan.Costs = rows(r, "costs.csv", (*csvfile.File).Costs)
	after := &model.Job{Settings: model.DefaultSettingsIn(u)} // as next month's would begin
	r.rack(after, true)
	after.Validate(&r.m)
	plan.Rack = after.Rack
	return r.m.Err()
}

// rows gives those of a file that must be there.
func rows[T any](r *reader, name string, read func(*csvfile.File) []T) []T {
	f, ok := r.table(name, true)
	if !ok {
		return nil
	}
	return read(f)
}
