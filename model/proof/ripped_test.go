package proof

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/internal/handmade"
)

func TestBoundsAcceptsAProofWithRips(t *testing.T) {
	for _, f := range bounds(handmade.Slats()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// The bound comes down by what two boards of the rack could give beyond their cost of 700. Each is
// worth 50/7 a cell, as it keeps 5 x 16 + 2 x (1 + 8) = 98 of them; a strip 3/5 of that. A dearest
// board of 1400 takes 11 bits, so here there are 35.
func TestTheRackBoardOfAProofWithRips(t *testing.T) {
	const bits = 35
	job, plan := handmade.Slats()
	for i := range job.Rack {
		job.Rack[i].Value = new(model.Money(700))
	}
	whole := int64(50<<bits) / 7
	strip := whole * 3 / 5
	if slope := job.Valuation().SlopeOfBoard(&job.Rack[0]); slope != (model.Slope{Whole: whole,
		Strip: strip}) {
		t.Fatalf("slope %v", slope)
	}
	// The best is one slat at [4,7] with [0,3] left: two lines of 1 + 8, one of 16. Or the slat at
	// [2,5], clear of the knot, which leaves [0,1], too narrow, and [6,7]. So it is 700 + 34 x 30/7
	// = 845.71, and the bound 1400 - 2 x 145.71 = 1108.57.
	best := int64(700<<bits) + 34*strip
	cert := &plan.Groups[0].Certificate
	cert.Bits, cert.Stocks[0].Cost, cert.Stocks[1].Cost = bits, 700<<bits, 1400<<bits
	cert.Root.Duals[0] = 700 << bits
	want := model.Money((1400<<bits + 2*(700<<bits-best)) >> bits)
	if want != 1108 {
		t.Errorf("%v is not what it is by hand", want)
	}
	plan.Groups[0].Bound, plan.Bound, plan.Groups[0].Proof = want, want, model.Feasible
	for _, f := range bounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// dearSlats is the job of slats where a rip over the whole of a board costs 100. The one between
// the two slats is shared, so the plan costs 1500. At 750 each the board gives 2 x 750 - 100 =
// 1400, what it costs. One slat with the rest of the width gives 750 + 144 - 100, a plain length
// 750.
func dearSlats() (*model.Job, *model.Plan) {
	job, plan := handmade.Slats()
	job.Settings.Ripping = 100 / 20 * 12 * model.UnitsPerInch // a foot
	g := &plan.Groups[0]
	g.Certificate.Root.Duals[0] = handmade.SlatsTicks(750)
	g.Value, g.Bound, plan.Value, plan.Bound = 1500, 1500, 1500, 1500
	return job, plan
}

func TestBoundsKnowWhatRipsCost(t *testing.T) {
	for _, f := range bounds(dearSlats()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	leaf := func(p *model.Plan) *model.CertNode { return &p.Groups[0].Certificate.Root }
	for _, s := range []handmade.Spoilt{
		{What: "dual that goes with rips for nothing", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Duals[0] = handmade.SlatsTicks(700)
		}, Want: "the certificate proves 0.14"},
		// 3 x (2 x 800 - 100 - 1400) less than 1600
		{What: "dual too high", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Duals[0] = handmade.SlatsTicks(800)
		}, Want: "the certificate proves 0.13"},
		{What: "rips for less", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Ripping /= 2 // 1500 - 3 x 50
		}, Want: "the certificate proves 0.135"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := dearSlats()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

// A board of the rack has a defect of 3 x 4 in one corner and is worth 700. It keeps 3 x 16 + 4 x
// (1 + 8) = 84 cells, each worth 25/3, or 5 in a strip. It can give a slat at [4,7], with [0,3]
// left: 3 lines of 1 + 8, so 700 + 135 = 835, and two boards twice 135 more than they cost. Where
// the defect is weak the rip at [3,4] runs into it, and no slat can be had. A board with a weak
// defect is not like one with any other.
func TestBoundsKnowWeakDefects(t *testing.T) {
	const bits = 35 // as the dearest board is 1400
	made := func(weak ...string) (*model.Job, *model.Plan) {
		job, plan := handmade.Slats()
		for i := range job.Rack {
			job.Rack[i].Value, job.Rack[i].Defects[0].Right = new(model.Money(700)), 4
			job.Rack[i].Defects[0].Kind = "split"
		}
		job.Settings.Weak = weak
		cert := &plan.Groups[0].Certificate
		cert.Bits, cert.Stocks[0].Cost, cert.Stocks[1].Cost = bits, 700<<bits, 1400<<bits
		cert.Root.Duals[0] = 700 << bits
		return job, plan
	}
	for _, f := range bounds(made("split")) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	job, plan := made("shake")
	handmade.Want(t, bounds(job, plan), "the certificate proves 0.113")
	job, plan = made("split")
	job.Rack[1].Defects[0].Kind = "hole"
	handmade.Want(t, bounds(job, plan), "board R1 and board R2 are not alike")
	job, plan = made()
	job.Rack[1].Defects[0].Kind = "hole"
	if found := bounds(job, plan); slices.ContainsFunc(found, func(f model.Finding) bool {
		return strings.Contains(f.What, "not alike")
	}) {
		t.Errorf("boards of which nothing is weak: %v", found)
	}
}

func TestBoundsRefusesWithRips(t *testing.T) {
	item := func(p *model.Plan) *model.CertItem { return &p.Groups[0].Certificate.Items[0] }
	leaf := func(p *model.Plan) *model.CertNode { return &p.Groups[0].Certificate.Root }
	for _, s := range []handmade.Spoilt{
		{What: "width", Spoil: func(j *model.Job, p *model.Plan) {
			item(p).Width++
		}, Want: "no blank of"},
		{What: "width below 0", Spoil: func(j *model.Job, p *model.Plan) {
			item(p).Width = -3
		}, Want: "no blank of"},
		{What: "no width", Spoil: func(j *model.Job, p *model.Plan) {
			item(p).Width = 0
		}, Want: "has no width, but one of its stocks can be ripped"},
		{What: "a width where nothing can be ripped", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.ShortestRip = 21
			j.Rack = j.Rack[:0]
			p.Groups[0].Certificate.Stocks, item(p).Stocks = p.Groups[0].Certificate.Stocks[1:],
				[]int{0}
		}, Want: "none of its stocks can be ripped"},
		{What: "demand", Spoil: func(j *model.Job, p *model.Plan) {
			item(p).Demand++
		}, Want: "3 blanks of"},
		{What: "dual higher", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Duals[0] += handmade.SlatsTicks(1)
		}, Want: "the certificate proves 0.1396"},
		{What: "dual lower", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Duals[0] -= handmade.SlatsTicks(1)
		}, Want: "the certificate proves 0.1398"},
		{What: "dual too large", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Duals[0] = 1 << 60
		}, Want: "too large to reckon with"},
		{What: "bits", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Bits++
		}, Want: "its certificate reckons in 2^-35 of money; this job does so in 2^-34"},
		{What: "bound higher", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound++
			p.Bound++
		}, Want: "the certificate proves 0.14"},
		{What: "bound lower", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound--
			p.Bound--
		}, Want: "the certificate proves 0.14"},
		{What: "a list of a board bounded by its area", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Stocks[1].Rough = true
			leaf(p).List = &model.CertList{Target: handmade.SlatsTicks(1400),
				CertListNode: model.CertListNode{Duals: []int64{handmade.SlatsTicks(700)}}}
		}, Want: "is bounded by its area alone; lists are for groups without"},
		{What: "boards not alike across", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[1].Defects[0].Left++
		}, Want: "board R1 and board R2 are not alike"},
		{What: "slats too narrow to rip off", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Safety.NarrowestRip = 4
			j.Rack = j.Rack[:0]
			p.Groups[0].Certificate.Stocks, item(p).Stocks = p.Groups[0].Certificate.Stocks[1:],
				[]int{0}
		}, Want: "none of its stocks can be ripped"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := handmade.Slats()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

