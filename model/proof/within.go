package proof

import (
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/patterns"
)

// What boards give within the demands. No board of a plan gives more of an item than are wanted,
// yet best of doc.go is for any number of copies. So a leaf may say of a stock
//
//	gives    no layout of one board gives more, at the leaf's duals, with at least one piece and at
//	         most the demands
//
// Where that is less than best, the leaf's bound and the need of its list go by it. It is judged by
// a list of the stock, down to what is above gives or to the need of the leaf's list: nothing on it
// may give more.

// judgeWithin judges that what a leaf says of its stocks can be judged.
func (t *treeProof) judgeWithin(n *model.CertNode, where string) {
	seen := make([]bool, len(t.stocks))
	for _, w := range n.Within {
		switch {
		case w.Stock < 0 || w.Stock >= len(t.stocks):
			t.say(where, "says what stock %d gives, which is not there", w.Stock)
			continue
		case seen[w.Stock]:
			t.say(where, "says twice what stock %d gives", w.Stock)
		case t.stocks[w.Stock].rough || t.stocks[w.Stock].onGrid():
			t.say(where, "says what stock %d gives, whose patterns cannot be listed", w.Stock)
		}
		seen[w.Stock] = true
	}
}

// takeWithin lowers what a board of a stock gives to what the leaf says of it.
func (l *leafProof) takeWithin(leaf *model.CertNode, stock int) {
	l.best[stock] = l.gives[stock]
	for _, w := range leaf.Within {
		if w.Stock == stock {
			l.gives[stock] = min(l.gives[stock], w.Gives)
		}
	}
}

// claims says whether a stock is taken to give less than its best.
func (l *leafProof) claims(stock int) bool { return l.gives[stock] < l.best[stock] }

// above is the least that is more than a board of a stock may give.
func (l *leafProof) above(stock int) *big.Int {
	one := big.NewInt(1)
	return one.Add(one, big.NewInt(l.gives[stock]))
}

// holdsWithin judges by lists of nothing else that boards give no more than a leaf says.
func (l *leafProof) holdsWithin() bool {
	needs := make([]*big.Int, len(l.stocks))
	for s := range needs {
		if l.claims(s) {
			needs[s] = l.above(s)
		}
	}
	return l.lists(needs) != nil
}

// lists lists stocks down to their needs, at the duals of the leaf; nil needs no list. It judges
// that no board gives more than the leaf says. Stocks alike in all that matters share their lists.
// It is nil where something is amiss, which it then says.
func (l *leafProof) lists(needs []*big.Int) [][]patterns.Pattern {
	out := make([][]patterns.Pattern, len(l.stocks))
	left := along.MaxListed // patterns that may be listed yet
	for s, need := range needs {
		if need == nil || len(l.items[s]) == 0 {
			continue
		}
		one := &l.stocks[s].oneBoard
		alike := 0
		for alike < s && (needs[alike] == nil || needs[alike].Cmp(need) != 0 ||
			!l.stocks[alike].equal(one) || !slices.Equal(l.items[alike], l.items[s])) {
			alike++
		}
		if alike < s {
			out[s] = out[alike]
		} else if out[s] = l.list(s, need, left); l.late || out[s] == nil {
			return nil
		} else {
			left -= len(out[s])
		}
		if l.claims(s) && !l.isWithin(s, out[s]) {
			return nil
		}
	}
	return out
}

// list lists one stock; nil where it cannot, which it then says.
func (l *leafProof) list(s int, need *big.Int, left int) []patterns.Pattern {
	if l.isLate() {
		return nil
	}
	one, set := &l.stocks[s].oneBoard, &l.job.Settings
	var found []patterns.Pattern
	why, work := "", int64(0)
	if one.across != nil {
		held := make([]across.Wanted, len(l.items[s]))
		for k, i := range l.itemsAcross(s, l.duals) {
			n := l.items[s][k]
			held[k] = across.Wanted{Item: i, Demand: l.cert.Items[n].Demand, Number: n}
		}
		found, why = l.strips.List(one.across, held, set.CrosscutKerf, set.RipKerf, need, left)
		work = l.strips.Work()
	} else {
		found, why = l.lister.List(one.along, l.itemsAlong(s, l.duals),
			set.CrosscutKerf/l.worth.Unit, l.best[s], need, left)
		work = l.lister.Work()
	}
	if l.isLate() { // so it may not be listed
		return nil
	}
	if l.steps -= work; l.steps < 0 {
		why = "the lists of the group take too long"
	}
	if why != "" {
		l.say(l.where, "the patterns of stock %d cannot be listed: %s", s, why)
		return nil
	}
	if found == nil {
		found = []patterns.Pattern{}
	}
	return found
}

// isWithin says whether no pattern of a stock gives more than the leaf says.
func (l *leafProof) isWithin(s int, list []patterns.Pattern) bool {
	if len(list) == 0 {
		return true
	}
	most := slices.Max(given(list, l.duals, nil))
	if most > l.gives[s] {
		l.say(l.where, "one board of stock %d gives %d within the demands, not %d or less", s, most,
			l.gives[s])
		return false
	}
	return true
}
