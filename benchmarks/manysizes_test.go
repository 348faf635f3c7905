package benchmarks_test

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest"
)

// Jobs of many sizes are what they claim: so many rows of so many pieces, no two of one size, each
// of which some board for sale holds; so many boards with so many defects each.
func TestManySizesAreWhatTheyClaim(t *testing.T) {
	for seed := int64(1); seed <= seeds; seed++ {
		s := benchmarks.Sizes{Rows: 300, Boards: 61, Defects: int(seed) % 7, Woods: 1 + int(seed)%5}
		t.Run(strconv.FormatInt(seed, 10), func(t *testing.T) {
			files := benchmarks.ManySizes(seed, s, benchmarks.Kerfs{})
			if !maps.EqualFunc(files, benchmarks.ManySizes(seed, s, benchmarks.Kerfs{}),
				bytes.Equal) {
				t.Error("other files the second time")
			}
			job, notes, err := folder.ReadJob(benchmarks.FS(files))
			if err != nil || len(notes) > 0 {
				t.Fatal(notes, err)
			}
			checkUnlike(t, job, s)
			if len(job.Rack) != s.Boards {
				t.Errorf("%d boards", len(job.Rack))
			}
			if s.Woods == 1 {
				s.Qty = 6
				files := benchmarks.ManySizes(seed, s, benchmarks.Kerfs{})
				again, _, err := folder.ReadJob(benchmarks.FS(files))
				if err != nil {
					t.Fatal(err)
				}
				checkUnlike(t, again, s)
			}
			for i := range job.Rack {
				if n := len(job.Rack[i].Defects); n != s.Defects {
					t.Errorf("board %s has %d defects", job.Rack[i].ID, n)
				}
			}
		})
	}
}

func checkUnlike(t *testing.T, job *model.Job, s benchmarks.Sizes) {
	t.Helper()
	type size struct {
		wood          string
		length, width model.Length
	}
	met, woods, pieces, ripped := map[size]bool{}, map[string]bool{}, int64(0), 0
	for i := range job.Parts {
		p := &job.Parts[i]
		wood := p.Material + " " + string(p.Section)
		if of := (size{wood, p.Length, p.Width}); met[of] {
			t.Errorf("two parts of %v", of)
		} else {
			met[of] = true
		}
		woods[wood] = true
		if pieces += p.Qty; p.Qty < 3 || p.Qty > 7 || s.Qty > 0 && p.Qty != int64(s.Qty) {
			t.Errorf("%d pieces of %s", p.Qty, p.Name)
		}
		if !slices.ContainsFunc(job.Yard, func(o model.Offer) bool {
			ok, _ := job.Holds(p, &model.Board{Wood: o.Wood}, model.FromYard)
			return ok
		}) {
			t.Errorf("no board for sale holds %+v", p)
		}
		if narrowest := narrowestOffers(job)[wood]; !p.Whole(narrowest) {
			ripped++
		}
	}
	if len(job.Parts) != s.Rows || len(woods) != s.Woods || 10*ripped < 7*s.Rows {
		t.Errorf("%d rows of %d woods, %d of them narrower than a board", len(job.Parts),
			len(woods), ripped)
	}
	if s.Qty == 0 && (pieces < 9*int64(s.Rows)/2 || pieces > 11*int64(s.Rows)/2) {
		t.Errorf("%d pieces in %d rows", pieces, s.Rows)
	}
}

// Boards of many sizes are bounded on coarser grids, where to work out what they give would take
// too long. The checker derives the same bound on them: else there is no plan but an error.
func TestManySizesAreBoundedOnGrids(t *testing.T) {
	s := benchmarks.Sizes{Rows: 70, Boards: 10, Defects: 3, Woods: 1}
	job, _, err := folder.ReadJob(benchmarks.FS(benchmarks.ManySizes(2, s, benchmarks.Kerfs{})))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := nest.Plan(t.Context(), job, nest.Options{Work: 2e9, Threads: 1})
	if err != nil {
		t.Fatal(err)
	}
	grids := 0
	for _, stock := range plan.Groups[0].Certificate.Stocks {
		if stock.Grid > 0 {
			grids++
		}
	}
	if grids < s.Boards/3 || plan.Bound*10 < plan.Value*8 {
		t.Errorf("%d stocks are on grids, value %v, bound %v", grids, plan.Value, plan.Bound)
	}
}

func TestSizesThatCannotBeMade(t *testing.T) {
	good := benchmarks.Sizes{Rows: 1, Woods: 1}
	if err := good.Fault(); err != nil {
		t.Error(err)
	}
	for _, s := range []benchmarks.Sizes{{Rows: 0, Woods: 1}, {Rows: 1}, {Rows: 1, Woods: 6},
		{Rows: 5001, Woods: 1}, {Rows: 1, Woods: 1, Boards: -1},
		{Rows: 1, Woods: 1, Qty: 100_001}, {Rows: 5000, Woods: 1, Qty: 201},
		{Rows: 1, Woods: 1, Defects: 21}} {
		if s.Fault() == nil {
			t.Errorf("%+v can be made", s)
		}
	}
}

// Each kind of job is written as it is given.
func TestJobsAreWritten(t *testing.T) {
	s := benchmarks.Sizes{Rows: 5, Boards: 3, Defects: 2, Woods: 2}
	kerfs := benchmarks.Kerfs{Rip: "2mm"}
	extreme, _ := benchmarks.Extreme(4)
	dir := t.TempDir()
	for name, job := range map[string]struct {
		files map[string][]byte
		write func(dir string) error
	}{
		"sizes": {benchmarks.ManySizes(3, s, kerfs), func(dir string) error {
			return benchmarks.WriteManySizes(dir, 3, s, kerfs)
		}},
		"extreme": {extreme, func(dir string) error { return benchmarks.WriteExtreme(dir, 4) }},
	} {
		at := filepath.Join(dir, name)
		if err := job.write(at); err != nil {
			t.Fatal(err)
		}
		for file, want := range job.files {
			if got, err := os.ReadFile(filepath.Join(at, file)); err != nil ||
				!bytes.Equal(got, want) {
				t.Errorf("%s: %s: %v, or other bytes", name, file, err)
			}
		}
	}
}
