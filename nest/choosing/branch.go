package choosing

import (
	"math"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
	"rackwright/nest/internal/queue"
)

// node is a part of all choices: ranges of the ways, and what is proven of it.
type node struct {
	limits    cutstock.Limits
	relaxed   cutstock.Relaxed // maybe of a node above
	under     cutstock.Limits  // the limits that it was solved under
	bound     int64
	proof     *cutstock.Proof
	depth     int
	low, high *node // nil: not split
	want, way int
	atMost    int64
	last      bool // it cannot be split
}

const (
	// mostNodes is how many nodes are looked at; a certificate should not be too long.
	mostNodes = 300
	// fruitless is after how many of them the bound is to have risen by a part of the gap.
	fruitless, part = 40, 16
	// deepest is how many choices may lie above a node. The checker's limit is above it, with that
	// of the splits of a leaf.
	deepest = 400
)

// branch branches on how many times ways are used, the node of the least bound first. Where all is
// chosen the pieces are planned, and their proof is that of the leaf.
func (s *search) branch() {
	if s.relax.Inexact() || s.noSpares {
		return // leaves would have to go by the same grids
	}
	limits := s.tight(cutstock.NoLimits(s.p))
	root := &node{limits: limits, under: limits, relaxed: s.root, bound: s.root.Bound,
		proof: s.root.Proof}
	open, before := queue.New(byBound, root), s.root.Bound
	for n := 0; n < mostNodes && open.Len() > 0 && !s.over() && open.First().bound < s.goal(); n++ {
		if n%fruitless == fruitless-1 {
			if open.First().bound-before < (s.goal()-before)/part {
				break
			}
			before = open.First().bound
		}
		top := open.Pop()
		if top.last || !s.grow(top, open) {
			break
		}
		s.tell(branching)
	}
	if proof, bound := root.proven(); bound > s.bound {
		s.prove(bound, proof)
	}
}

// grow strikes what a node cannot use, and splits what is left in two; false where that cannot be
// done, or the search is over before.
func (s *search) grow(n *node, open *queue.Queue[*node]) bool {
	top := n
	if n = s.strike(n); n.bound >= s.goal() {
		return true
	}
	if chosen := s.fixed(n.limits); chosen != nil {
		if !s.settle(n, chosen) { // what it proves would be another number
			top.low, top.high = nil, nil
			return false
		}
		open.Push(n)
		return true
	}
	want, way, atMost := s.toSplit(n)
	if want < 0 || n.depth >= deepest {
		return false
	}
	low, high := n.limits.Clone(), n.limits.Clone()
	low[want][way].Most, high[want][way].Least = atMost, atMost+1
	var children [2]*node
	for k, limits := range []cutstock.Limits{low, high} {
		c, ok := s.child(s.tight(limits), n.depth+1)
		if !ok {
			return false
		}
		children[k] = c
	}
	n.want, n.way, n.atMost, n.low, n.high = want, way, atMost, children[0], children[1]
	for _, c := range children {
		if c.bound < s.goal() {
			open.Push(c)
		}
	}
	return true
}

// strike takes away uses of ways by which nothing can cost less than the best plan: the duals of
// the node prove it. It gives the node that is left.
func (s *search) strike(n *node) *node {
	for j := range n.limits {
		for at := range n.limits[j] {
			l := n.limits[j][at]
			if l.Least == l.Most || n.depth >= deepest {
				continue
			}
			low, high := n.limits.Clone(), n.limits.Clone()
			low[j][at].Most, high[j][at].Least = l.Least, l.Least+1
			low, high = s.tight(low), s.tight(high)
			if s.tooFew(low) {
				continue
			}
			bound := s.relax.Under(&n.relaxed, n.under, high)
			if bound < s.goal() || s.fixed(high) != nil {
				continue
			}
			n.want, n.way, n.atMost = j, at, l.Least
			n.high = &node{limits: high, bound: bound, proof: n.relaxed.Proof, depth: n.depth + 1}
			n.low = &node{limits: low, relaxed: n.relaxed, under: n.under, depth: n.depth + 1,
				bound: s.relax.Under(&n.relaxed, n.under, low), proof: n.relaxed.Proof}
			n = n.low
		}
	}
	return n
}

