package cutstock

import (
	"context"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
)

// eightFeet is a program of boards of 8 ft for sale, and of some on hand with defects, in units of
// 1/320 mm. Sizes are multiples of a measure.
func eightFeet(rng *rand.Rand, measure int64) *cutting.Problem {
	const in = 8128
	p := &cutting.Problem{Kerf: 896, Rip: 768} // 2.8 and 2.4 mm
	any := cutting.Stock{To: 96 * in, Cost: 96 * in * 100, Supply: cutting.Any, Slope: 40,
		Keep: 12 * in}
	for i := range 20 {
		p.Items = append(p.Items, cutting.Item{
			Size:  (10*in + rng.Int64N(40*in)) / measure * measure,
			Class: rng.IntN(cutting.Classes), Demand: 2 + rng.Int64N(6)})
		any.Holds = append(any.Holds, i)
	}
	for range 6 {
		one := any
		one.Supply, one.Cost = 1, any.Cost/2
		at := 10*in + rng.Int64N(70*in)
		one.Spots = []cutting.Spot{{From: at, To: at + in, Tolerated: [3]bool{2: true}}}
		p.Stocks = append(p.Stocks, one)
	}
	p.Stocks = append(p.Stocks, any)
	return p
}

// On boards of 8 ft a grid of 1/64 in takes at most 0.05 % off the bound, where sizes are in
// sixteenths of an inch and the kerf is in millimetres. With sizes in any measure it is so on
// average: a piece loses half a step.
func TestGridOf64thsTakesLittle(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 3))
	var sum float64
	const programs = 12
	for n := range programs {
		measure, atMost := int64(508), 0.0005
		if n%2 == 1 {
			measure, atMost = 1, 0.002
		}
		p := eightFeet(rng, measure)
		k := newSolver(context.Background(), p, Options{Work: 4e8})
		root := newMaster(p, k.costs, &k.pool)
		at, _ := k.generate(root)
		proof, ok := k.prove(root, at)
		exact := proof.bound
		if !ok || exact <= 0 {
			t.Fatalf("program %d: no bound", n)
		}
		for s := range k.bounds {
			k.bounds[s].inexact = true
		}
		k.lists = false
		k.relaxOnGrids(root)
		for s := range k.bounds {
			g := k.gridOf(s)
			if g.Along != 127 || k.cert.Grids != nil && k.cert.Grids[s] != g {
				t.Fatalf("program %d: stock %d is on a grid of %d", n, s, g.Along)
			}
		}
		lost := float64(exact-k.bound) / float64(exact)
		t.Logf("program %d, sizes of %d: %.4f %% lost", n, measure, lost*100)
		if lost < 0 || lost > atMost {
			t.Errorf("program %d, sizes of %d: bound %d, on a grid %d", n, measure, exact, k.bound)
		}
		if measure == 1 {
			sum += lost
		}
	}
	if mean := sum / (programs / 2); mean > 0.0005 {
		t.Errorf("with sizes in any measure %.4f %% are lost in the mean", mean*100)
	}
}
