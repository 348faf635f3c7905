package lp

import (
	"fmt"
	"math"
	"testing"
	"time"
)

func TestStress(t *testing.T) {
	bad := 0
	for seed := 10000; seed < 22000; seed++ {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := source(seed)
			m, n := 1+r.IntN(60), 1+r.IntN(120)
			density := []float64{0.05, 0.1, 0.3, 1}[r.IntN(4)]
			spread := []float64{0, 0, 2, 4, 6}[r.IntN(5)]
			g := general(r, m, n, density, spread, r.IntN(4) > 0)
			p := g.build()
			t0 := time.Now()
			s := g.judge(t, p)
			if d := time.Since(t0); d > 100*time.Millisecond {
				t.Errorf("slow %v %v m %d n %d it %d", d, s, m, n, p.iterations)
			}
		})
		if t.Failed() {
			bad++
		}
	}
}
func TestStressBox(t *testing.T) {
	for seed := 50000; seed < 53000; seed++ {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := source(seed)
			m, n := 1+r.IntN(60), 1+r.IntN(200)
			g := general(r, m, n, []float64{0.05, 0.1, 0.3, 1}[r.IntN(4)], []float64{0, 0, 2, 4}[r.IntN(4)], true)
			for j := range g.cols {
				g.lo[j], g.hi[j] = math.Max(g.lo[j], -60), math.Min(g.hi[j], 60)
			}
			p := g.build()
			t0 := time.Now()
			s := g.judge(t, p)
			if d := time.Since(t0); d > 100*time.Millisecond {
				t.Errorf("slow %v %v m %d n %d it %d", d, s, m, n, p.iterations)
			}
		})
	}
}
func TestStressCut(t *testing.T) {
	for seed := 70000; seed < 70040; seed++ {
		r := source(seed)
		g := cutting(r, 50+r.IntN(150), r.IntN(500), 500+r.IntN(3000))
		p := g.build()
		if s := g.judge(t, p); s != Optimal {
			t.Fatal(s)
		}
		if p.iterations > 4000 {
			t.Log(seed, p.m, p.n, p.iterations)
		}
	}
}
func TestStressWarm(t *testing.T) {
	for seed := 80000; seed < 80100; seed++ {
		r := source(seed)
		items, stocks := 20+r.IntN(60), 20+r.IntN(200)
		g := cutting(r, items, stocks, 1000)
		p := g.build()
		p.Solve()
		most := 0
		for step := 0; step < 60; step++ {
			g.change(r, p, true, items, stocks)
			g.judge(t, p)
			most = max(most, p.iterations)
		}
		if most > 500 {
			t.Log(seed, most, p.m)
		}
	}
}