// settle plans a node in which all is chosen; false where that proves nothing.
func (s *search) settle(n *node, chosen []cutting.Chosen) bool {
	planned := s.plan(chosen, s.part(roundShare), nil)
	s.take(planned, chosen)
	c := planned.Certificate
	if short(planned.Unmet) || c.Rough != nil || c.Grids != nil {
		return false
	}
	n.bound, n.proof, n.last = planned.Bound+s.p.Forgone(chosen), c, true
	return true
}

// tooFew says whether limits leave too few copies of a want.
func (s *search) tooFew(limits cutstock.Limits) bool {
	for j := range limits {
		w := &s.p.Wants[j]
		if w.Forgo != cutting.Any || len(w.Covers) > 0 {
			continue
		}
		most := int64(0)
		for at, l := range limits[j] {
			most += l.Most * w.Ways[at].Copies
		}
		if most < w.Demand {
			return true
		}
	}
	return false
}

// child is the node of some limits; false where the search is over.
func (s *search) child(limits cutstock.Limits, depth int) (*node, bool) {
	n := &node{limits: limits, under: limits, depth: depth}
	if s.tooFew(limits) {
		n.bound = math.MaxInt64
		n.proof = &cutstock.Proof{Leaf: &cutstock.Leaf{Duals: make([]int64, len(s.p.Items))}}
		return n, true
	}
	if chosen := s.fixed(limits); chosen != nil {
		return n, s.settle(n, chosen)
	}
	r, ok := s.relax.Relax(limits)
	if !ok || s.relax.Inexact() {
		return nil, false
	}
	n.relaxed, n.bound, n.proof = r, r.Bound, r.Proof
	return n, true
}

// tight are limits without uses that would be there in vain, as others give copies for sure.
func (s *search) tight(limits cutstock.Limits) cutstock.Limits {
	limits = limits.Clone()
	for j := range limits {
		w := &s.p.Wants[j]
		need := w.Demand
		for at, l := range limits[j] {
			need -= l.Least * w.Ways[at].Copies
		}
		for at := range limits[j] {
			g, l := w.Ways[at].Copies, &limits[j][at]
			if most := l.Least + max(0, (need+g-1)/g); l.Most == cutting.Any || l.Most > most {
				l.Most = most
			}
		}
	}
	return limits
}

// fixed is the only choice that limits leave; nil: there are several.
func (s *search) fixed(limits cutstock.Limits) []cutting.Chosen {
	out := make([]cutting.Chosen, len(limits))
	for j := range limits {
		w := &s.p.Wants[j]
		if !isFixed(limits[j]) {
			return nil
		}
		out[j] = none(w)
		for at, l := range limits[j] {
			out[j].Times[at] = l.Least
		}
		if len(w.Covers) > 0 && copies(w, &out[j]) < w.Demand {
			return nil
		}
	}
	return out
}

// toSplit is the way of a node to split on, and where: that which is farthest from a whole number,
// else one whose range is open; -1: there is none.
func (s *search) toSplit(n *node) (want, way int, atMost int64) {
	want, off := -1, whole
	for j := range n.limits {
		for at, x := range n.relaxed.Times[j] {
			l := n.limits[j][at]
			below := int64(math.Floor(x))
			if f := math.Abs(x - math.Round(x)); f > off && below >= l.Least && below < l.Most {
				want, way, atMost, off = j, at, below, f
			}
		}
	}
	if want >= 0 {
		return want, way, atMost
	}
	for j := range n.limits {
		for at, l := range n.limits[j] {
			x := int64(math.Round(n.relaxed.Times[j][at]))
			switch {
			case l.Least == l.Most:
			case x > l.Least && x <= l.Most:
				return j, at, x - 1
			default:
				return j, at, l.Least
			}
		}
	}
	return -1, 0, 0
}

// proven is what is proven of a node: by its children where they prove more.
func (n *node) proven() (*cutstock.Proof, int64) {
	if n.low != nil {
		low, a := n.low.proven()
		high, b := n.high.proven()
		if min(a, b) > n.bound {
			return &cutstock.Proof{Choice: &cutstock.Choice{Want: n.want, Way: n.way,
				AtMost: n.atMost, Low: low, High: high}}, min(a, b)
		}
	}
	return n.proof, n.bound
}

func byBound(a, b *node) bool { return a.bound < b.bound }
