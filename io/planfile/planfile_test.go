package planfile

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rackwright/model"
)

func ptr[T any](v T) *T { return &v }

// sample is a plan with something in every field.
func sample() (*model.Job, *model.Plan) {
	const in = model.UnitsPerInch
	wood := model.Wood{Material: "oak & ash", Section: "2x6", Length: 96 * in, Width: 11 * in / 2, Thickness: 3 * in / 2}
	settings := model.DefaultSettings()
	settings.Materials = map[string]model.Override{"oak & ash": {Thickness: ptr(model.Length(2032)), Value: &model.Fraction{Num: 1, Den: 4}}}
	settings.Sections = map[model.Section]model.Override{"2x6": {KeepLength: ptr(model.Length(8 * in))}, "4/4": {}}
	job := &model.Job{
		Settings:    settings,
		Commissions: []model.Commission{{Name: "Bench", Due: "2026-04-01"}, {Name: "Bed"}},
		Parts: []model.Part{{Commission: "Bench", Name: "Leg", Qty: 4, Material: "oak & ash", Length: 16 * in, Width: 2 * in, Thickness: in, Face: model.Sound,
			Where: model.Where{File: "parts.csv", Line: 2}}},
		Rack: []model.Board{{ID: "A1", Wood: wood, Value: ptr(model.Money(72500)), Since: "2026-01-31", Where: model.Where{File: "rack.csv", Line: 2},
			Defects: []model.Defect{{From: in, To: 2 * in, Right: wood.Width, Kind: "knot"}}}},
		Yard:   []model.Offer{{Wood: wood, Price: 125000, Available: ptr(int64(0)), Where: model.Where{File: "yard.csv", Line: 2}}},
		Inputs: []model.Input{{Name: "parts.csv", SHA256: strings.Repeat("0a", 32)}},
	}
	plan := &model.Plan{
		Value: 1234500, Bound: 1230001,
		Shortages: []model.Shortage{{Commission: "Bed", Part: "Slat <1>", Copies: []int64{1, 2}, Reason: "no board is wide enough"}},
		Groups: []model.Group{{Name: "oak & ash 2x6", Value: 1234500, Bound: 1230001, Proof: model.Feasible, Ended: model.WorkLimit,
			Certificate: model.Certificate{Scale: 1 << 20,
				Items:  []model.CertItem{{Length: 17 * in, Face: model.Hidden, Demand: 4, Stocks: []int{0, 1}}},
				Stocks: []model.CertStock{{Boards: []string{"A1"}, Cost: 72500, Supply: ptr(int64(1))}, {Yard: 2, Cost: 125000}},
				Leaves: []model.CertLeaf{{Bounds: map[int]model.UseBound{1: {Least: 2}, 0: {Most: ptr(int64(1))}}, Duals: []int64{-5}}, {Duals: []int64{7}, Tree: &model.CertNode{
					Pieces: map[int]int64{0: 2}, Least: 3, Below: &model.CertNode{Duals: []int64{6}, Extra: []int64{-4}},
					From: &model.CertNode{Stock: 1, Least: 1, Below: &model.CertNode{Duals: []int64{5}, Extra: []int64{3, 0}}, From: &model.CertNode{Duals: []int64{0}, Extra: []int64{3, 9}}}}}},
			}}},
		Placements: []model.Placement{{Board: "A1", Pieces: []model.Piece{{Commission: "Bench", Part: "Leg", Copy: 1, From: 0, To: 17 * in}}}, {Board: "Y1", Offer: 2}},
	}
	return job, plan
}

func written(t interface{ Fatal(...any) }, job *model.Job, plan *model.Plan) []byte {
	var b bytes.Buffer
	if err := Write(&b, job, plan); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The whole file is as it stands in testdata: names of the design, money with four decimals, one item a line.
func TestGolden(t *testing.T) {
	got := written(t, ptrTo(sample()), planOf(sample()))
	want, err := os.ReadFile("testdata/plan.json")
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Error(d)
	}
}

func ptrTo(j *model.Job, _ *model.Plan) *model.Job   { return j }
func planOf(_ *model.Job, p *model.Plan) *model.Plan { return p }

