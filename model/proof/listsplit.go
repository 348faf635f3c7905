package proof

import (
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/patterns"
)

// Splits of a list. In place of its last duals a list may part all plans below its target in two,
// by a number that is whole in each plan:
//
//	N           some stocks, at least one
//	H           copies of some items, at least 1 of each; maybe of none
//	v_j         of a pattern of a stock in N with the copies H, or more: 1, or where an item is
//	            named its copies; else 0
//	M           at most so much, from 0 to MostCoef - 1
//
//	low         plans in which  sum of v_j x_j <= M
//	high        plans in which  sum of v_j x_j >= M + 1
//
// Every plan lies on one side. A side goes on with the patterns and cuts made so far, and with one
// row more, of which no number is above MostCoef:
//
//	side        a_j         b
//	low         -v_j        -M
//	high        v_j         M + 1
//
// It stands among the cuts. So the cuts of a part are counted on the way down: those of the list,
// then the side of its split, then the cuts of the part on that side, and so on. Duals of cuts are
// those of all of these. A part strikes off by all that stand above it, and by the first of its
// own.
//
// A side carries what a list carries: cuts, duals that strike patterns off, and last duals or a
// split. What it proves holds for the plans on that side below the target. So a split proves the
// lesser of its sides.

// MaxListDepth is how many splits of a list may lie above each other.
const MaxListDepth = 1 << 8

// judgeListNode judges that a list or a part of it makes sense. So many cuts stand above, and so
// many splits.
func (p *proof) judgeListNode(where string, cert *model.Certificate, l *model.CertListNode, above,
	depth int) {
	p.judgeCuts(where, cert, l, above)
	above += len(l.Cuts)
	s := l.Split
	if s == nil {
		p.judgeDuals(where, cert, l.Duals, l.CutDuals, above)
		return
	}
	items := len(cert.Items)
	switch {
	case len(l.Duals) > 0 || len(l.CutDuals) > 0:
		p.say(where, "is split, and has duals all the same")
	case depth == MaxListDepth:
		p.say(where, "its splits lie more than %d deep", MaxListDepth)
		return
	case len(s.Stocks) == 0:
		p.say(where, "its split names no stock")
	case s.AtMost < 0 || s.AtMost >= MostCoef:
		p.say(where, "is split at %d; it is to be from 0 to %d", s.AtMost, MostCoef-1)
	case s.Item != nil && (*s.Item < 0 || *s.Item >= items):
		p.say(where, "is split by item %d, which is not there", *s.Item)
	case s.Item != nil && cert.Items[*s.Item].Demand > MostCoef:
		p.say(where, "is split by item %d, of which more than %d are wanted", *s.Item, MostCoef)
	}
	item := -1
	for _, h := range s.Having {
		switch {
		case h.Item < 0 || h.Item >= items:
			p.say(where, "is split by boards having item %d, which is not there", h.Item)
		case h.Item <= item:
			p.say(where, "is split by boards having item %d after item %d; items are to rise",
				h.Item, item)
		case h.Copies < 1:
			p.say(where, "is split by boards having %d of item %d; it is to be at least 1",
				h.Copies, h.Item)
		}
		item = h.Item
	}
	last := -1
	for _, n := range s.Stocks {
		if n < 0 || n >= len(cert.Stocks) {
			p.say(where, "is split by stock %d, which is not there", n)
		} else if n <= last {
			p.say(where, "is split by stock %d after stock %d; stocks are to rise", n, last)
		}
		last = n
	}
	p.judgeListNode(where+", low", cert, &s.Low, above+1, depth+1)
	p.judgeListNode(where+", high", cert, &s.High, above+1, depth+1)
}

// node is what a list or a part of it proves, in ticks; nil where that is nothing, which it then
// says.
func (c *listProof) node(l *model.CertListNode, where string) *big.Int {
	for k := range l.Struck {
		struck := &l.Struck[k]
		if !c.makeCuts(l.Cuts, len(struck.CutDuals), where) {
			return nil
		}
		switch sum, gives := c.addUp(struck.Duals, struck.CutDuals); {
		case sum == nil:
			return nil
		case !c.strike(new(big.Int).Sub(c.target, sum), gives):
			return c.target
		}
	}
	if !c.makeCuts(l.Cuts, c.above+len(l.Cuts), where) {
		return nil
	}
	if l.Split != nil {
		return c.split(l.Split, where)
	}
	sum, _ := c.addUp(l.Duals, l.CutDuals)
	if sum == nil {
		return nil
	}
	return lesser(sum, c.target)
}

// split is what a split proves: the lesser of its sides.
func (c *listProof) split(s *model.CertListSplit, where string) *big.Int {
	low := c.side(s, false).node(&s.Low, where+", low")
	if low == nil {
		return nil
	}
	return lesser(low, c.side(s, true).node(&s.High, where+", high"))
}

// side is one side of a split: what is listed and the cuts so far, and its row.
func (c *listProof) side(s *model.CertListSplit, high bool) *listProof {
	out := *c
	out.listed, out.least = slices.Clone(c.listed), slices.Clone(c.least)
	out.cuts, out.shared = slices.Clone(c.cuts), true
	out.above, out.kept = len(c.cuts)+1, c.kept+int64(c.cols)*int64(len(c.cuts)+8)
	sign, least := int64(-1), -s.AtMost
	if high {
		sign, least = 1, s.AtMost+1
	}
	row := make([]int32, c.cols)
	j := 0
	for n, list := range c.listed {
		if !slices.Contains(s.Stocks, n) {
			j += len(list)
			continue
		}
		for k := range list {
			row[j] = int32(sign * counted(s, list[k].Takes))
			j++
		}
	}
	out.cuts, out.least = append(out.cuts, row), append(out.least, least)
	c.steps -= c.size
	return &out
}

// counted is v of a pattern of a stock in N, by what it takes.
func counted(s *model.CertListSplit, takes []patterns.Take) int64 {
	copies := func(item int) int64 {
		for _, t := range takes {
			if t.Item == item {
				return t.Copies
			}
		}
		return 0
	}
	for _, h := range s.Having {
		if copies(h.Item) < h.Copies {
			return 0
		}
	}
	if s.Item == nil {
		return 1
	}
	return copies(*s.Item)
}
