package cutstock

import (
	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/internal/queue"
	"rackwright/nest/price/rough"
)

// node is a part of the search tree: limits on the use of stocks (in its master), and what is
// proven of it.
type node struct {
	m *master // nil once it is closed
	limits
	proven        // by the duals of the relaxation, without a list
	claim  *claim // the best that is proven, maybe of a node above
	depth  int    // how many nodes are above it
	low    *node  // its children, nil: none
	high   *node
	// distance from bound to incumbent when last it or a node above was to be finished; 0: never
	tried  int64
	listed listed
	last   bool   // it was to be finished by the longest list
	split  *split // nil: all stocks are used a whole number of times
}

// Deepest is how many splits may lie above a leaf. The checker's limit is above it.
const Deepest = 500

// claim is a leaf of the certificate and the bound it proves. A node may rest on the claim of one
// above it.
type claim struct {
	duals  []int64
	within []Within
	list   *cuts.Proof
	bound  int64
}

// tree is what branching has come to.
type tree struct {
	root  *node
	open  *queue.Queue[*node] // by bound
	turns int                 // nodes looked at
}

// branch splits the program on how many of a stock are used or are bought in all, and takes the
// node with the least bound first. Only limits of rows change; pricing stays as it is. The leaves,
// with their duals, are the certificate. A node where every use is whole cannot be split so. Once
// the least bound belongs to one, the proof is at its end. The search goes on for plans in such
// nodes, until the least bound reaches the incumbent. It looks at so many nodes, a negative number:
// at all; called again it goes on where it was.
func (k *solver) branch(root *master, turns int) {
	k.tree = true
	defer func() { k.tree = false }()
	if k.begun == nil {
		if k.copies && !k.many && root.bought == nil && k.buysTwo() {
			root = newMasterOf(k.p, k.costs, &k.pool, true)
		}
		top := k.node(root)
		if top == nil {
			return
		}
		k.begun = &tree{root: top, open: queue.New(byBound, top)}
	}
	t := k.begun
	for end := t.turns + turns; t.turns != end && t.open.Len() > 0 &&
		k.meter.Steps < k.budget.branching && !k.over() && !k.closed(); {
		k.observe("branching")
		if k.beaten(t.open.First()) {
			break
		}
		top := t.open.Pop()
		if k.incumbent.short == 0 && k.worthFinishing(top) {
			top.tried = k.incumbent.value - top.bound
			k.finish(top, longList)
			t.open.Push(top)
		} else if whole := top.split == nil || top.depth == Deepest; whole && !top.last &&
			k.canList() {
			top.last = true
			k.finishLast(top)
			t.open.Push(top)
		} else if whole {
			k.leaves(t)
			k.dives(top.m)
			k.combine(top.m, k.budget.columnsNode)
			top.m = nil
		} else if !k.grow(t, top) { // its parent stays a leaf
			t.open.Push(top)
			break
		}
		t.turns++
	}
	k.leaves(t)
}

// nearlyClosed is which part of its value an incumbent may be above the bound so that branching is
// worth more than reopening.
const nearlyClosed = 256

// lastReopening is for how long some stocks are planned anew after branching.
func (k *solver) lastReopening() int64 {
	if k.listing && k.incumbent.value-k.bound < k.incumbent.value/nearlyClosed {
		return k.opt.Work / 32
	}
	return k.budget.reopening
}

// branchOn goes on with branching to the end of all work.
func (k *solver) branchOn(root *master) {
	if k.begun != nil && k.listing {
		k.budget.branching = k.opt.Work
		k.branch(root, -1)
	}
}

// grow makes the two children of a node; false where the search ended before there were two.
func (k *solver) grow(t *tree, top *node) bool {
	var children [2]*node
	low, high := top.m.sides(*top.split)
	for n, child := range []*master{low, high} {
		k.cheapenUnmet(child)
		c := k.node(child)
		if c == nil {
			return false
		}
		children[n] = c
		c.tried, c.listed, c.depth = top.tried, top.listed, top.depth+1
		if top.claim.bound > c.claim.bound {
			c.claim = top.claim
		}
		if !k.beaten(c) && (t.turns&(t.turns-1) == 0 || c.split == nil) {
			k.dive(c.m, 0)
		}
	}
	for _, c := range children {
		if k.beaten(c) {
			c.m = nil
		} else {
			t.open.Push(c)
		}
	}
	top.low, top.high, top.m = children[0], children[1], nil
	return true
}

// node solves the relaxation under the limits of a master and proves its bound; nil when the search
// must end first.
func (k *solver) node(m *master) *node {
	at, done := k.generate(m)
	if !done {
		return nil
	}
	n := &node{m: m, limits: m.limits()}
	k.shrink(m, at)
	var ok bool
	n.proven, ok = k.prove(m, at)
	if k.theta = 0; !ok || k.ctx.Err() != nil {
		return nil
	}
	n.claim = &claim{n.duals, n.within, nil, n.bound}
	n.split = k.toSplit(m)
	return n
}

// beaten says that no plan of a node is better than the incumbent, what either leaves unmet
// included.
func (k *solver) beaten(n *node) bool {
	if k.incumbent.short == 0 {
		return n.claim.bound >= k.goal()
	}
	return float64(n.claim.bound) >= k.cutoff()
}

// worthFinishing says whether a list may be short enough now, if it was not before.
func (k *solver) worthFinishing(n *node) bool {
	return k.canList() && (n.tried == 0 || (k.incumbent.value-n.bound)/3 < n.tried/4)
}

// leaves makes the certificate of a tree, where it proves more than is known.
func (k *solver) leaves(t *tree) {
	if cert, bound := k.proof(t.root); bound > k.bound {
		k.bound, k.cert = bound, k.withBounds(cert)
		k.found()
	}
}

// proof proves what is known of a node: by its children where they prove more than its claim. So
// the claim of a node above is never that of a leaf: it proves as much where it was made.
func (k *solver) proof(n *node) (*Proof, int64) {
	if n.low != nil {
		low, a := k.proof(n.low)
		high, b := k.proof(n.high)
		if min(a, b) > n.claim.bound {
			return &Proof{Split: &Split{n.split.stock, n.split.atMost(), low, high}}, min(a, b)
		}
	}
	c := n.claim
	return &Proof{Leaf: &Leaf{Duals: c.duals, Within: c.within, List: c.list}}, c.bound
}

// withBounds is a proof in which the bounds of some stocks are not exact.
func (k *solver) withBounds(p *Proof) *Proof {
	if !k.anyInexact() {
		return p
	}
	out := *p
	out.Rough, out.Grids = make([]bool, len(k.bounds)), make([]rough.Grid, len(k.bounds))
	for s, b := range k.bounds {
		out.Rough[s], out.Grids[s] = b.inexact && !b.on, k.gridOf(s)
	}
	return &out
}

func byBound(a, b *node) bool { return a.claim.bound < b.claim.bound }