// What is written reads back the same, and writes the same bytes.
func TestWriteReadWrite(t *testing.T) {
	job, plan := sample()
	first := written(t, job, plan)
	gotJob, gotPlan, err := Read(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(job, gotJob, cmpopts.EquateEmpty()) + cmp.Diff(plan, gotPlan, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	if second := written(t, gotJob, gotPlan); !bytes.Equal(first, second) {
		t.Error(cmp.Diff(string(first), string(second)))
	}
}

// An empty plan has empty lists, not null, and reads back.
func TestEmptyPlan(t *testing.T) {
	b := written(t, &model.Job{Settings: model.DefaultSettings()}, &model.Plan{Groups: []model.Group{{Proof: model.Unknown, Ended: model.Clock}}})
	for _, list := range []string{"shortages", "placements", "commissions", "parts", "rack", "yard", "inputs", "items", "stocks", "leaves"} {
		if !bytes.Contains(b, []byte(`"`+list+`": []`)) {
			t.Errorf("%s is not an empty list in\n%s", list, b)
		}
	}
	if _, _, err := Read(bytes.NewReader(b)); err != nil {
		t.Error(err)
	}
}

// Every edit that makes the file something that this program would not write is refused, with the line where one is known.
func TestBadPlans(t *testing.T) {
	job, plan := sample()
	good := string(written(t, job, plan))
	for _, c := range []struct{ name, old, new, cause string }{
		{"empty", good, "", "it cannot be read (EOF)"},
		{"cut off", good[len(good)/2:], "", "it cannot be read (unexpected EOF)"},
		{"trailing data", "", "{}", "something follows"},
		{"other format", `"rackwright plan"`, `"plan"`, `the format is "plan"`},
		{"other version", `"version": 1`, `"version": 2`, "version 2 is not known"},
		{"unknown field", `"version": 1`, `"version": 1, "extra": 0`, `unknown field "extra"`},
		{"unknown field below", `"scale": `, `"scales": 1, "scale": `, `unknown field "scales"`},
		{"missing field", `"bound": 123.0001,` + "\n \"shortages\"", `"shortages"`, `field "bound" is missing`},
		{"field twice", `"version": 1`, `"version": 1, "version": 1`, `field "version" stands twice`},
		{"field twice by case", `"version": 1`, `"version": 1, "Version": 1`, `field "Version" stands twice`},
		{"field twice below", `"scale": 1048576`, `"scale": 1048576, "scale": 1`, `field "scale" stands twice`},
		{"wrong kind", `"version": 1`, `"version": "1"`, "version holds a string"},
		{"money of five decimals", "123.4500", "123.45001", "more than four decimals"},
		{"money by exponent", "123.4500", "1e2", "exponent"},
		{"length with a fraction", `"length": 138176`, `"length": 138176.5`, "length holds a number 138176.5"},
		{"unknown face", `"face": "hidden"`, `"face": "hiden"`, "no face"},
		{"bounds of three", "[2, null]", "[2, null, 3]", "no pair of bounds"},
		{"bounds without least", "[2, null]", "[null, null]", "no pair of bounds"},
		{"null in a tree", `"duals": [6]`, `"duals": null`, "a node of a tree is neither"},
		{"unknown field in a tree", `"extra": [-4]`, `"extra": [-4], "sum": 1`, `unknown field "sum"`},
		{"field twice in a tree", `"extra": [-4]`, `"extra": [-4], "extra": [-3]`, `field "extra" stands twice`},
		{"wrong kind in a tree", `"extra": [-4]`, `"extra": [-4.5]`, "a tree of a leaf"},
		{"split of one branch", `"below": {"duals": [6], "extra": [-4]}, `, ``, "a node of a tree is neither"},
		{"split and leaf", `"below": {"duals": [6]`, `"duals": [6], "below": {"duals": [6]`, "a node of a tree is neither"},
		{"split without its stock", `"tree": {"stock": 0, `, `"tree": {`, "a node of a tree is neither"},
		{"leaf with pieces", `"extra": [-4]`, `"extra": [-4], "pieces": {}`, "a node of a tree is neither"},
		{"tree of no kind", `"tree": {"stock": 0, `, `"tree": 5, "x": {`, "a tree of a leaf"},
		{"unknown proof", `"feasible"`, `"surely"`, `proof "surely" is not known`},
		{"unknown end", `"work limit"`, `"lunch"`, `ended "lunch" is not known`},
		{"other currency", `"currency": "USD",` + "\n", `"currency": "EUR",` + "\n", `the currency is "EUR" at the top`},
		{"job that was never read", `"qty": 4`, `"qty": 0`, "0 is not between 1"},
		{"setting out of limits", `"crosscut_kerf": 1016`, `"crosscut_kerf": 9999999`, "wider than any saw's"},
		{"input outside the folder", `"name": "parts.csv"`, `"name": "../parts.csv"`, "no name of a file inside"},
		{"other encoding", "oak & ash", "oak \xe9 ash", "byte E9"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(good, c.old, c.new, 1)
			if c.old == "" {
				text = good + c.new
			}
			if text == good {
				t.Fatal("nothing was edited")
			}
			j, p, err := Read(strings.NewReader(text))
			if err == nil || j != nil || p != nil || !strings.Contains(err.Error(), c.cause) {
				t.Errorf("got %v", err)
			}
		})
	}
	_, _, err := Read(strings.NewReader(strings.Replace(good, `"version": 1,`, `"version": true,`, 1)))
	if all, ok := err.(model.InputErrors); !ok || all[0].Line != 3 {
		t.Errorf("want line 3, got %v", err)
	}
}

// A tree is read to its limits and no deeper.
func TestDepthOfTrees(t *testing.T) {
	for depth, fits := range map[int]bool{200: true, 201: false} {
		leaf := `{"duals": [], "extra": []}`
		text := strings.Repeat(`{"stock": 0, "least": 1, "below": `+leaf+`, "from": `, depth) + leaf + strings.Repeat("}", depth)
		var n model.CertNode
		if err := json.Unmarshal([]byte(text), &n); (err == nil) != fits || err != nil && !strings.Contains(err.Error(), "200 splits deep") {
			t.Errorf("%d: %v", depth, err)
		}
	}
}

// Line breaks and blanks are all that layout changes, whatever stands in the names.
func TestLayoutKeepsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfN(rapid.StringMatching(`[\[\]{},:"\\ a-z]{0,40}`), 0, 40).Draw(t, "names")
		value := map[string]any{"a": names, "b": []any{names, map[string]any{"c": names, "d": []any{}}}, "e": map[string]any{}}
		compact, err := json.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		var back bytes.Buffer
		if err := json.Compact(&back, layout(compact)); err != nil || !bytes.Equal(back.Bytes(), compact) {
			t.Fatalf("%v\n%s\n%s", err, compact, back.Bytes())
		}
	})
}

