package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"rackwright/io/csvfile"
	"rackwright/nest"
)

// inchShop is an invented job in whole eighths of an inch, each length marked by =.
func inchShop(r *rand.Rand) map[string]string {
	rows := func(header string, n int, row func(i int) string) string {
		b := header + "\n"
		for i := range n {
			b += row(i) + "\n"
		}
		return b
	}
	long := func(lo, hi int) string { return "=" + strconv.Itoa(lo*8+r.IntN((hi-lo)*8)) }
	sections := []string{"2x4", "2x6"}
	widths := map[string]string{"2x4": "=28", "2x6": "=42"} // 3 1/2 and 5 1/4 in: as it comes, and ripped off its eased edges
	return map[string]string{
		"parts.csv": rows("commission,part,qty,material,section,length,width,thickness,face", 12, func(i int) string {
			s := sections[r.IntN(2)]
			return fmt.Sprintf("C-%d,part %d,%d,fir,%s,%s,%s,=12,%s", i%3, i, 1+r.IntN(4), s, long(13, 60), widths[s], []string{"show", "sound", "hidden"}[r.IntN(3)])
		}),
		"rack.csv": rows("board,material,section,length,longest", 10, func(i int) string {
			return fmt.Sprintf("R-%d,fir,%s,%s,", i, sections[i%2], long(40, 120))
		}),
		"defects.csv": rows("board,from,to,kind", 10, func(i int) string {
			from := 8 * r.IntN(30)
			return fmt.Sprintf("R-%d,=%d,=%d,%s", i, from, from+1+r.IntN(20), []string{"sound knot", "check", "loose knot"}[r.IntN(3)])
		}),
		"yard.csv": rows("material,section,length,price", 6, func(i int) string {
			return fmt.Sprintf("fir,%s,=%d,%d.%02d", sections[i%2], 8*12*(8+2*(i/2)), 5+3*(i/2)+i%2*2, r.IntN(100))
		}),
		"shop.toml": "[kerf]\ncrosscut = '=1'\nrip = '=1'\n[trim]\nyard_end = '=4'\n[allowance]\nlength = '=8'\n[offcut]\nkeep_length = '=96'\n",
	}
}

var marked = regexp.MustCompile(`=\d+`)

// in writes the marked lengths of a job in one unit.
func shopIn(job map[string]string, unit string) fstest.MapFS {
	files := fstest.MapFS{}
	for name, text := range job {
		text = marked.ReplaceAllStringFunc(text, func(s string) string {
			eighths, _ := strconv.Atoi(s[1:])
			if unit == "mm" {
				return strings.TrimSuffix(fmt.Sprintf("%d.%03d", eighths*3175/1000, eighths*3175%1000), ".000")
			}
			return fmt.Sprintf("%d %d/8", eighths/8, eighths%8)
		})
		if name == "shop.toml" {
			text = fmt.Sprintf("units = %q\n", unit) + text
		}
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

// The same shop in inches and in millimetres gives the same plan: 1 in = 25.4 mm (the inch of 1959) exactly, and lengths are whole 1/320 mm.
func TestSameShopInBothUnits(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 1))
	pieces := 0
	for n := range 15 {
		job := inchShop(r)
		var placements, groups []any
		for _, unit := range []string{"in", "mm"} {
			read, _, err := csvfile.ReadJob(shopIn(job, unit))
			if err != nil {
				t.Fatal(err)
			}
			plan, err := nest.Plan(context.Background(), read, nest.Options{Work: 2e8})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range plan.Placements {
				pieces += len(p.Pieces)
			}
			placements, groups = append(placements, plan.Placements), append(groups, plan.Groups)
		}
		if !reflect.DeepEqual(placements[0], placements[1]) || !reflect.DeepEqual(groups[0], groups[1]) {
			t.Fatalf("job %d: two plans:\n%+v\n%+v", n, placements[0], placements[1])
		}
	}
	if pieces < 300 {
		t.Errorf("%d pieces: too few to tell", pieces)
	}
}
