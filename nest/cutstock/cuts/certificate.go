package cuts

// Proof proves, over the list of all patterns that plans of a leaf below a target can use, that
// none there is cheaper than a bound.
type Proof struct {
	Target int64
	Node   // of all of these plans
}

// Node proves a bound of a part of the plans: by duals, or by a split in two. Rows are added on the
// way down to it: the cuts of a node, then the row of its split, then the cuts of the child, and so
// on. They are counted in this order, after those that stand without cuts.
type Node struct {
	Cuts     []Cut
	Struck   []Struck // what strikes patterns off before duals or split, in this order
	Duals    []int64  // of the items
	CutDuals []int64  // of all rows added so far
	Split    *Split   // nil: there are duals
}

// Split parts plans by a sum: at most AtMost, or more.
type Split struct {
	Sum       Sum
	AtMost    int64
	Low, High *Node
}

// Struck are duals by which patterns are struck off, once so many rows are added as it has duals
// of.
type Struck struct {
	Duals    []int64 // of the items
	CutDuals []int64
}

// proof is what a node and those below it prove, without the rows that it does not need; nil where
// that is nothing.
func (n *node) proof() (*Proof, int64) {
	bound := n.prune()
	if n.best == nil && n.low == nil {
		return nil, 0
	}
	n.need()
	switch away := false; {
	case !n.fits(0, &away):
		return nil, 0
	case away: // a part proves no more then than it does by itself
		return n.proof()
	}
	return &Proof{n.Target, *n.written(n.fixed())}, bound
}

// prune gives the bound of a node, and takes away children that prove no more than it does.
func (n *node) prune() int64 {
	if n.low != nil {
		if below := min(n.low.prune(), n.high.prune()); below > n.proven {
			return below
		}
		n.low, n.high = nil, nil
	}
	return n.proven
}

// need marks the rows that the proof needs: those with a dual, and those that a cut names.
func (n *node) need() {
	mark := func(duals []int64) {
		for c, d := range duals {
			if d > 0 {
				n.rows[c].from.needed = true
			}
		}
	}
	if n.low != nil {
		n.low.need()
		n.high.need()
	} else {
		n.rows, n.struck = n.rows[:n.best.rows], n.struck[:n.best.struck]
		mark(n.best.tau)
	}
	for _, s := range n.struck {
		mark(s.CutDuals)
	}
	fixed := n.fixed()
	for c := len(n.rows) - 1; c >= n.above; c-- {
		if from := n.rows[c].from; from.needed && from.cut != nil {
			for _, r := range from.cut.Rows {
				if r.Row >= fixed {
					n.rows[r.Row-fixed].from.needed = true
				}
			}
		}
	}
}

// On the way down to a node a proof may have so many rows that are added, and so many numbers in
// them. The checker's limits are above both.
const (
	mostAdded = 1_900
	mostKept  = 1 << 25
)

// fits says whether whoever derives the proof can keep its rows, beside so many numbers above. It
// takes away children that do not fit, and notes that.
func (n *node) fits(kept int64, away *bool) bool {
	if len(needed(n.rows)) > mostAdded {
		return false
	}
	own := int64(0)
	for k, length := range n.lengths[:len(n.struck)+1] {
		from, upTo := n.above, len(n.rows)
		if k > 0 {
			from = 0 // those above are written anew once it is struck off
		}
		if k < len(n.struck) {
			upTo = len(n.struck[k].CutDuals)
		}
		own = int64(length * (len(needed(n.rows[min(from, upTo):upTo])) + 8))
		if kept+own > mostKept {
			return false
		}
	}
	if kept += own; n.low != nil && !(n.low.fits(kept, away) && n.high.fits(kept, away)) {
		n.low, n.high, *away = nil, nil, true
	}
	return true
}

// needed gives those rows that the proof needs.
func needed(rows []row) (out []row) {
	for _, r := range rows {
		if r.from.needed {
			out = append(out, r)
		}
	}
	return out
}

// written is the proof of a node; so many rows are counted above it.
func (n *node) written(above int) *Node {
	out := &Node{}
	for _, r := range n.rows[n.above:] {
		if !r.from.needed {
			continue
		}
		r.from.number = above
		above++
		if r.from.cut != nil {
			out.Cuts = append(out.Cuts, n.renumbered(r.from.cut))
		}
	}
	for _, s := range n.struck {
		out.Struck = append(out.Struck, Struck{s.Duals, n.needed(s.CutDuals)})
	}
	if n.low == nil {
		out.Duals, out.CutDuals = n.best.pi, n.needed(n.best.tau)
		return out
	}
	out.Split = &Split{n.sum, n.atMost, n.low.written(above), n.high.written(above)}
	return out
}

// renumbered is a cut by the rows as the proof counts them.
func (n *node) renumbered(cut *Cut) Cut {
	out, fixed := Cut{Den: cut.Den}, n.fixed()
	for _, r := range cut.Rows {
		if r.Row >= fixed {
			r.Row = n.rows[r.Row-fixed].from.number
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// needed is the duals of the rows that the proof needs.
func (n *node) needed(duals []int64) (out []int64) {
	for c, d := range duals {
		if n.rows[c].from.needed {
			out = append(out, d)
		}
	}
	return out
}

// Among is a proof in which item i has the index at[i] of n; the others have nothing to do with it.
func (p *Proof) Among(at []int, n int) *Proof {
	if p == nil {
		return nil
	}
	return &Proof{p.Target, *p.Node.among(at, n)}
}

func (d *Node) among(at []int, n int) *Node {
	out := &Node{CutDuals: d.CutDuals}
	for _, c := range d.Cuts {
		cut := Cut{Den: c.Den}
		for _, r := range c.Rows {
			if r.Row < len(at) {
				r.Row = at[r.Row]
			} else {
				r.Row += n - len(at)
			}
			cut.Rows = append(cut.Rows, r)
		}
		out.Cuts = append(out.Cuts, cut)
	}
	for _, s := range d.Struck {
		out.Struck = append(out.Struck, Struck{Spread(s.Duals, at, n), s.CutDuals})
	}
	if s := d.Split; s != nil {
		sum := s.Sum
		sum.Having = nil
		for _, h := range s.Sum.Having {
			sum.Having = append(sum.Having, Having{at[h.Item], h.Copies})
		}
		if sum.Item != AllItems {
			sum.Item = at[sum.Item]
		}
		out.Split = &Split{sum, s.AtMost, s.Low.among(at, n), s.High.among(at, n)}
		return out
	}
	out.Duals = Spread(d.Duals, at, n)
	return out
}

// Spread gives n numbers, of which those at some places are given; the others are 0.
func Spread(given []int64, at []int, n int) []int64 {
	out := make([]int64, n)
	for i, v := range given {
		out[at[i]] = v
	}
	return out
}
