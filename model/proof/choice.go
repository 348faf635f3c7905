package proof

import (
	"math/big"
	"slices"

	"rackwright/model"
)

// Choices of how parts are made. lo and hi, D, k, g and F are as in paying.go.
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
// Where all ranges leave one number each, lo = hi, it is settled which pieces are cut: d and the
// sum of k lo of each item. With a cover that is used a want is never settled, as it takes staves
// of several widths. A settled leaf is that of a plain program with these demands, and may carry a
// list. F (D - sum of lo g) of each want is added to what it proves. Its target is without that.
// What boards give within the demands any leaf may say: within what is wanted there at most.

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

// choice is what a choice proves; nil where that is nothing, which it then says.
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
	return t.sides(&c.Low, &c.High, low, high, where, depth)
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