// A wood can be ripped by all parts that it holds, however many; and that is soon found for 400
// parts and 250 woods.
func TestWhichWoodsCanBeRipped(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	job := &model.Job{Settings: model.DefaultSettings()}
	job.Settings.Safety.NarrowestRip = 2 * model.UnitsPerInch
	length := func(lo, hi int) model.Length {
		return model.Length(lo+r.IntN(hi-lo)) * model.UnitsPerInch / 2
	}
	for i := range 400 {
		job.Parts = append(job.Parts,
			model.Part{Commission: "a", Name: fmt.Sprint(i), Qty: 1, Material: "oak",
				Length: length(20, 140), Width: length(2, 15), Thickness: model.UnitsPerInch / 2,
				Face: model.Face(r.IntN(model.Faces))})
	}
	for i := range 250 {
		b := model.Board{ID: fmt.Sprint(i),
			Wood: model.Wood{Material: "oak", Section: "4/4", Length: length(18, 160),
				Width: length(4, 16), Thickness: model.UnitsPerInch * 3 / 4},
			Untouched: r.IntN(9) == 0}
		if r.IntN(4) == 0 {
			b.Defects = []model.Defect{
				{From: 2 * model.UnitsPerInch, To: 3 * model.UnitsPerInch, Left: 0,
					Right: model.UnitsPerInch, Kind: "knot"}}
		}
		job.Rack = append(job.Rack, b)
	}
	reading := &check.Reading{Job: job, Plan: &model.Plan{}, Worth: job.Valuation()}
	start := time.Now()
	p := newProof(t.Context(), NewProver(job), reading)
	took := time.Since(start)
	yes := 0
	for w := range job.Rack {
		var parts []*model.Part
		for i := range job.Parts {
			if ok, _ := job.Holds(&job.Parts[i], &job.Rack[w], model.FromRack); ok {
				parts = append(parts, &job.Parts[i])
			}
		}
		want := job.Rippable(&job.Rack[w], model.FromRack, parts)
		if p.rippable[w] != want {
			t.Errorf("board %d: can be ripped: %v, want %v", w, p.rippable[w], want)
		}
		if want {
			yes++
		}
	}
	if yes < 50 || yes > 240 {
		t.Errorf("%d of 250 can be ripped: no test", yes)
	}
	for _, d := range p.inOrder {
		some := false
		for _, w := range woodsIn(d.held) {
			some = some || p.rippable[w]
		}
		if part := &job.Parts[d.part]; some && d.width != part.Width || !some && d.width != 0 {
			t.Errorf("part %s has the width %d", part.Name, d.width)
		}
	}
	t.Logf("took %v", took)
	if took > 5*time.Second {
		t.Errorf("took %v", took)
	}
}

