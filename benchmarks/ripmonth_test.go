package benchmarks_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model"
)

func TestRipMonthIsFixedByItsSeed(t *testing.T) {
	for seed := int64(1); seed <= seeds; seed++ {
		a := benchmarks.RipMonth(seed, 400, benchmarks.Kerfs{})
		b := benchmarks.RipMonth(seed, 400, benchmarks.Kerfs{})
		next := benchmarks.RipMonth(seed+1, 400, benchmarks.Kerfs{})
		if !maps.EqualFunc(a, b, bytes.Equal) {
			t.Errorf("seed %d gives other files the second time", seed)
		}
		if bytes.Equal(a["parts.csv"], next["parts.csv"]) ||
			bytes.Equal(a["parts.csv"], benchmarks.Month(seed, benchmarks.Kerfs{})["parts.csv"]) {
			t.Errorf("seed %d wants the same parts as another month", seed)
		}
	}
}

// What benchmarks/README.md says of the months without rips holds only as long as they stay as they
// are.
func TestMonthsStayAsMeasured(t *testing.T) {
	sum := sha256.New()
	for _, first := range []int64{1, 101} {
		for seed := first; seed < first+seeds; seed++ {
			files := benchmarks.Month(seed, benchmarks.Kerfs{})
			for _, name := range slices.Sorted(maps.Keys(files)) {
				sum.Write(files[name])
			}
		}
	}
	if got := hex.EncodeToString(
		sum.Sum(nil)); got != "1e7e150ab605a67bf0b149acfed11f645f331e84518c49edc781a8af7322d2a9" {
		t.Errorf("the months have changed: measure them anew (make months) and put %s here", got)
	}
}

// ripJob reads a month as the planner does, so that the rows are judged against each other too.
func ripJob(t *testing.T, seed int64, pieces int) *model.Job {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "new")
	if err := benchmarks.WriteRipMonth(dir, seed, pieces, benchmarks.Kerfs{}); err != nil {
		t.Fatal(err)
	}
	job, notes, err := folder.ReadJob(os.DirFS(dir))
	if err != nil || len(notes) > 0 {
		t.Fatalf("seed %d: %v, %v", seed, notes, err)
	}
	return job
}

func TestRipMonthsAreWhatTheyClaim(t *testing.T) {
	for seed := int64(1); seed <= seeds; seed++ {
		for _, pieces := range []int{400, 1000} {
			t.Run(strconv.FormatInt(seed, 10)+" of "+strconv.Itoa(pieces), func(t *testing.T) {
				job := ripJob(t, seed, pieces)
				if got := job.Settings.RipKerf; got <= 0 || got >= model.UnitsPerInch/4 {
					t.Errorf("rip kerf %d", got)
				}
				checkWidths(t, job, pieces)
				checkRipBoards(t, job)
				checkSpans(t, job)
			})
		}
	}
}

// narrowestOffers are the narrowest boards for sale, by material and section.
func narrowestOffers(job *model.Job) map[string]*model.Wood {
	out := map[string]*model.Wood{}
	for i := range job.Yard {
		w := &job.Yard[i].Wood
		if k := w.Material + " " + string(w.Section); out[k] == nil || w.Width < out[k].Width {
			out[k] = w
		}
	}
	return out
}

// checkWidths: 40 % of the pieces, a point or two up or down in each group, are so narrow that two
// lie beside each other on any board for sale, and no other is.
func checkWidths(t *testing.T, job *model.Job, pieces int) {
	narrowest := narrowestOffers(job)
	all, narrow, whole := map[string]int{}, map[string]int{}, 0
	sumAll, sumNarrow := 0, 0
	commissions := map[string]bool{}
	for i := range job.Parts {
		p := &job.Parts[i]
		k, qty := p.Material+" "+string(p.Section), int(p.Qty)
		w := narrowest[k]
		if w == nil {
			t.Fatalf("the yard has no %s", k)
		}
		commissions[p.Commission] = true
		all[k], sumAll = all[k]+qty, sumAll+qty
		blank, usable := job.BlankIn(p, w).Width, w.Width-2*job.Inset(w)
		switch {
		case p.Whole(w):
			whole += qty
		case 2*blank < usable:
			narrow[k], sumNarrow = narrow[k]+qty, sumNarrow+qty
			if 2*blank+job.Settings.RipKerf > usable {
				t.Errorf("%s %s: two do not lie beside each other on %s", p.Commission, p.Name, k)
			}
		case blank > usable:
			t.Errorf("%s %s: does not lie on the narrowest %s", p.Commission, p.Name, k)
		}
	}
	if len(all) != 5 || sumAll != pieces || len(commissions) != 12 || whole == 0 {
		t.Errorf("%d groups, %d pieces of %d commissions, %d of the whole width", len(all), sumAll,
			len(commissions), whole)
	}
	if 100*sumNarrow < 35*sumAll || 100*sumNarrow > 45*sumAll {
		t.Errorf("%d of %d pieces are narrow, should be 35 to 45 %%", sumNarrow, sumAll)
	}
	for k, n := range all {
		if 100*narrow[k] < 35*n || 100*narrow[k] > 45*n {
			t.Errorf("%s: %d of %d pieces are narrow", k, narrow[k], n)
		}
	}
}

