package choosing

import (
	"container/heap"
	"math"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// node is a part of all choices: ranges of the ways, and what is proven of it.
type node struct {
	limits    cutstock.Limits
	relaxed   cutstock.Relaxed
	bound     int64
	proof     *cutstock.Proof
	low, high *node // nil: not split
	want, way int
	atMost    int64
	empty     bool // there is no such plan
}

// branch branches on how many times ways are used, as long as there is work left: the node of the
// least bound first. Where all is chosen the pieces are planned, and their proof is that of the
// leaf.
func (s *search) branch() {
	if s.relax.Inexact() || s.noSpares {
		return // leaves would have to go by the same grids
	}
	root := &node{limits: s.tight(cutstock.NoLimits(s.p)), relaxed: s.root, bound: s.root.Bound,
		proof: s.root.Proof}
	open := nodes{root}
	for open.Len() > 0 && !s.over() && open[0].bound < s.goal() {
		n := heap.Pop(&open).(*node)
		if !s.split(n) {
			break
		}
		for _, c := range []*node{n.low, n.high} {
			if !c.empty {
				heap.Push(&open, c)
			}
		}
		if proof, bound := root.proven(); bound > s.bound {
			s.prove(bound, proof)
		}
	}
}

// split makes the children of a node; false where it has none, or the search is over before.
func (s *search) split(n *node) bool {
	if n.want, n.way, n.atMost = s.toSplit(n); n.want < 0 {
		return false
	}
	low, high := n.limits.Clone(), n.limits.Clone()
	low[n.want][n.way].Most = n.atMost
	high[n.want][n.way].Least = n.atMost + 1
	a, ok := s.child(low)
	if !ok {
		return false
	}
	b, ok := s.child(high)
	if !ok {
		return false
	}
	n.low, n.high = a, b
	return true
}

// child is the node of some limits; false where the search is over.
func (s *search) child(limits cutstock.Limits) (*node, bool) {
	limits = s.tight(limits)
	n := &node{limits: limits}
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
			n.empty, n.bound = true, math.MaxInt64
			n.proof = &cutstock.Proof{Leaf: &cutstock.Leaf{Duals: make([]int64, len(s.p.Items))}}
			return n, true
		}
	}
	r, ok := s.relax.Relax(limits)
	if !ok || s.relax.Inexact() {
		return nil, false
	}
	n.relaxed, n.bound, n.proof = r, r.Bound, r.Proof
	if chosen := s.fixed(limits); chosen != nil && n.bound < s.goal() {
		planned := s.plan(chosen, s.part(tryShare), nil)
		s.take(planned, chosen)
		bound := planned.Bound + s.p.Forgone(chosen)
		if c := planned.Certificate; !short(planned.Unmet) && bound > n.bound &&
			c.Rough == nil && c.Grids == nil {
			n.bound, n.proof = bound, c
		}
	}
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

// fixed is the only choice that limits leave; nil: there are several, or they leave too little.
func (s *search) fixed(limits cutstock.Limits) []cutting.Chosen {
	out := make([]cutting.Chosen, len(limits))
	for j := range limits {
		w := &s.p.Wants[j]
		if !isFixed(limits[j]) || len(w.Covers) > 0 {
			return nil
		}
		out[j] = none(w)
		for at, l := range limits[j] {
			out[j].Times[at] = l.Least
		}
		if w.Forgo == cutting.Any && copies(w, &out[j]) < w.Demand {
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
			if f := math.Abs(x - math.Round(x)); f > off {
				want, way, atMost, off = j, at, int64(math.Floor(x)), f
			}
		}
	}
	if want >= 0 {
		return want, way, atMost
	}
	for j := range n.limits {
		if len(s.p.Wants[j].Covers) > 0 {
			continue
		}
		for at, l := range n.limits[j] {
			x := int64(math.Round(n.relaxed.Times[j][at]))
			switch {
			case l.Least == l.Most:
			case x > l.Least:
				return j, at, x - 1
			default:
				return j, at, x
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

// nodes is a heap by bound.
type nodes []*node

func (h nodes) Len() int           { return len(h) }
func (h nodes) Less(i, j int) bool { return h[i].bound < h[j].bound }
func (h nodes) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *nodes) Push(n any)        { *h = append(*h, n.(*node)) }
func (h *nodes) Pop() any {
	old := *h
	n := old[len(old)-1]
	*h = old[:len(old)-1]
	return n
}