// Whatever single value of a certificate with rips is changed, and whatever is dropped or doubled,
// it is refused.
func TestNoValueOfACertificateWithRipsIsLeftUnjudged(t *testing.T) {
	_, plan := handmade.Slats()
	seen := 0
	handmade.EachValue(reflect.ValueOf(plan).Elem(), "", func(path string, v reflect.Value) {
		if !strings.HasPrefix(path, ".Groups[0]") {
			return
		}
		var changes []func(v reflect.Value)
		switch v.Kind() {
		case reflect.Slice:
			if v.Len() == 0 {
				return
			}
			changes = append(changes, func(v reflect.Value) { v.Set(v.Slice(0, v.Len()-1)) })
			changes = append(changes, func(v reflect.Value) {
				v.Set(reflect.Append(v.Slice(0, v.Len()), v.Index(0)))
			})
		case reflect.Pointer:
			if v.IsNil() {
				return
			}
			changes = append(changes, func(v reflect.Value) { v.SetZero() })
		case reflect.String:
			changes = append(changes, func(v reflect.Value) { v.SetString(v.String() + "x") })
		case reflect.Uint:
			changes = append(changes, func(v reflect.Value) {
				v.SetUint(v.Uint() + 1)
			}, func(v reflect.Value) { v.SetUint(v.Uint() - 1) })
		case reflect.Bool:
			changes = append(changes, func(v reflect.Value) { v.SetBool(!v.Bool()) })
		default:
			one := int64(1)
			if strings.Contains(path, ".Duals[") { // a tick more or less proves the same money
				one = handmade.SlatsTicks(1)
			}
			changes = append(changes, func(v reflect.Value) {
				v.SetInt(v.Int() + one)
			}, func(v reflect.Value) { v.SetInt(v.Int() - one) })
		}
		for n, change := range changes {
			job, plan := handmade.Slats()
			handmade.EachValue(reflect.ValueOf(plan).Elem(), "",
				func(p string, other reflect.Value) {
					if p == path && other.Kind() == v.Kind() {
						change(other)
					}
				})
			// two slats take all of the board by area (rough_test.go)
			same := path == ".Groups[0].Certificate.Stocks[1].Rough"
			if seen++; len(bounds(job, plan)) == 0 && path != ".Groups[0].Name" && !same {
				t.Errorf("change %d of %s: the plan is accepted", n, path)
			}
		}
	})
	if seen < 40 {
		t.Errorf("only %d values were tried", seen)
	}
}

