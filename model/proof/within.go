package proof

import (
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
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
func (t *treeProof) holdsWithin(l *leafProof, where string) bool {
	needs := make([]*big.Int, len(t.stocks))
	for s := range needs {
		if l.claims(s) {
			needs[s] = l.above(s)
		}
	}
	b := &boardLists{t.proof, where, l.cert, t.stocks, t.items, l, &t.steps}
	return b.make(needs) != nil
}

// boardLists makes the lists of the stocks of a leaf, at its duals.
type boardLists struct {
	*proof
	where  string
	cert   *model.Certificate
	stocks []stock
	items  [][]int
	leaf   *leafProof
	work   *int64
}

// make lists stocks down to their needs; nil needs no list. It judges that no board gives more than
// the leaf says. Stocks alike in all that matters share their lists. It is nil where something is
// amiss, which it then says.
func (b *boardLists) make(needs []*big.Int) [][]along.Pattern {
	out := make([][]along.Pattern, len(b.stocks))
	left := along.MaxListed // patterns that may be listed yet
	for s, need := range needs {
		if need == nil || len(b.items[s]) == 0 {
			continue
		}
		one := &b.stocks[s].oneBoard
		alike := slices.IndexFunc(b.stocks[:s], func(o stock) bool { return o.equal(one) })
		for ; alike >= 0 && alike < s; alike++ {
			if needs[alike] != nil && needs[alike].Cmp(need) == 0 && b.stocks[alike].equal(one) &&
				slices.Equal(b.items[alike], b.items[s]) {
				break
			}
		}
		if alike >= 0 && alike < s {
			out[s] = out[alike]
		} else if out[s] = b.list(s, need, left); b.late || out[s] == nil {
			return nil
		} else {
			left -= len(out[s])
		}
		if b.leaf.claims(s) && !b.isWithin(s, out[s]) {
			return nil
		}
	}
	return out
}

// list lists one stock; nil where it cannot, which it then says.
func (b *boardLists) list(s int, need *big.Int, left int) []along.Pattern {
	if b.isLate() {
		return nil
	}
	one, set := &b.stocks[s].oneBoard, &b.job.Settings
	var found []along.Pattern
	why, work := "", int64(0)
	if one.across != nil {
		held := make([]across.Wanted, len(b.items[s]))
		for k, i := range itemsAcross(b.cert, one.across, b.items[s], b.leaf.duals) {
			n := b.items[s][k]
			held[k] = across.Wanted{Item: i, Demand: b.cert.Items[n].Demand, Number: n}
		}
		found, why = b.strips.List(one.across, held, set.CrosscutKerf, set.RipKerf, need, left)
		work = b.strips.Work()
	} else {
		found, why = b.lister.List(one.along, b.itemsAlong(b.cert, b.items[s], b.leaf.duals),
			b.items[s], set.CrosscutKerf/b.worth.Unit, b.leaf.best[s], need, left)
		work = b.lister.Work()
	}
	if b.isLate() { // so it may not be listed
		return nil
	}
	if *b.work -= work; *b.work < 0 {
		why = "the lists of the group take too long"
	}
	if why != "" {
		b.say(b.where, "the patterns of stock %d cannot be listed: %s", s, why)
		return nil
	}
	if found == nil {
		found = []along.Pattern{}
	}
	return found
}

// isWithin says whether no pattern of a stock gives more than the leaf says.
func (b *boardLists) isWithin(s int, list []along.Pattern) bool {
	if len(list) == 0 {
		return true
	}
	most := slices.Max(given(list, b.leaf.duals, nil))
	if most > b.leaf.gives[s] {
		b.say(b.where, "one board of stock %d gives %d within the demands, not %d or less", s, most,
			b.leaf.gives[s])
		return false
	}
	return true
}
