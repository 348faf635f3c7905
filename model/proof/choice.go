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
// g rounded up; for a stave its layers times D times need / steps, rounded up.
//
// # Choices
//
// A choice parts the plans of a node by how often a way of a want is used; covers are counted after
// the ways. Where the ranges leave too few copies, a node has no plans. It has none either where
// they ask for more uses than copies, as each use gives one at least. Such a node may be left
// empty: nothing needs to be proven of it.
//
// No use of a way is there in vain: without it there would be too few copies. For what a plan cuts
// there is always such a choice of uses. So where others give copies for sure, fewer are open:
//
//	hi  at most  lo + (D - sum of lo g) / g, rounded up
//
// # One way to choose
//
// Where all ranges leave one number each, lo = hi, it is settled which pieces are cut: d and the
// sum of k lo of each item. With a cover that is used a want is never settled, as it takes staves
// of several widths. A settled leaf is that of a plain program with these demands, and may say what
// boards give within them, and carry a list. F (D - sum of lo g) of each want is added to what it
// proves. Its target and its claims are without that.

// noPlans is what a node proves that has no plans: more than any bound.
var noPlans = new(big.Int)

// lesser is the lesser of what the sides of a node prove; nil where one proves nothing.
func lesser(a, b *big.Int) *big.Int {
	if b == nil || a == noPlans || b != noPlans && b.Cmp(a) <= 0 {
		return b
	}
	return a
}

// rangesOf are the ranges of the ways, by want; in the limits they stand after the stocks.
func (t *treeProof) rangesOf(limits []useRange) [][]useRange {
	out, at := make([][]useRange, len(t.cert.Wants)), len(t.stocks)
	for j := range out {
		w := &t.cert.Wants[j]
		n := len(w.Ways) + len(w.Covers)
		out[j], at = limits[at:at+n], at+n
	}
	return out
}

// tight are limits without uses of ways that would be there in vain.
func (t *treeProof) tight(limits []useRange) []useRange {
	if len(t.cert.Wants) == 0 {
		return limits
	}
	limits = slices.Clone(limits)
	for j, ranges := range t.rangesOf(limits) {
		w := &t.cert.Wants[j]
		need := w.Demand
		for n, r := range ranges {
			need -= r.least * copiesOf(w, n)
		}
		for n := range ranges {
			g, r := copiesOf(w, n), &ranges[n]
			r.most = min(r.most, r.least+max(0, (need+g-1)/g))
		}
	}
	return limits
}

// choice is what a choice proves: the lesser of its sides; nil where that is nothing, which it then
// says.
func (t *treeProof) choice(c *model.CertChoice, limits []useRange, where string,
	depth int) *big.Int {
	if c.Want < 0 || c.Want >= len(t.cert.Wants) {
		t.say(where, "a choice is about want %d, which is not there", c.Want)
		return nil
	}
	w := &t.cert.Wants[c.Want]
	if c.Way < 0 || c.Way >= len(w.Ways)+len(w.Covers) {
		t.say(where, "a choice is about way %d of want %d, which is not there", c.Way, c.Want)
		return nil
	}
	low, high := slices.Clone(limits), slices.Clone(limits)
	at := &t.rangesOf(low)[c.Want][c.Way]
	if c.AtMost < at.least || c.AtMost >= at.most || c.AtMost > w.Demand {
		t.say(where, "a choice of %d times way %d of want %d leaves one side nothing", c.AtMost,
			c.Way, c.Want)
		return nil
	}
	at.most, t.rangesOf(high)[c.Want][c.Way].least = c.AtMost, c.AtMost+1
	a := t.bound(&c.Low, low, where, depth+1)
	if a == nil {
		return nil
	}
	return lesser(a, t.bound(&c.High, high, where, depth+1))
}

// isEmpty says whether a node says nothing.
func isEmpty(n *model.CertNode) bool {
	return n.Split == nil && n.Choice == nil && len(n.Duals) == 0 && len(n.Within) == 0 &&
		n.List == nil
}

// copiesOf is how many copies uses of a way give; covers are counted after the ways.
func copiesOf(w *model.CertWant, way int) int64 {
	if way < len(w.Ways) {
		return w.Ways[way].Copies
	}
	return 1
}

// tooFew says whether ranges leave too few copies of a want, and tooMany whether they ask for more
// uses than copies.
func tooFew(w *model.CertWant, ranges []useRange) bool {
	need := w.Demand
	for n, r := range ranges {
		if need > 0 {
			need -= min(need, r.most) * copiesOf(w, n)
		}
	}
	return need > 0 && w.Forgo == nil
}

func tooMany(w *model.CertWant, ranges []useRange) bool {
	left := w.Demand
	for _, r := range ranges {
		if left -= r.least; left < 0 {
			return true
		}
	}
	return false
}

// hasNone says whether the ranges leave a node no plans for one of these reasons.
func (t *treeProof) hasNone(limits []useRange,
	why ...func(*model.CertWant, []useRange) bool) bool {
	for j, ranges := range t.rangesOf(limits) {
		for _, fails := range why {
			if fails(&t.cert.Wants[j], ranges) {
				return true
			}
		}
	}
	return false
}

// settled says whether the ranges leave one number for each way, and no cover. Of what is not
// wanted at all no way is used.
func (t *treeProof) settled(limits []useRange) bool {
	for j, ranges := range t.rangesOf(limits) {
		w := &t.cert.Wants[j]
		for n, r := range ranges {
			if w.Demand > 0 && (r.least != r.most || r.most > 0 && n >= len(w.Ways)) {
				return false
			}
		}
	}
	return true
}

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
	for i, d := range duals {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(d), big.NewInt(cert.Items[i].Demand)))
	}
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
