package choosing

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
	"rackwright/nest/internal/queue"
)

// node is a part of all plans: ranges of the ways, limits of the boards, and what is proven of it.
type node struct {
	limits    cutstock.Limits
	boards    cutstock.Boards
	relaxed   cutstock.Relaxed // maybe of a node above
	under     cutstock.Limits  // the limits that it was solved under
	bound     int64
	proof     *cutstock.Proof
	depth     int
	low, high *node // nil: not split
	by        cutstock.Part
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

// nearlyClosed is which part of its cost the best plan may be above the bound so that the tree is
// one of ways alone first.
const nearlyClosed = 256

// branch branches on how many times ways are used, and boards; and on ways alone.
//
// Boards are what mostly stands between the relaxation and a plan. But where all is chosen, only a
// node that is not split by boards can be planned, with lists. That closes small programs, and some
// that are nearly closed.
func (s *search) branch() {
	if s.relax.Inexact() || s.noSpares {
		return // leaves would have to go by the same grids
	}
	limits := s.tight(cutstock.NoLimits(s.p))
	ways := func() *node {
		return &node{limits: limits, boards: s.relax.AllBoards(false), under: limits,
			relaxed: s.root, bound: s.root.Bound, proof: s.root.Proof}
	}
	nearly := s.goal()-s.bound < s.goal()/nearlyClosed
	if nearly {
		s.branchOn(ways(), s.rest()/2)
	}
	if s.closed() || s.relax.Inexact() {
		return
	}
	if root, ok := s.child(limits, s.relax.AllBoards(true), 0); ok {
		s.branchOn(root, s.rest())
	}
	if !nearly && !s.closed() && !s.relax.Inexact() {
		s.branchOn(ways(), s.rest())
	}
}

// branchOn branches from a root for so many steps, the node of the least bound first. Where all is
// chosen, and nothing is split by boards, the pieces are planned, and their proof is that of the
// leaf.
func (s *search) branchOn(root *node, steps int64) {
	end := s.rest() - steps
	open, before := queue.New(byBound, root), root.bound
	for n := 0; n < mostNodes && open.Len() > 0 && s.rest() > end && !s.over() &&
		open.First().bound < s.goal(); n++ {
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
	if chosen := s.fixed(n.limits); chosen != nil && !n.boards.Split {
		if !s.settle(n, chosen) { // what it proves would be another number
			top.low, top.high = nil, nil
			return false
		}
		open.Push(n)
		return true
	}
	by, ok := s.toSplit(n)
	if !ok || n.depth >= deepest {
		return false
	}
	limits := [2]cutstock.Limits{n.limits, n.limits}
	boards := [2]cutstock.Boards{n.boards, n.boards}
	if by.Want < 0 {
		boards[0], boards[1] = n.boards.Sides(by.Stock, by.AtMost)
	} else {
		low, high := n.limits.Clone(), n.limits.Clone()
		low[by.Want][by.Way].Most, high[by.Want][by.Way].Least = by.AtMost, by.AtMost+1
		limits[0], limits[1] = s.tight(low), s.tight(high)
	}
	var children [2]*node
	for k := range children {
		c, ok := s.child(limits[k], boards[k], n.depth+1)
		if !ok {
			return false
		}
		children[k] = c
	}
	n.by, n.low, n.high = by, children[0], children[1]
	n.relaxed, top.relaxed = cutstock.Relaxed{}, cutstock.Relaxed{} // large, and of no more use
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
			n.by = cutstock.Part{Want: j, Way: at, AtMost: l.Least}
			n.high = &node{limits: high, boards: n.boards, bound: bound, proof: n.relaxed.Proof,
				depth: n.depth + 1}
			n.low = &node{limits: low, boards: n.boards, relaxed: n.relaxed, under: n.under,
				depth: n.depth + 1, bound: s.relax.Under(&n.relaxed, n.under, low),
				proof: n.relaxed.Proof}
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
func (s *search) child(limits cutstock.Limits, boards cutstock.Boards, depth int) (*node, bool) {
	n := &node{limits: limits, boards: boards, under: limits, depth: depth}
	if s.tooFew(limits) {
		n.bound = math.MaxInt64
		n.proof = &cutstock.Proof{Leaf: &cutstock.Leaf{Duals: make([]int64, len(s.p.Items))}}
		return n, true
	}
	if chosen := s.fixed(limits); chosen != nil && !boards.Split {
		return n, s.settle(n, chosen)
	}
	r, ok := s.relax.Relax(limits, boards, s.goal())
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

// mostWays is how many ways are tried beside boards where a node is split.
const mostWays = 3

// toSplit is by what to split a node: of the ways farthest from a whole number, and of boards, that
// which raises both sides most; else a way whose range is open. False: there is none.
func (s *search) toSplit(n *node) (cutstock.Part, bool) {
	type fraction struct {
		cutstock.Part
		off float64
	}
	var ways []fraction
	for j := range n.limits {
		for at, x := range n.relaxed.Times[j] {
			l, below := n.limits[j][at], int64(math.Floor(x))
			if off := math.Abs(x - math.Round(x)); off > whole && below >= l.Least &&
				below < l.Most {
				ways = append(ways, fraction{cutstock.Part{Want: j, Way: at, AtMost: below}, off})
			}
		}
	}
	slices.SortStableFunc(ways, func(a, b fraction) int { return cmp.Compare(b.off, a.off) })
	var some []cutstock.Part
	if n.boards.MaySplit {
		some = n.relaxed.ByBoards()
	}
	for _, w := range ways[:min(len(ways), mostWays)] {
		some = append(some, w.Part)
	}
	if len(some) > 0 {
		return s.relax.Best(&n.relaxed, some, s.goal()), true
	}
	for j := range n.limits {
		for at, l := range n.limits[j] {
			x := int64(math.Round(n.relaxed.Times[j][at]))
			switch {
			case l.Least == l.Most:
			case x > l.Least && x <= l.Most:
				return cutstock.Part{Want: j, Way: at, AtMost: x - 1}, true
			default:
				return cutstock.Part{Want: j, Way: at, AtMost: l.Least}, true
			}
		}
	}
	return cutstock.Part{}, false
}

// proven is what is proven of a node: by its children where they prove more.
func (n *node) proven() (*cutstock.Proof, int64) {
	if n.low != nil {
		low, a := n.low.proven()
		high, b := n.high.proven()
		if min(a, b) > n.bound {
			if n.by.Want < 0 {
				return &cutstock.Proof{Split: &cutstock.Split{Stock: n.by.Stock,
					AtMost: n.by.AtMost, Low: low, High: high}}, min(a, b)
			}
			return &cutstock.Proof{Choice: &cutstock.Choice{Want: n.by.Want, Way: n.by.Way,
				AtMost: n.by.AtMost, Low: low, High: high}}, min(a, b)
		}
	}
	return n.proof, n.bound
}

func byBound(a, b *node) bool { return a.bound < b.bound }
