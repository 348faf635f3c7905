package benchmarks_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"rackwright/benchmarks"
	"rackwright/model"
)

const seeds = 10

// rows reads a CSV file of a month into one map a row.
func rows(t *testing.T, files map[string][]byte, name string) (out []map[string]string) {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(files[name])).ReadAll()
	if err != nil || len(all) == 0 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = cells[i]
		}
		out = append(out, row)
	}
	return out
}

type shop struct {
	Units     string
	Kerf      struct{ Crosscut, Rip string }
	Trim      map[string]string
	Allowance map[string]string
	Offcut    struct {
		KeepLength string  `toml:"keep_length"`
		Value      float64 // a share
	}
	Defects struct{ Margin string }
}

func settings(t *testing.T, files map[string][]byte) (s shop) {
	t.Helper()
	if err := toml.Unmarshal(files["shop.toml"], &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// read gives a length in the shop's unit and fails where it is not exact.
func (s *shop) read(t *testing.T, cell string) model.Length {
	t.Helper()
	l, rounded, err := model.ParseLength(cell, model.Unit(s.Units))
	if err != nil || rounded {
		t.Fatalf("length %q: rounded %v, %v", cell, rounded, err)
	}
	return l
}

// Width and thickness of dry dressed lumber, in quarters of an inch: PS 20-20, common sections
// (trade-facts part 1).
var dressed = map[string][2]model.Length{
	"1x4": {14, 3}, "1x6": {22, 3}, "1x8": {29, 3}, "2x4": {14, 6}, "2x6": {22, 6}, "2x8": {29, 6},
	"4x4": {14, 14},
}

func actual(t *testing.T, section string) (width, thickness model.Length) {
	t.Helper()
	if d, ok := dressed[section]; ok {
		return d[0] * model.UnitsPerInch / 4, d[1] * model.UnitsPerInch / 4
	}
	var w, th model.Length
	if n, err := fmt.Sscanf(section, "%dx%dmm", &th, &w); n != 2 || err != nil {
		t.Fatalf("section %q", section)
	}
	return w * model.UnitsPerMillimetre, th * model.UnitsPerMillimetre
}

func TestMonthIsFixedByItsSeed(t *testing.T) {
	for seed := int64(1); seed <= seeds; seed++ {
		a := benchmarks.Month(seed, benchmarks.Kerfs{})
		b := benchmarks.Month(seed, benchmarks.Kerfs{})
		next := benchmarks.Month(seed+1, benchmarks.Kerfs{})
		names := slices.Sorted(maps.Keys(a))
		if want := []string{"commissions.csv", "defects.csv", "parts.csv", "rack.csv", "shop.toml",
			"yard.csv"}; !slices.Equal(names, want) {
			t.Fatalf("files %v", names)
		}
		for _, n := range names {
			if !bytes.Equal(a[n], b[n]) {
				t.Errorf("seed %d: %s differs the second time", seed, n)
			}
		}
		if bytes.Equal(a["parts.csv"], next["parts.csv"]) {
			t.Errorf("seeds %d and %d want the same parts", seed, seed+1)
		}
	}
}

func TestWriteMonthWritesEveryFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	if err := benchmarks.WriteMonth(dir, 4, benchmarks.Kerfs{}); err != nil {
		t.Fatal(err)
	}
	for name, want := range benchmarks.Month(4, benchmarks.Kerfs{}) {
		if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil ||
			!bytes.Equal(got, want) {
			t.Errorf("%s: %v, or other bytes", name, err)
		}
	}
}

// group is what a month wants and has of one material and section.
type group struct {
	lengths         map[model.Length]bool // of blanks
	wanted, rack    model.Length
	longest         model.Length
	offers          map[model.Length]model.Money // price of each length for sale
	rows, unlimited int
}

func TestMonthsAreWhatTheyClaim(t *testing.T) {
	for seed := int64(1); seed <= seeds; seed++ {
		t.Run(strconv.FormatInt(seed, 10), func(t *testing.T) {
			files := benchmarks.Month(seed, benchmarks.Kerfs{})
			s := settings(t, files)
			groups := map[string]*group{}
			checkParts(t, files, &s, groups)
			checkRack(t, files, &s, groups)
			checkYard(t, files, &s, groups)
			var wanted, rack model.Length
			for _, g := range groups {
				wanted, rack = wanted+g.wanted, rack+g.rack
			}
			if 100*rack > 45*wanted || 100*rack < 25*wanted {
				t.Errorf("the rack has %d %% of the length wanted, should be 25 to 45",
					100*rack/wanted)
			}
		})
	}
}

func checkParts(t *testing.T, files map[string][]byte, s *shop, groups map[string]*group) {
	commissions, named, faces := map[string]bool{}, map[string]bool{}, map[string]bool{}
	pieces := 0
	for _, r := range rows(t, files, "parts.csv") {
		qty, err := strconv.Atoi(r["qty"])
		if err != nil || qty < 1 {
			t.Fatalf("qty %q", r["qty"])
		}
		if key := r["commission"] + "/" + r["part"]; named[key] {
			t.Errorf("part %s twice", key)
		} else {
			named[key] = true
		}
		pieces += qty
		commissions[r["commission"]], faces[r["face"]] = true, true
		g := groups[r["material"]+" "+r["section"]]
		if g == nil {
			g = &group{lengths: map[model.Length]bool{}, offers: map[model.Length]model.Money{}}
			groups[r["material"]+" "+r["section"]] = g
		}
		blank := s.read(t, r["length"]) + s.read(t, s.Allowance["length"])
		g.lengths[blank], g.longest = true, max(g.longest, blank)
		g.wanted += model.Length(qty) * blank
		// Defaults of design part 3: 1/16 in for each sawn edge, 1/8 in lost at an eased edge;
		// metric sections are not eased.
		width, thickness := actual(t, r["section"])
		w, edge, usable := s.read(t, r["width"]), model.Length(model.UnitsPerInch/16),
			width-model.UnitsPerInch/8
		if s.Units == "mm" {
			edge, usable = s.read(t, s.Allowance["edge"]), width
		}
		if s.read(t, r["thickness"]) != thickness || w != width && w+2*edge > usable {
			t.Errorf("%s does not hold %v", r["section"], r)
		}
		if blank < 12*model.UnitsPerInch {
			t.Errorf("%v is too short to be machined safely", r)
		}
	}
	listed := map[string]bool{}
	for _, r := range rows(t, files, "commissions.csv") {
		listed[r["commission"]] = true
	}
	if len(commissions) != 12 || !maps.Equal(commissions, listed) {
		t.Errorf("%d commissions have parts, %d are listed; want the same 12", len(commissions),
			len(listed))
	}
	if pieces < 380 || pieces > 420 || len(faces) != 3 || len(groups) != 5 {
		t.Errorf("%d pieces, %d faces, %d groups; want about 400, 3, 5", pieces, len(faces),
			len(groups))
	}
	for name, g := range groups {
		if len(g.lengths) < 12 {
			t.Errorf("%s: %d blank lengths, want 12 at least", name, len(g.lengths))
		}
	}
}

func checkRack(t *testing.T, files map[string][]byte, s *shop, groups map[string]*group) {
	lengths := map[string]model.Length{}
	for _, r := range rows(t, files, "rack.csv") {
		l := s.read(t, r["length"])
		g := groups[r["material"]+" "+r["section"]]
		if g == nil || lengths[r["board"]] != 0 || l <= 2*s.read(t, s.Trim["rack_end"]) {
			t.Fatalf("board %v", r)
		}
		lengths[r["board"]] = l
		g.rack += l
	}
	count, kinds := map[string]int{}, map[string]bool{}
	for _, r := range rows(t, files, "defects.csv") {
		from, to := s.read(t, r["from"]), s.read(t, r["to"])
		if from >= to || to > lengths[r["board"]] {
			t.Errorf("defect %v on a board of %d", r, lengths[r["board"]])
		}
		count[r["board"]]++
		kinds[r["kind"]] = true
	}
	if len(lengths) != 200 || len(count) != 100 ||
		slices.Max(slices.Collect(maps.Values(count))) > 4 {
		t.Errorf("%d boards, %d with defects; want 200, 100, of 4 defects at most", len(lengths),
			len(count))
	}
	want := "check, loose knot, pin hole, pitch pocket, sound knot, split, stain, wane"
	if got := strings.Join(slices.Sorted(maps.Keys(kinds)), ", "); got != want {
		t.Errorf("kinds of defects: %s", got)
	}
}

func checkYard(t *testing.T, files map[string][]byte, s *shop, groups map[string]*group) {
	for _, r := range rows(t, files, "yard.csv") {
		g := groups[r["material"]+" "+r["section"]]
		price, err := model.ParseMoney(r["price"])
		if g == nil || err != nil || price <= 0 {
			t.Fatalf("offer %v: %v", r, err)
		}
		g.offers[s.read(t, r["length"])] = price
		g.rows++
		if r["available"] == "" {
			g.unlimited++
		}
	}
	for name, g := range groups {
		if len(g.offers) != 5 || g.rows != 5 || g.unlimited < 4 {
			t.Errorf("%s: %d offers of %d lengths, %d without limit; want 5, 5, 4 at least", name,
				g.rows, len(g.offers), g.unlimited)
		}
		for l, price := range g.offers {
			for other, least := range g.offers {
				// 1.1 / 0.9 = 1.222; the prices are rounded to cents
				if 1000*int64(price)*int64(other) > 1230*int64(least)*int64(l) {
					t.Errorf("%s: %s for %d and %s for %d: more than 10 %% up and down", name,
						price, l, least, other)
				}
			}
			if g.longest > l-2*s.read(t, s.Trim["yard_end"]) {
				t.Errorf("%s: the longest blank does not come out of a board of %d", name, l)
			}
		}
	}
}

// Over ten seeds: seven shops in inches, one of them to 1/32 in, three in whole millimetres, and
// varied settings.
func TestTenShopsDiffer(t *testing.T) {
	units, kerfs, values, margins := map[string]int{}, map[string]int{}, map[float64]int{},
		map[string]int{}
	trims, keeps := map[string]int{}, map[string]int{}
	handled, fine := 0, 0
	for seed := int64(1); seed <= seeds; seed++ {
		files := benchmarks.Month(seed, benchmarks.Kerfs{})
		s := settings(t, files)
		units[s.Units]++
		kerfs[s.Kerf.Crosscut]++
		values[s.Offcut.Value]++
		margins[s.Defects.Margin]++
		trims[s.Trim["yard_end"]]++
		keeps[s.Offcut.KeepLength]++
		if !bytes.Contains(files["shop.toml"], []byte("\nboard = 0.00\n")) {
			handled++
		}
		if s.Offcut.Value < 0.3 || s.Offcut.Value > 0.8 {
			t.Errorf("seed %d: offcut value %g", seed, s.Offcut.Value)
		}
		grid := model.Length(model.UnitsPerInch / 32)
		if s.Units == "mm" {
			grid = model.UnitsPerMillimetre
			if k := s.Kerf.Crosscut; k != "3" && k != "3.2" {
				t.Errorf("seed %d: kerf %s mm", seed, k)
			}
		}
		off := 0
		for _, name := range []string{"parts.csv", "rack.csv", "defects.csv"} {
			for _, r := range rows(t, files, name) {
				for _, column := range []string{"length", "from", "to"} {
					if r[column] == "" {
						continue
					}
					l := s.read(t, r[column])
					if l%grid != 0 {
						t.Errorf("seed %d: %s: %s is not on the grid", seed, name, r[column])
					}
					if s.Units == "in" && l%(2*grid) != 0 {
						off++
					}
				}
			}
		}
		if off > 0 {
			fine++
		}
	}
	if units["in"] != 7 || units["mm"] != 3 || handled != 3 || fine != 1 {
		t.Errorf("%v, %d charge for handling, %d to 1/32 in; want 7 in, 3 mm, 3, 1", units, handled,
			fine)
	}
	if kerfs["3.2"] == 0 || kerfs["3"] == 0 || len(kerfs) < 4 || len(values) < 5 ||
		len(margins) < 4 || len(trims) < 4 || len(keeps) < 4 {
		t.Errorf("settings hardly vary: kerfs %v, values %v, margins %v, trims %v, keep lengths %v",
			kerfs, values, margins, trims, keeps)
	}
}
