package folder

import (
	"errors"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rackwright/model"
)

// readOut reads the tables of an out folder.
func readOut(fsys fs.FS, u model.Unit) (*model.Plan, error) {
	plan := &model.Plan{}
	return plan, readTables(fsys, &model.Job{Settings: model.DefaultSettingsIn(u)}, plan)
}

// An out folder that lacks files says so for each of them.
func TestReadOutMissing(t *testing.T) {
	_, err := readOut(jobFolder(map[string]string{"rack.csv": ""}), model.Inch)
	all, _ := err.(model.InputErrors)
	var files []string
	for _, e := range all {
		files = append(files, e.File+" "+e.Code)
	}
	const code = " " + model.CodeMissingFile
	want := strings.Join([]string{"buy.csv" + code, "costs.csv" + code, "cuts.csv" + code,
		"defects.csv" + code, "order.csv" + code, "rack.csv" + code}, "\n")
	if got := strings.Join(files, "\n"); got != want {
		t.Errorf("got\n%s", got)
	}
}

// A plan that is written reads back with its job, and writes the same bytes; without plan.json
// there is none.
func TestPlanWriteReadWrite(t *testing.T) {
	job, _ := readGood(t, map[string]string{"shop.toml": "units = \"mm\"\nbatch = \"M4\"\n",
		"parts.csv": part("1600")})
	plan := ripped()
	plan.Value, plan.Bound, plan.Date = 1234500, 1230001, "2027-03-01"
	plan.Work = model.Work{Order: model.LeastTime, Ways: []model.WayOfWork{
		{Way: model.LeastTime, Settings: 2, Lifts: 2, Minutes: 4000, Open: 1},
		{Way: model.LeastClutter, Settings: 2, Lifts: 2, Minutes: 4000, Open: 1, Exact: true}}}
	plan.Costs = []model.Cost{{Commission: "Bench", Cost: 1234500, Tally: 8_123_456}}
	plan.Shortages = []model.Shortage{{Commission: "Bench", Part: "Leg", Copies: []int64{4},
		Reason: "no board is wide enough"}}
	encoded := func(job *model.Job, plan *model.Plan) fstest.MapFS {
		files, err := Encode(job, plan)
		if err != nil {
			t.Fatal(err)
		}
		out := fstest.MapFS{}
		for name, data := range files {
			out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		}
		return out
	}
	first := encoded(job, plan)
	all := slices.DeleteFunc(PlanFiles(), func(name string) bool { return name == GlueUps })
	if got := slices.Sorted(maps.Keys(first)); !slices.Equal(got, all) {
		t.Errorf("files %v, want %v", got, all)
	}
	gotJob, gotPlan, err := ReadPlan(first)
	if err != nil {
		t.Fatal(err)
	}
	ignore := cmp.FilterPath(func(p cmp.Path) bool {
		return p.Last().String() == ".Where"
	}, cmp.Ignore())
	// no plan hangs on it, and plan.json has it not
	job.Settings.CountTolerance, job.Settings.Change = 0, 0
	if d := cmp.Diff(job, gotJob, cmpopts.EquateEmpty()) +
		cmp.Diff(plan, gotPlan, cmpopts.EquateEmpty(), ignore); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(first, encoded(gotJob, gotPlan)); d != "" {
		t.Error(d)
	}
	delete(first, "plan.json")
	if _, _, err := ReadPlan(first); !errors.Is(err, ErrNoPlan) {
		t.Errorf("without plan.json: %v", err)
	}
}
