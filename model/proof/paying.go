package proof

import (
	"math/big"
	"math/bits"
	"slices"

	"rackwright/model"
)

// What a leaf proves where parts are made up. Over the numbers of doc.go:
//
//	D        copies of a want
//	F        what one costs that is not made; none where all have to be
//	k, g     a way takes k pieces of an item and gives g copies
//	lo, hi   how often it is used, at least and at most, as the choices above the leaf leave it;
//	         0 and any number at the root
//	kappa    k pi of its item. Of a cover, which gives one copy: its layers times the least sum of
//	         pi over staves whose steps come to its need
//
//	W        = sum of lo kappa, and what (D - sum of lo g) more copies cost at least: each way
//	         gives up to (hi - lo) g, at kappa / g each; any number may be left out at F each.
//	         Reckoned with parts of copies, and rounded up to a whole tick.
//
//	bound    = sum over items of pi d + sum over wants of W + sum over stocks, as ever
//
// Why: a plan cuts d copies of an item and k more for each use of a way. So its pieces are worth at
// least pi d and kappa for each use. To the uses of all ways, which give D copies with what is left
// out, W is a relaxation: those dearer for a copy are not used before the cheaper are used up. What
// a plan pays is whole ticks, so W may be rounded up.
//
// The boards of a plan give no item more often than it is wanted, and what they give is worked out
// within that (package along). That is d, and for each way k times as often as it can be used, D /
// g rounded up; for a stave its layers times D times need / steps, rounded up. Package check sees
// to it that no way has more uses; a cover of more staves than suffice is no cheaper than without
// them.

// asWanted is the certificate with items that are wanted as often as plans within the limits may
// cut them: just as often where that is settled.
func (t *treeProof) asWanted(limits []useRange) *model.Certificate {
	if len(t.cert.Wants) == 0 {
		return t.cert
	}
	out, settled := *t.cert, t.settled(limits)
	out.Items = slices.Clone(out.Items)
	for j, ranges := range t.rangesOf(limits) {
		w := &t.cert.Wants[j]
		for n, v := range w.Ways {
			times := (w.Demand + v.Copies - 1) / v.Copies
			if settled {
				times = ranges[n].least
			}
			out.Items[v.Item].Demand += times * v.Pieces
		}
		for _, v := range w.Covers {
			for _, s := range v.Staves {
				if !settled {
					most := (v.Need + s.Steps - 1) / s.Steps
					out.Items[s.Item].Demand += most * v.Layers * w.Demand
				}
			}
		}
	}
	return &out
}

// pays is what the pieces of all plans within the limits are worth at least, at the duals; nil
// where that cannot be reckoned, which it then says. cert is the one with what is wanted there.
func (t *treeProof) pays(cert *model.Certificate, duals []int64, limits []useRange,
	where string) *big.Int {
	sum, settled := new(big.Int), t.settled(limits)
	if !settled {
		cert = t.cert
	}
	addDemands(sum, cert, duals)
	if settled {
		return sum
	}
	for j, ranges := range t.rangesOf(limits) {
		w := &t.cert.Wants[j]
		kappas, why := t.kappas(w, duals)
		if why != "" {
			t.say(where, "%s for want %d", why, j)
			return nil
		}
		sum.Add(sum, leastCost(w, ranges, kappas))
	}
	return sum
}

// addDemands adds what all pieces wanted are worth, at the duals.
func addDemands(sum *big.Int, cert *model.Certificate, duals []int64) {
	for i, d := range duals {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(d), big.NewInt(cert.Items[i].Demand)))
	}
}

// kappas are what the ways of a want cost for each use, at the duals, then its covers.
func (t *treeProof) kappas(w *model.CertWant, duals []int64) (out []*big.Int, why string) {
	for _, v := range w.Ways {
		k := big.NewInt(v.Pieces)
		out = append(out, k.Mul(k, big.NewInt(duals[v.Item])))
	}
	for n := range w.Covers {
		v := &w.Covers[n]
		if t.steps -= (v.Need + 1) * int64(len(v.Staves)); t.steps < 0 {
			return nil, "its covers take too long"
		}
		sum, ok := cheapestCover(v, duals)
		if !ok {
			return nil, "the duals are too large to reckon with covers"
		}
		k := big.NewInt(v.Layers)
		out = append(out, k.Mul(k, big.NewInt(sum)))
	}
	return out, ""
}

// cheapestCover is the least that staves of one layer cost which come to the need:
//
//	least(0) = 0;  least(r) = the least over the staves of  pi + least(max(0, r - steps))
//
// It is false where the sums may be too large.
func cheapestCover(v *model.CertCover, duals []int64) (int64, bool) {
	most := int64(0)
	for _, s := range v.Staves {
		most = max(most, duals[s.Item])
	}
	if bits.Len64(uint64(most))+bits.Len64(uint64(v.Need)) > 62 {
		return 0, false
	}
	least := make([]int64, v.Need+1)
	for r := int64(1); r <= v.Need; r++ {
		for n, s := range v.Staves {
			if c := duals[s.Item] + least[max(0, r-s.Steps)]; n == 0 || c < least[r] {
				least[r] = c
			}
		}
	}
	return least[v.Need], true
}

// leastCost is W of a want. Its ranges leave enough copies.
func leastCost(w *model.CertWant, ranges []useRange, kappas []*big.Int) *big.Int {
	sum, need := new(big.Int), w.Demand
	type more struct {
		cost         *big.Int // of a use
		copies, uses int64
	}
	var all []more
	for n, r := range ranges {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(r.least), kappas[n]))
		need -= r.least * copiesOf(w, n)
		uses := r.most
		if uses != unlimited {
			uses -= r.least
		}
		all = append(all, more{kappas[n], copiesOf(w, n), uses})
	}
	if w.Forgo != nil {
		all = append(all, more{big.NewInt(*w.Forgo), 1, unlimited})
	}
	slices.SortStableFunc(all, func(a, b more) int {
		return new(big.Int).Mul(a.cost, big.NewInt(b.copies)).Cmp(
			new(big.Int).Mul(b.cost, big.NewInt(a.copies)))
	})
	for _, m := range all {
		if need <= 0 {
			break
		}
		n := min(need, min(need, m.uses)*m.copies)
		cost := new(big.Int).Mul(m.cost, big.NewInt(n)) // of the last way alone there may be a part
		cost.Add(cost, big.NewInt(m.copies-1))
		sum.Add(sum, cost.Quo(cost, big.NewInt(m.copies)))
		need -= n
	}
	return sum
}

// forgone is what the copies cost that settled ranges leave out.
func (t *treeProof) forgone(limits []useRange) *big.Int {
	sum := new(big.Int)
	for j, ranges := range t.rangesOf(limits) {
		w, left := &t.cert.Wants[j], t.cert.Wants[j].Demand
		for n, r := range ranges {
			left -= r.least * copiesOf(w, n)
		}
		if w.Forgo != nil && left > 0 {
			sum.Add(sum, new(big.Int).Mul(big.NewInt(*w.Forgo), big.NewInt(left)))
		}
	}
	return sum
}