// Whatever stands in the file, what is taken in is written and read again as the same bytes, and judging it ends; or there are mistakes that
// each name the file and a remedy.
func FuzzRead(f *testing.F) {
	job, plan := sample()
	f.Add(written(f, job, plan))
	f.Add(written(f, &model.Job{Settings: model.DefaultSettings()}, &model.Plan{}))
	f.Add([]byte(`{"format": "rackwright plan", "groups": [{"certificate": {"leaves": [{"bounds": {"x": [1]}}]}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		job, plan, err := Read(bytes.NewReader(data))
		if err != nil {
			for _, e := range err.(model.InputErrors) {
				if e.Cause == "" || e.Remedy == "" || !utf8.ValidString(e.Error()) || strings.ContainsFunc(e.Error(), unicode.IsControl) || e.Line < 0 || e.Line > 1+bytes.Count(data, []byte("\n")) {
					t.Fatalf("%+v", e)
				}
			}
			return
		}
		first := written(t, job, plan)
		model.Check(job, plan)
		model.CheckBounds(job, plan)
		if job, plan, err = Read(bytes.NewReader(first)); err != nil {
			t.Fatalf("%v\n%s", err, first)
		}
		if second := written(t, job, plan); !bytes.Equal(first, second) {
			t.Fatalf("%s\n%s", first, second)
		}
	})
}
