package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strconv"
	"testing"
	"testing/fstest"

	"rackwright/io/folder"
	"rackwright/model"
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
	// 3 1/2 and 5 1/4 in: as it comes, and ripped off its eased edges
	widths := map[string]string{"2x4": "=28", "2x6": "=42"}
	return map[string]string{
		"parts.csv": rows("commission,part,qty,material,section,length,width,thickness,face", 12,
			func(i int) string {
				s := sections[r.IntN(2)]
				return fmt.Sprintf("C-%d,part %d,%d,fir,%s,%s,%s,=12,%s", i%3, i, 1+r.IntN(4), s,
					long(13, 60), widths[s], []string{"show", "sound", "hidden"}[r.IntN(3)])
			}),
		"rack.csv": rows("board,material,section,length,longest", 10, func(i int) string {
			return fmt.Sprintf("R-%d,fir,%s,%s,", i, sections[i%2], long(40, 120))
		}),
		"defects.csv": rows("board,from,to,kind", 10, func(i int) string {
			from := 8 * r.IntN(30)
			return fmt.Sprintf("R-%d,=%d,=%d,%s", i, from, from+1+r.IntN(20),
				[]string{"sound knot", "check", "loose knot"}[r.IntN(3)])
		}),
		"yard.csv": rows("material,section,length,price", 6, func(i int) string {
			return fmt.Sprintf("fir,%s,=%d,%d.%02d", sections[i%2], 8*12*(8+2*(i/2)),
				5+3*(i/2)+i%2*2, r.IntN(100))
		}),
		"shop.toml": everyLength(map[string]int{"kerf.crosscut": 1, "kerf.rip": 1,
			"trim.yard_end": 4, "allowance.length": 8, "offcut.keep_length": 96}),
	}
}

// everyLength writes the settings with every length set: marked eighths of an inch, or else what an
// inch shop has. What is left out is not the same in both shops.
func everyLength(eighths map[string]int) (text string) {
	for _, l := range (&model.Settings{}).Lengths() {
		value := l.Inch.Decimal(model.Inch) + "in"
		if n, ok := eighths[l.Key]; ok {
			value = "=" + strconv.Itoa(n)
		}
		text += fmt.Sprintf("%s = %q\n", l.Key, value)
	}
	return text
}

var marked = regexp.MustCompile(`=\d+`)

// ripShop is such a job for the rip saw: parts narrower than their boards, boards of measured
// widths, defects of a part of the width.
func ripShop(r *rand.Rand) map[string]string {
	job := inchShop(r)
	eighths := func(lo, hi int) string { return "=" + strconv.Itoa(lo+r.IntN(hi-lo)) }
	rows := func(header string, n int, row func(i int) string) string {
		b := header + "\n"
		for i := range n {
			b += row(i) + "\n"
		}
		return b
	}
	job["parts.csv"] = rows("commission,part,qty,material,section,length,width,thickness,face", 7,
		func(i int) string {
			s := []string{"2x4", "2x6"}[r.IntN(2)]
			return fmt.Sprintf("C-%d,part %d,%d,fir,%s,%s,%s,=12,%s", i%3, i, 1+r.IntN(3), s,
				eighths(13*8, 40*8), eighths(8, 25), []string{"show", "sound", "hidden"}[r.IntN(3)])
		})
	job["rack.csv"] = rows("board,material,section,length,width", 6, func(i int) string {
		return fmt.Sprintf("R-%d,fir,%s,%s,%s", i, []string{"2x4", "2x6"}[i%2], eighths(40*8, 90*8),
			[]string{"=28", "=44", "=30", "=42"}[r.IntN(2)*2+i%2])
	})
	job["defects.csv"] = rows("board,from,to,kind,left,right", 8, func(i int) string {
		from, left := 8*r.IntN(30), r.IntN(20)
		return fmt.Sprintf("R-%d,=%d,=%d,%s,=%d,=%d", i%6, from, from+1+r.IntN(20),
			[]string{"sound knot", "check", "loose knot"}[r.IntN(3)], left, left+1+r.IntN(8))
	})
	job["shop.toml"] = everyLength(map[string]int{"kerf.crosscut": 1, "kerf.rip": 1,
		"trim.yard_end": 4, "allowance.length": 8, "allowance.edge": 1, "allowance.thickness": 1,
		"allowance.eased_edge": 2, "offcut.keep_length": 96, "offcut.keep_width": 12,
		"safety.shortest_rip": 100, "safety.narrowest_rip": 6, "defects.margin": 2})
	return job
}

// in writes the marked lengths of a job in one unit.
func shopIn(job map[string]string, unit string) fstest.MapFS {
	files := fstest.MapFS{}
	for name, text := range job {
		text = marked.ReplaceAllStringFunc(text, func(s string) string {
			eighths, _ := strconv.Atoi(s[1:])
			if unit == "mm" {
				// with a fourth decimal, so that it is no thousand
				return fmt.Sprintf("%d.%03d0", eighths*3175/1000, eighths*3175%1000)
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

// The same shop in inches and in millimetres gives the same plan: 1 in = 25.4 mm (the inch of 1959)
// exactly, and lengths are whole 1/320 mm.
func TestSameShopInBothUnits(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 1))
	pieces := 0
	for n := range 15 {
		_, in := sameInBothUnits(t, n, inchShop(r))
		pieces += in
	}
	if pieces < 300 {
		t.Errorf("%d pieces: too few to tell", pieces)
	}
}

// The same holds of a job for the rip saw.
func TestSameRipsInBothUnits(t *testing.T) {
	r := rand.New(rand.NewPCG(62, 1))
	ripped, pieces := map[model.First]int{}, 0
	for n := range 12 {
		plan, in := sameInBothUnits(t, n, ripShop(r))
		pieces += in
		for _, p := range plan.Placements {
			ripped[p.First]++
		}
	}
	t.Log(ripped, pieces)
	if ripped[model.RipFirst] < 5 || ripped[model.CrosscutFirst] < 5 || pieces < 100 {
		t.Errorf("boards by their first cut: %v, %d pieces: too few to tell", ripped, pieces)
	}
}

// sameInBothUnits plans a job in both units, and compares.
func sameInBothUnits(t *testing.T, n int, job map[string]string) (in *model.Plan, pieces int) {
	t.Helper()
	var plans []*model.Plan
	for _, unit := range []string{"in", "mm"} {
		read, _, err := folder.ReadJob(shopIn(job, unit))
		if err != nil {
			t.Fatal(err)
		}
		plan, err := nest.Plan(context.Background(), read, nest.Options{Work: 2e8})
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, plan)
	}
	a, b := plans[0], plans[1]
	if !reflect.DeepEqual(a.Placements, b.Placements) || !reflect.DeepEqual(a.Groups, b.Groups) ||
		!reflect.DeepEqual(a.Cuts, b.Cuts) || !reflect.DeepEqual(a.Order, b.Order) {
		t.Fatalf("job %d: two plans:\n%+v\n%+v", n, a.Placements, b.Placements)
	}
	for _, p := range a.Placements {
		pieces += len(p.Pieces)
	}
	return a, pieces
}