// Any certificate is judged, however it is spoilt: nothing panics or hangs.
func TestAnyCertificateWithRipsIsJudged(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 54))
	for range 3000 {
		job, plan := handmade.Slats()
		if r.IntN(3) == 0 {
			job.Settings.TrimmingCut, job.Parts[0].Length = false, model.Length(r.IntN(20))
			plan.Groups[0].Certificate.Items[0].Length = job.Parts[0].Length
		}
		if r.IntN(3) == 0 {
			job.Parts[0].Width = model.Length(r.IntN(9))
			plan.Groups[0].Certificate.Items[0].Width = job.Parts[0].Width
		}
		job.Settings.Ripping = handmade.Pick(r, 0, 1, model.DearestRip)
		job.Settings.Weak = handmade.Pick(r, nil, []string{"knot"})
		share := handmade.Pick(r, 3, 10, 40)
		handmade.EachValue(reflect.ValueOf(plan).Elem(), "", func(path string, v reflect.Value) {
			if r.IntN(share) > 0 || !strings.HasPrefix(path, ".Groups[0]") {
				return
			}
			switch v.Kind() {
			case reflect.Slice:
				if v.Len() > 0 {
					v.Set(reflect.Append(v.Slice(0, v.Len()), v.Index(r.IntN(v.Len()))))
				}
			case reflect.Pointer:
				v.SetZero()
			case reflect.String:
				v.SetString(handmade.Pick(r, "", "R1", "R2", "B1", "optimal"))
			case reflect.Uint:
				v.SetUint(handmade.Pick(r, uint64(0), 1, 33, 64, math.MaxUint))
			case reflect.Bool:
				v.SetBool(!v.Bool())
			default:
				if n := handmade.Pick(r, int64(0), 1, -1, 2, 7, 20, 1<<31, 1<<40, 1<<62+1,
					math.MaxInt64,
					math.MinInt64); !v.OverflowInt(n) {
					v.SetInt(n)
				}
			}
		})
		bounds(job, plan)
	}
}

// A board that can be ripped is like none that cannot, and boards of unlike costs are not alike.
func TestBoardsAlike(t *testing.T) {
	job, _ := handmade.Slats()
	p := newProof(t.Context(), NewProver(job),
		&check.Reading{Job: job, Plan: &model.Plan{}, Worth: job.Valuation()})
	first, dear := p.look(0), p.look(0)
	if same := p.look(0); !first.equal(&same) {
		t.Error("a board is not like itself")
	}
	p.rippable[0] = false
	if plain := p.look(0); first.equal(&plain) || plain.equal(&first) {
		t.Error("a board that can be ripped is like one that cannot")
	}
	if dear.cost++; first.equal(&dear) {
		t.Error("boards of two costs are alike")
	}
}
