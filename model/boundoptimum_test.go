package model

import (
	"math/rand/v2"
	"testing"
)

// ways gives, for each number of copies of two blanks that a board can give, at least one in all, the most that its
// offcuts are then worth: every layout at single units of length is tried.
func ways(b *bar, items []wanted, kerf Length) map[[2]int64]int64 {
	l := &layouts{bar: b, items: items, kerf: kerf, scale: 1}
	out := map[[2]int64]int64{}
	var rest func(x Length, first bool, n [2]int64, credit int64)
	rest = func(x Length, first bool, n [2]int64, credit int64) {
		from := x + kerf
		if first {
			from = x
		} else if most, known := out[n]; !known || credit+l.credit(x, b.to, true, false) > most {
			out[n] = credit + l.credit(x, b.to, true, false)
		}
		for at := from; at <= b.to; at++ {
			for i, item := range items {
				clear := at+item.length <= b.to && n[i] < item.demand
				for _, s := range b.spots {
					clear = clear && (s.tolerated[item.face] || at+item.length <= s.From || s.To <= at)
				}
				if clear {
					then := n
					then[i]++
					rest(at+item.length, false, then, credit+l.credit(x, at, !first, true))
				}
			}
		}
	}
	rest(b.from, true, [2]int64{}, 0)
	return out
}

// randomJob is a job of two parts, a board or two on the rack and one for sale, in units so small that all plans can be tried.
func randomJob(r *rand.Rand) *Job {
	wood := func(l Length) Wood { return Wood{Material: "oak", Section: "4/4", Length: l, Width: 9, Thickness: 9} }
	job := &Job{Settings: Settings{
		CrosscutKerf: Length(r.IntN(3)), YardEnd: Length(r.IntN(3)), RackEnd: Length(r.IntN(2)), Handling: Money(r.IntN(4)), Margin: Length(r.IntN(2)),
		Offcut: OffcutRule{KeepLength: Length(r.IntN(5)), Value: pick(r, Fraction{1, 2}, Fraction{1, 1}, Fraction{2, 7})},
		Sound:  []string{"knot"}, Hidden: []string{"knot", "check"},
	}}
	for _, name := range []string{"a", "b"} {
		job.Parts = append(job.Parts, Part{Name: name, Qty: 1 + r.Int64N(2), Material: "oak", Length: 3 + Length(r.IntN(7)), Width: 9, Thickness: 9, Face: Face(r.IntN(Faces))})
	}
	for i := range 1 + r.IntN(2) {
		b := Board{ID: string(rune('A' + i)), Wood: wood(8 + Length(r.IntN(14)))}
		if r.IntN(2) == 0 {
			b.Value = money(Money(r.IntN(40)))
		}
		for range r.IntN(3) {
			from := Length(r.IntN(int(b.Length)))
			b.Defects = append(b.Defects, Defect{From: from, To: min(b.Length, from+1+Length(r.IntN(3))), Kind: pick(r, "knot", "check", "hole")})
		}
		job.Rack = append(job.Rack, b)
	}
	some := 1 + r.Int64N(2)
	job.Yard = []Offer{{Wood: wood(14 + Length(r.IntN(8))), Price: 10 + Money(r.IntN(40)), Available: &some, Where: Where{"yard.csv", 2}}}
	return job
}

// In no leaf is the bound above the cheapest of all plans that use as many boards as the leaf allows.
func TestLeafBoundIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	judged, tight := 0, 0
	for n := range 1500 {
		job := randomJob(r)
		p := newProof(newChecker(job, &Plan{}))
		scale := pick(r, int64(1), 7, 100)
		cert := &Certificate{Scale: scale, Leaves: []CertLeaf{{}}}
		var stocks []stock
		var bounds []within
		for w := range p.owner {
			s := stock{bar: p.barOf(w), supply: 1, woods: []int{w}}
			if w == len(job.Rack) {
				s.supply = *job.Yard[0].Available
			}
			stocks = append(stocks, s)
			if r.IntN(2) == 0 {
				least := r.Int64N(s.supply + 1)
				bounds = append(bounds, within{w, least, least + r.Int64N(s.supply-least+1)})
			}
		}
		items := make([][]int, len(stocks))
		for i := range job.Parts {
			part := &job.Parts[i]
			cert.Items = append(cert.Items, CertItem{Length: job.BlankLength(part), Face: part.Face, Demand: part.Qty})
			cert.Leaves[0].Duals = append(cert.Leaves[0].Duals, r.Int64N(scale*20))
			for w := range p.owner {
				if p.heldBy(part)[w/8]>>(w%8)&1 == 1 {
					items[w] = append(items[w], i)
				}
			}
		}
		want, some := optimum(job, stocks, items, bounds, cert.Items)
		if !some {
			continue
		}
		judged++
		got := p.leafBound("leaf", cert, 0, stocks, items, bounds)
		if got == nil || !got.IsInt64() {
			t.Fatalf("job %d: no bound: %v", n, p.found)
		}
		if got.Int64() > want*scale {
			t.Fatalf("job %d: the bound is %v / %d, yet a plan costs %d: %+v, leaf %v, duals %v", n, got, scale, want, job, bounds, cert.Leaves[0].Duals)
		}
		if got.Int64() > (want-3)*scale {
			tight++
		}
	}
	if judged < 300 || tight < 30 {
		t.Errorf("of %d jobs with a plan only %d bounds came near: too few to trust", judged, tight)
	}
}

// optimum is the least cost of boards that give exactly the copies wanted, within the bounds; false where none do.
func optimum(job *Job, stocks []stock, items [][]int, bounds []within, wants []CertItem) (int64, bool) {
	least := map[[2]int64]int64{{}: 0}
	for s := range stocks {
		var held []wanted
		for i, item := range wants {
			demand := int64(0)
			for _, k := range items[s] {
				if k == i {
					demand = item.Demand
				}
			}
			held = append(held, wanted{item.Length, item.Face, 0, demand})
		}
		by := ways(&stocks[s].bar, held, job.Settings.CrosscutKerf)
		from, to := int64(0), stocks[s].supply
		for _, b := range bounds {
			if b.stock == s {
				from, to = b.least, b.most
			}
		}
		next := map[[2]int64]int64{}
		for z, now := int64(0), least; z <= to; z++ {
			if z >= from {
				for n, cost := range now {
					if most, known := next[n]; !known || cost < most {
						next[n] = cost
					}
				}
			}
			more := map[[2]int64]int64{}
			for n, cost := range now {
				for a, credit := range by {
					sum := [2]int64{n[0] + a[0], n[1] + a[1]}
					v := cost + int64(stocks[s].cost) - credit
					if most, known := more[sum]; sum[0] <= wants[0].Demand && sum[1] <= wants[1].Demand && (!known || v < most) {
						more[sum] = v
					}
				}
			}
			now = more
		}
		least = next
	}
	v, some := least[[2]int64{wants[0].Demand, wants[1].Demand}]
	return v, some
}
