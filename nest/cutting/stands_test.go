package cutting

import (
	"math/rand/v2"
	"testing"
)

// What is left of a pattern that stands, and what it is when it is laid out anew, stands too: in
// its normal form, with nothing ripped that is too short or too narrow, and with the worth that it
// says.
func TestWhatIsMovedStands(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 1))
	n := func(most int64) int64 { return r.Int64N(most + 1) }
	tried, unripped := 0, 0
	for range 40000 {
		p, pat := randomRipped(r)
		s := &p.Stocks[0]
		s.Across.ShortestRip, s.Across.Narrowest, s.Across.Inset = n(8), n(3), n(1)
		p.RipCost = n(2)
		s.Holds = nil
		for i := range p.Items {
			s.Holds = append(s.Holds, i)
			for k := range s.Spots {
				s.Spots[k].Weak = r.IntN(3) == 0
			}
		}
		if pat = p.Normal(pat); !p.Stands(&pat) {
			continue
		}
		tried++
		pat.Worth = p.Worth(&pat)
		if got := p.Layout(pat); !p.Stands(&got) || got.Worth != p.Worth(&got) ||
			got.Worth < pat.Worth {
			t.Fatalf("%+v is laid out as %+v on %+v, %+v", pat, got, *s, *s.Across)
		}
		for at := range pat.Places {
			got := p.Drop(&pat, at)
			if len(got.Places) > 0 && !p.Stands(&got) || got.Worth != p.Worth(&got) {
				t.Fatalf("%+v without its %dth is %+v on %+v, %+v", pat, at, got, *s, *s.Across)
			}
			if got.First == CrosscutFirst && len(got.Places) < len(pat.Places) {
				unripped++
			}
		}
	}
	if tried < 2000 || unripped < 1000 {
		t.Errorf("%d patterns stand, of %d some went: too few to tell", tried, unripped)
	}
}

// A pattern does not stand where a defect came under a piece or a rip, where the stock became
// shorter or narrower, or where it is told otherwise than in its normal form.
func TestStands(t *testing.T) {
	made := func() (*Problem, Pattern) {
		p := &Problem{Kerf: 2, Rip: 1,
			Items: []Item{{Size: 20, Width: 5, Demand: 2}, {Size: 10, Width: 5, Demand: 1}},
			Stocks: []Stock{{To: 60, Holds: []int{0, 1},
				Across: &Across{Width: 20, Trim: true, Keep: 30, ShortestRip: 8}}}}
		return p, Pattern{Places: []Place{{0, 0, 0, 5}, {1, 0, 6, 11}, {0, 22, 0, 20}}}
	}
	p, pat := made()
	if !p.Stands(&pat) {
		t.Fatal("it does not stand as it is")
	}
	for what, spoil := range map[string]func(p *Problem, t *Pattern){
		"not held":            func(p *Problem, _ *Pattern) { p.Stocks[0].Holds = []int{0} },
		"shorter":             func(p *Problem, _ *Pattern) { p.Stocks[0].To = 41 },
		"narrower":            func(p *Problem, _ *Pattern) { p.Stocks[0].Across.Width = 19 },
		"no third cut":        func(p *Problem, _ *Pattern) { p.Stocks[0].Across.Trim = false },
		"too short to rip":    func(p *Problem, _ *Pattern) { p.Stocks[0].Across.ShortestRip = 21 },
		"too narrow":          func(p *Problem, _ *Pattern) { p.Stocks[0].Across.Narrowest = 6 },
		"rounded edge":        func(p *Problem, _ *Pattern) { p.Stocks[0].Across.Inset = 1 },
		"wider kerf":          func(p *Problem, _ *Pattern) { p.Kerf = 3 },
		"wider rip":           func(p *Problem, _ *Pattern) { p.Rip = 2 },
		"never sawn":          func(p *Problem, _ *Pattern) { p.Stocks[0].Across.Whole = []int{1} },
		"other width":         func(p *Problem, _ *Pattern) { p.Items[1].Width = 4 },
		"sawn with no reason": func(_ *Problem, t *Pattern) { t.Places[2].Right = 5 },
		"span of no rip":      func(_ *Problem, t *Pattern) { t.Ripped = Span{0, 40} },
		"a knot": func(p *Problem, _ *Pattern) {
			p.Stocks[0].Spots = []Spot{{From: 30, To: 31, Left: 15, Right: 16}}
		},
		"a split under a rip": func(p *Problem, _ *Pattern) {
			p.Stocks[0].Spots = []Spot{{From: 5, To: 8, Left: 5, Right: 6, Weak: true}}
		},
		"trimmed in the middle": func(_ *Problem, t *Pattern) { t.Places[1].At = 5 },
	} {
		p, pat := made()
		if spoil(p, &pat); p.Stands(&pat) {
			t.Errorf("%s: it stands", what)
		}
	}
	q := &Problem{Kerf: 2, Items: []Item{{Size: 20}}, Stocks: []Stock{{To: 42, Holds: []int{0}}}}
	for _, c := range []struct {
		places []Place
		stands bool
	}{{[]Place{{Item: 0}, {Item: 0, At: 22}}, true}, {[]Place{{Item: 0}, {Item: 0, At: 21}}, false},
		{[]Place{{Item: 0, At: 23}}, false}} {
		if got := q.Stands(&Pattern{Places: c.places}); got != c.stands {
			t.Errorf("%v: %v", c.places, got)
		}
	}
}
