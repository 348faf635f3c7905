package benchmarks_test

import (
	"bytes"
	"maps"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model"
)

const extremeJobs = 300

// readExtreme reads an extreme job as the planner does.
func readExtreme(t *testing.T, seed int64) (job *model.Job, thrown int) {
	t.Helper()
	files, thrown := benchmarks.Extreme(seed)
	job, _, err := folder.ReadJob(benchmarks.FS(files))
	if err != nil {
		t.Fatalf("job %d: %v", seed, err)
	}
	return job, thrown
}

// Extreme jobs are legal, fixed by their seed and small; each kind of extreme comes up.
func TestExtremeJobsAreWhatTheyClaim(t *testing.T) {
	met, thrown := map[string]int{}, 0
	for seed := int64(1); seed <= extremeJobs; seed++ {
		job, n := readExtreme(t, seed)
		thrown += n
		if seed%10 == 0 {
			a, _ := benchmarks.Extreme(seed)
			b, _ := benchmarks.Extreme(seed)
			if !maps.EqualFunc(a, b, bytes.Equal) {
				t.Errorf("job %d: other files the second time", seed)
			}
		}
		pieces := int64(0)
		for i := range job.Parts {
			pieces += job.Parts[i].Qty
		}
		if pieces < 1 || pieces > 40 {
			t.Errorf("job %d: %d pieces", seed, pieces)
		}
		for _, what := range extremesOf(job) {
			met[what]++
		}
	}
	t.Log(thrown, "thrown away;", met)
	if thrown > extremeJobs/2 {
		t.Errorf("%d jobs are thrown away", thrown)
	}
	for _, what := range []string{"board of 5 m", "board of 20 m", "widest board",
		"measure of a unit", "kerf 0", "kerf of 20 mm", "margin of a metre",
		"trims longer than a board", "safe sizes 0", "keep lengths 0", "smallest price",
		"dearest board", "defects touch", "defects overlap", "defect covers another",
		"defect covers a board", "part longer than any board"} {
		if met[what] < 5 {
			t.Errorf("%s: met in %d jobs", what, met[what])
		}
	}
}

// extremesOf names the extremes that a job has.
func extremesOf(job *model.Job) []string {
	s, has := &job.Settings, map[string]bool{}
	kerf := max(s.CrosscutKerf, s.RipKerf)
	has["kerf 0"] = min(s.CrosscutKerf, s.RipKerf) == 0
	has["kerf of 20 mm"] = kerf >= 20*model.UnitsPerMillimetre
	has["margin of a metre"] = s.Margin >= 1000*model.UnitsPerMillimetre
	has["safe sizes 0"] = s.Safety.ShortestRip == 0 && s.Safety.NarrowestRip == 0
	has["keep lengths 0"] = s.Offcut.KeepLength == 0 && s.Offcut.KeepWidth == 0
	longest := model.Length(0)
	wood := func(w *model.Wood, trim model.Length) {
		longest = max(longest, w.Length)
		five := model.Length(5000 * model.UnitsPerMillimetre)
		has["board of 5 m"] = has["board of 5 m"] || w.Length >= five && w.Length <= five*6/5
		has["board of 20 m"] = has["board of 20 m"] || w.Length == model.LongestBoard
		has["widest board"] = has["widest board"] || w.Width == model.WidestBoard
		has["measure of a unit"] = has["measure of a unit"] ||
			w.Length%(model.UnitsPerMillimetre/10) != 0 && w.Length%(model.UnitsPerInch/64) != 0
		has["trims longer than a board"] = has["trims longer than a board"] || 2*trim > w.Length
	}
	for i := range job.Yard {
		o := &job.Yard[i]
		wood(&o.Wood, s.TrimFor(nil, model.FromYard))
		has["smallest price"] = has["smallest price"] || o.Price <= 20
		has["dearest board"] = has["dearest board"] || o.Price > model.DearestBoard-20
	}
	for i := range job.Rack {
		b := &job.Rack[i]
		wood(&b.Wood, s.TrimFor(b, model.FromRack))
		for n, d := range b.Defects {
			whole := d.From == 0 && d.To == b.Length && d.Left == 0 && d.Right == b.Width
			has["defect covers a board"] = has["defect covers a board"] || whole
			for _, o := range b.Defects[:n] {
				over := d.Left < o.Right && o.Left < d.Right
				has["defects touch"] = has["defects touch"] || over && d.From == o.To
				over = over && d.From < o.To && o.From < d.To
				has["defects overlap"] = has["defects overlap"] || over
				has["defect covers another"] = has["defect covers another"] ||
					d.From <= o.From && d.To >= o.To && d.Left <= o.Left && d.Right >= o.Right
			}
		}
	}
	for i := range job.Parts {
		has["part longer than any board"] = has["part longer than any board"] ||
			longest > 0 && job.Parts[i].Length > longest
	}
	var out []string
	for what, yes := range has {
		if yes {
			out = append(out, what)
		}
	}
	return out
}