// checkRipBoards: the rack has less than half of the area wanted; boards of random width have one
// of their own, as have some others.
func checkRipBoards(t *testing.T, job *model.Job) {
	narrowest := narrowestOffers(job)
	var wanted, rack int64
	for i := range job.Parts {
		p := &job.Parts[i]
		b := job.BlankIn(p, narrowest[p.Material+" "+string(p.Section)])
		wanted += p.Qty * int64(b.Length/320) * int64(b.Width/320)
	}
	measured, sized, random, defective := 0, 0, map[model.Length]bool{}, 0
	for i := range job.Rack {
		b := &job.Rack[i]
		rack += int64(b.Length/320) * int64(b.Width/320)
		if len(b.Defects) > 4 {
			t.Errorf("board %s has %d defects", b.ID, len(b.Defects))
		}
		if len(b.Defects) > 0 {
			defective++
		}
		if b.Section == "4/4" {
			random[b.Width] = true
			continue
		}
		sized++
		if w := narrowest[b.Material+" "+string(b.Section)].Width; b.Width < w {
			measured++
		} else if b.Width > w {
			t.Errorf("board %s is wider than it comes", b.ID)
		}
	}
	if 100*rack > 46*wanted || 100*rack < 25*wanted {
		t.Errorf("the rack has %d %% of the area wanted, should be 25 to 46", 100*rack/wanted)
	}
	if measured == 0 || 2*measured > sized || len(random) < 5 || 2*defective != len(job.Rack) {
		t.Errorf("%d of %d boards are measured, hardwood has %d widths, "+
			"%d of %d boards have defects", measured, sized, len(random), defective, len(job.Rack))
	}
}

// checkSpans: half of the defects have a span of the width, knots and wane at an edge and checks in
// the middle.
func checkSpans(t *testing.T, job *model.Job) {
	spans, all := 0, 0
	for i := range job.Rack {
		b := &job.Rack[i]
		for _, d := range b.Defects {
			if all++; d.Left == 0 && d.Right == b.Width {
				continue
			}
			spans++
			atEdge := d.Left == 0 || d.Right == b.Width
			switch d.Kind {
			case "split":
				t.Errorf("board %s: a split with a span", b.ID)
			case "sound knot", "loose knot", "wane":
				if !atEdge {
					t.Errorf("board %s: %s at %d to %d of %d", b.ID, d.Kind, d.Left, d.Right,
						b.Width)
				}
			case "check":
				if d.Left < b.Width/4 || d.Right > 3*b.Width/4 {
					t.Errorf("board %s: check at %d to %d of %d", b.ID, d.Left, d.Right, b.Width)
				}
			}
		}
	}
	if 100*spans < 45*all || 100*spans > 50*all {
		t.Errorf("%d of %d defects have a span of the width", spans, all)
	}
}

func TestRipMonthShopsDiffer(t *testing.T) {
	units, ripKerfs, margins, trims, widths := map[model.Unit]int{}, map[model.Length]int{},
		map[model.Length]int{}, map[model.Length]int{}, map[model.Length]int{}
	unlike := 0
	for seed := int64(1); seed <= seeds; seed++ {
		s := ripJob(t, seed, 400).Settings
		units[s.Units]++
		ripKerfs[s.RipKerf]++
		margins[s.Margin]++
		trims[s.YardEnd]++
		widths[s.Offcut.KeepWidth]++
		if s.RipKerf != s.CrosscutKerf {
			unlike++
		}
	}
	if units[model.Inch] != 7 || unlike < 4 || unlike == seeds || len(ripKerfs) < 4 ||
		len(margins) < 4 || len(trims) < 4 || len(widths) < 4 {
		t.Errorf("settings hardly vary: %v, %d rip kerfs are not the crosscut kerf, "+
			"rip kerfs %v, margins %v, trims %v, keep widths %v",
			units, unlike, slices.Collect(maps.Keys(ripKerfs)), margins, trims, widths)
	}
}

// Large months can be read, and have the boards and the sizes that were asked for.
func TestSizedRipMonths(t *testing.T) {
	lengths := map[int]int{}
	for _, size := range []benchmarks.RipSize{{Pieces: 5000}, {Pieces: 10_000, Boards: 1000},
		{Pieces: 4000, Boards: 700, Sizes: 1}, {Pieces: 4000, Boards: 700, Sizes: 3}} {
		files := benchmarks.SizedRipMonth(2, size, benchmarks.Kerfs{})
		job, notes, err := folder.ReadJob(benchmarks.FS(files))
		if err != nil || len(notes) > 0 {
			t.Fatalf("%+v: %v, %v", size, notes, err)
		}
		pieces, all := 0, map[model.Length]bool{}
		for i := range job.Parts {
			pieces += int(job.Parts[i].Qty)
			all[job.Parts[i].Length] = true
		}
		want := size.Boards
		if want == 0 {
			want = 200
		}
		if pieces != size.Pieces || len(job.Rack) != want {
			t.Errorf("%+v: %d pieces, %d boards", size, pieces, len(job.Rack))
		}
		lengths[size.Sizes] = len(all)
	}
	if lengths[3] < 2*lengths[1] {
		t.Errorf("%d lengths, not three times %d", lengths[3], lengths[1])
	}
}
