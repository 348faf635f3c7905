package proof

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestBoundsAcceptsAListMadeByHand(t *testing.T) {
	for _, f := range bounds(handmade.Threes()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// With a board of 6 for the last part the plan is the cheapest, at 160. At duals of 50 the leaf
// proves 150, and a board of 6 adds its net of 10: no plan below 160 can take one. So all parts
// come from two boards of 11. A tick less in one dual, and the room is 160 - 150 exactly: boards of
// 6 may be used. Four of them give the cut's 100 for 60 each.
func TestListsLeaveOutWhatCostsTooMuch(t *testing.T) {
	job, plan := handmade.Threes()
	for i := 3; i < 5; i++ {
		plan.Cuts[i].To = min(plan.Cuts[i].To, 6)
	}
	plan.Cuts, plan.Placements[1].Offer = plan.Cuts[:4], 3
	g := &plan.Groups[0]
	plan.Value, g.Value, g.Proof = 160, 160, model.Optimal
	leaf := &g.Certificate.Root
	list := leaf.List
	list.Target = handmade.ThreesTicks(160)
	list.Cuts, list.Duals = list.Cuts[:1], []int64{0, 0, 0}
	list.CutDuals = []int64{handmade.ThreesTicks(100)}
	for _, f := range bounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	leaf.Duals[2]--
	handmade.Want(t, bounds(job, plan), "the certificate proves 0.004") // 2 x 100 - 4 x 40
}

// wordColumn is a pattern of a stock by the words at the heads of list.go and cuts.go.
type wordColumn struct {
	stock int
	takes [2]int64
	worth int64
}

// wordColumns lists the patterns that a plan of a leaf cheaper than a value can use; l is what the
// leaf proves by its duals.
func (p *tinyProgram) wordColumns(l *leafProof, duals []int64, value int64) []wordColumn {
	var out []wordColumn
	for s := range p.stocks {
		if l.limits[s].most == 0 {
			continue
		}
		net := p.words[s].cost - l.gives[s]
		for counts, worth := range p.waysOf(s) {
			a := wordColumn{stock: s, worth: worth, takes: [2]int64{counts[0], counts[1]}}
			e := p.words[s].cost - worth - counts[0]*duals[0] - counts[1]*duals[1] - net
			if net > 0 && l.limits[s].least == 0 {
				e += net
			}
			if l.sum.Int64()+e < value {
				out = append(out, a)
			}
		}
	}
	return out
}

// wordRow is one row: what it has for each column, and what it asks for.
type wordRow struct {
	coefs []*big.Int
	least *big.Int
}

// wordRows are the rows that stand without cuts; nil for a stock of which there is any number.
func (p *tinyProgram) wordRows(columns []wordColumn, l *leafProof) []*wordRow {
	row := func(least int64, coef func(a wordColumn) int64) *wordRow {
		out := &wordRow{least: big.NewInt(least)}
		for _, a := range columns {
			out.coefs = append(out.coefs, big.NewInt(coef(a)))
		}
		return out
	}
	of := func(a wordColumn, s int, v int64) int64 {
		if a.stock != s {
			return 0
		}
		return v
	}
	var rows []*wordRow
	for i, item := range p.cert.Items {
		rows = append(rows, row(item.Demand, func(a wordColumn) int64 { return a.takes[i] }))
	}
	for s, boards := range l.limits {
		rows = append(rows, row(-boards.most, func(a wordColumn) int64 { return of(a, s, -1) }))
		if boards.most == unlimited {
			rows[len(rows)-1] = nil
		}
	}
	for s, boards := range l.limits {
		rows = append(rows, row(boards.least, func(a wordColumn) int64 { return of(a, s, 1) }))
	}
	return rows
}

// wordCut makes a cut from rows; nil where it is refused. It says whether the numbers were too
// large to stand as they are.
func wordCut(cut model.CertCut, rows []*wordRow) (made *wordRow, large bool) {
	den, f := big.NewInt(cut.Den), new(big.Int)
	g := func(v *big.Int) *big.Int { // big.Int divides with a rest that is never below 0
		rest := new(big.Int).Mod(v, den)
		if rest.Cmp(f) > 0 {
			rest.Set(f)
		}
		return rest.Add(rest, new(big.Int).Mul(f, new(big.Int).Div(v, den)))
	}
	sum := func(of func(*wordRow) *big.Int, times func(u int64) *big.Int) *big.Int {
		out := new(big.Int)
		for _, r := range cut.Rows {
			out.Add(out, new(big.Int).Mul(times(r[1]), of(rows[r[0]])))
		}
		return out
	}
	least := func(r *wordRow) *big.Int { return r.least }
	back := func(u int64) *big.Int { return g(big.NewInt(-u)) }
	for _, r := range cut.Rows {
		if rows[r[0]] == nil {
			return nil, false
		}
	}
	beta := sum(least, big.NewInt)
	if f.Mod(beta, den); f.Sign() == 0 {
		return nil, false
	}
	made = &wordRow{least: new(big.Int).Div(beta, den)}
	made.least.Add(made.least, big.NewInt(1)).Mul(made.least, f).Add(made.least, sum(least, back))
	for j := range rows[0].coefs {
		coef := func(r *wordRow) *big.Int { return r.coefs[j] }
		made.coefs = append(made.coefs, new(big.Int).Add(g(sum(coef, big.NewInt)), sum(coef, back)))
	}
	common, most := new(big.Int), new(big.Int)
	for _, v := range append(slices.Clone(made.coefs), made.least) {
		v = new(big.Int).Abs(v)
		if common.GCD(nil, nil, common, v); v.Cmp(most) > 0 {
			most = v
		}
	}
	if most.Sign() == 0 {
		return nil, false
	}
	by, top := common, big.NewInt(1<<20)
	if large = new(big.Int).Div(most, common).Cmp(top) > 0; large {
		by = new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(most), top))
	}
	for _, v := range append(slices.Clone(made.coefs), made.least) {
		v.Neg(v.Div(v.Neg(v), by))
	}
	return made, large
}

// byTheWords is what a list proves by the heads of list.go and cuts.go, word by word; nil
// where that is nothing.
func (p *tinyProgram) byTheWords(list *model.CertList, l *leafProof,
	duals []int64) (proven *big.Int,
	what string) {
	value := list.Target
	if l.sum.Int64() >= value {
		return big.NewInt(value), "no room"
	}
	columns := p.wordColumns(l, duals, value)
	for s := range p.stocks {
		if l.limits[s].least > 0 && !slices.ContainsFunc(columns, func(a wordColumn) bool {
			return a.stock == s
		}) {
			return big.NewInt(value), "empty"
		}
	}
	return p.wordNode(&list.CertListNode, columns, p.wordRows(columns, l), l, value)
}

// wordNode is what a list or a part of it proves over columns, with the rows made so far.
func (p *tinyProgram) wordNode(list *model.CertListNode, columns []wordColumn, rows []*wordRow,
	l *leafProof, value int64) (proven *big.Int, what string) {
	fixed, above := len(p.cert.Items)+2*len(p.stocks), len(rows)
	what = "small"
	cutUpTo := func(n int) bool {
		for _, cut := range list.Cuts[len(rows)-above : n-(above-fixed)] {
			made, large := wordCut(cut, rows)
			if rows = append(rows, made); made == nil {
				return false
			}
			if large {
				what = "large"
			}
		}
		return true
	}
	for _, struck := range list.Struck {
		if !cutUpTo(len(struck.CutDuals)) {
			return nil, "refused"
		}
		sum, excess, net, why := p.wordSum(columns, rows[fixed:], l, struck.Duals, struck.CutDuals)
		if sum == nil {
			return nil, why
		}
		before := len(columns)
		var kept []wordColumn
		coefs := make([][]*big.Int, len(rows))
		for j, a := range columns {
			then := new(big.Int).Add(sum, excess[j])
			if net[a.stock].Sign() < 0 || l.limits[a.stock].least > 0 {
				then.Sub(then, net[a.stock])
			}
			if then.Cmp(big.NewInt(value)) >= 0 {
				continue
			}
			kept = append(kept, a)
			for n, row := range rows {
				if row != nil {
					coefs[n] = append(coefs[n], row.coefs[j])
				}
			}
		}
		columns = kept
		for n, row := range rows {
			if row != nil {
				row.coefs = coefs[n]
			}
		}
		for s := range p.stocks {
			if l.limits[s].least > 0 && !slices.ContainsFunc(columns, func(a wordColumn) bool {
				return a.stock == s
			}) {
				return big.NewInt(value), "struck empty"
			}
		}
		if len(columns) < before {
			what = "struck"
		}
	}
	if !cutUpTo(above - fixed + len(list.Cuts)) {
		return nil, "refused"
	}
	if list.Split != nil {
		return p.wordSplit(list.Split, columns, rows, l, value)
	}
	sum, _, _, why := p.wordSum(columns, rows[fixed:], l, list.Duals, list.CutDuals)
	if sum == nil {
		return nil, why
	}
	if sum.Cmp(big.NewInt(value)) > 0 {
		sum.SetInt64(value)
	}
	return sum, what
}

// wordSum is the sum that duals prove over columns and cuts, with the excess of each column and the
// net of each stock, nil where it has no column. The sum is nil where it proves nothing, and then
// it says why.
func (p *tinyProgram) wordSum(columns []wordColumn, cuts []*wordRow, l *leafProof, duals,
	cutDuals []int64) (sum *big.Int, excess, net []*big.Int, why string) {
	size := new(big.Int)
	for c, tau := range cutDuals {
		largest := new(big.Int)
		for _, a := range cuts[c].coefs {
			if a.CmpAbs(largest) > 0 {
				largest.Abs(a)
			}
		}
		size.Add(size, largest.Mul(largest, big.NewInt(tau)))
	}
	if size.BitLen() > 61 {
		return nil, nil, nil, "too large"
	}
	sum, net = new(big.Int), make([]*big.Int, len(p.stocks))
	for i, d := range duals {
		sum.Add(sum, big.NewInt(d*p.cert.Items[i].Demand))
	}
	for c, tau := range cutDuals {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(tau), cuts[c].least))
	}
	for j, a := range columns {
		v := big.NewInt(p.words[a.stock].cost - a.worth - duals[0]*a.takes[0] -
			duals[1]*a.takes[1])
		for c, tau := range cutDuals {
			v.Sub(v, new(big.Int).Mul(big.NewInt(tau), cuts[c].coefs[j]))
		}
		if excess = append(excess, v); net[a.stock] == nil || v.Cmp(net[a.stock]) < 0 {
			net[a.stock] = v
		}
	}
	for s, n := range net {
		if n == nil {
			continue
		}
		if n.Sign() < 0 && l.limits[s].most == unlimited {
			return nil, nil, nil, "no end"
		}
		few, many := new(big.Int).Mul(n, big.NewInt(l.limits[s].least)),
			new(big.Int).Mul(n, big.NewInt(l.limits[s].most))
		if many.Cmp(few) < 0 {
			few = many
		}
		sum.Add(sum, few)
	}
	return sum, excess, net, ""
}

func TestListBoundIsByTheWords(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	met := map[string]int{}
	for n := range 10000 {
		p := anyProgram(r)
		if last := len(p.stocks) - 1; r.IntN(3) == 0 &&
			p.limits[last] == (useRange{0, p.stocks[last].supply}) {
			p.stocks[last].supply, p.limits[last].most = unlimited, unlimited
		}
		if r.IntN(4) == 0 { // alike, but for what they hold
			p.stocks[1].oneBoard, p.items[1] = p.stocks[0].oneBoard,
				p.items[0][r.IntN(len(p.items[0])+1):]
			p.words[1] = p.words[0]
			if p.ways != nil {
				p.ways[1] = p.ways[0]
			}
		}
		duals := p.randomDuals(r)
		l := p.within(r, duals)
		if l == nil {
			p.found = nil
			continue
		}
		value := l.sum.Int64() + 1 + r.Int64N(p.worth.Ticks(30))
		list := &model.CertList{Target: value,
			CertListNode: model.CertListNode{Duals: p.randomDuals(r)}}
		if c := p.closing(t, l, value); c != nil {
			list = p.randomList(r, c)
		}
		if r.IntN(3) == 0 {
			list.Cuts = append(list.Cuts,
				randomCut(r, len(p.cert.Items)+2*len(p.stocks)+len(list.Cuts)))
			list.CutDuals = append(list.CutDuals, r.Int64N(p.worth.Ticks(15)))
		}
		p.strikeAtRandom(r, list)
		if r.IntN(3) == 0 {
			p.splitAtRandom(r, &list.CertListNode, 0)
		}
		got := l.byList(list)
		want, what := p.byTheWords(list, l, duals)
		if (got == nil) != (want == nil) || got != nil && got.Cmp(want) != 0 ||
			(got == nil) != (len(p.found) > 0) {
			t.Fatalf("job %d: the list proves %v, by the words %v, %s: %v", n, got, want, what,
				p.found)
		}
		if met[what]++; got != nil && got.Int64() < value {
			met["below the value"]++
		}
	}
	for what, least := range map[string]int{"small": 1000, "large": 100, "empty": 20,
		"refused": 300, "no end": 100, "too large": 20, "below the value": 1000,
		"struck": 500, "struck empty": 20, "split": 500} {
		if met[what] < least {
			t.Errorf("%d were %s: too few to trust", met[what], what)
		}
	}
}

func TestBoundsRefusesLists(t *testing.T) {
	list := func(p *model.Plan) *model.CertList { return p.Groups[0].Certificate.Root.List }
	cut := func(p *model.Plan, k int) *model.CertCut { return &list(p).Cuts[k] }
	ticks := handmade.ThreesTicks
	free := model.CertListNode{Duals: []int64{0, 0, 0}}
	twin := func(p *model.Plan, bound model.Money) { p.Groups[0].Bound, p.Bound = bound, bound }
	for _, s := range []handmade.Spoilt{
		{What: "no list", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Root.List = nil
		}, Want: "the certificate proves 0.015"},
		{What: "no cuts", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Cuts, list(p).CutDuals = nil, nil
		}, Want: "the certificate proves 0.012"},
		{What: "bound a unit higher", Spoil: func(j *model.Job, p *model.Plan) {
			twin(p, 161)
		}, Want: "the certificate proves 0.016"},
		{What: "bound a unit lower", Spoil: func(j *model.Job, p *model.Plan) {
			twin(p, 159)
		}, Want: "the certificate proves 0.016"},
		{What: "value too low", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Value, p.Value = 159, 159
		}, Want: "the value is 0.0159"},
		{What: "target lower", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Target = ticks(155)
		}, Want: "the certificate proves 0.0155"},
		{What: "target below what the duals of the leaf prove",
			Spoil: func(j *model.Job, p *model.Plan) {
				list(p).Target = ticks(140)
			}, Want: "the certificate proves 0.014"},
		// a plan of 150 and no more may cost a tick less than this, and the list proves nothing
		{What: "target a tick above what the duals of the leaf prove",
			Spoil: func(j *model.Job, p *model.Plan) {
				*list(p) = model.CertList{Target: ticks(150) + 1, CertListNode: free}
			}, Want: "the certificate proves 0.00"},
		{What: "target that the duals of the leaf prove",
			Spoil: func(j *model.Job, p *model.Plan) {
				*list(p) = model.CertList{Target: ticks(150), CertListNode: free}
			}, Want: "the certificate proves 0.015"},
		{What: "no target", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Target = 0
		}, Want: "the certificate proves 0.00"},
		// 161 - 3 - 4
		{What: "dual higher", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[0] += ticks(1)
		}, Want: "the certificate proves 0.0154"},
		{What: "dual lower", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[0] -= ticks(1)
		}, Want: "the certificate proves 0.0159"},
		{What: "dual below 0", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[1] = -1
		}, Want: "has a dual below 0: -1"},
		{What: "dual too large", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[1] = math.MaxInt64 / 2
		}, Want: "the duals of the list are too large to reckon with"},
		{What: "dual missing", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals = list(p).Duals[:2]
		}, Want: "has 2 duals for 3 items, and 2 for 2 cuts"},
		{What: "dual too many", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals = append(list(p).Duals, 0)
		}, Want: "has 4 duals for 3 items"},
		// 162 - 3 - 4
		{What: "dual of a cut higher", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals[0] += ticks(1)
		}, Want: "the certificate proves 0.0155"},
		{What: "dual of a cut lower", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals[1] -= ticks(1)
		}, Want: "the certificate proves 0.0158"},
		{What: "dual of a cut below 0", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals[1] = -5
		}, Want: "has a dual below 0: -5"},
		{What: "dual of a cut too large", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals[1] = math.MaxInt64
		}, Want: "the duals of the cuts are too large to reckon with"},
		{What: "dual of a cut missing", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals = list(p).CutDuals[:1]
		}, Want: "has 3 duals for 3 items, and 1 for 2 cuts"},
		{What: "struck by a dual below 0", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Struck = []model.CertStruck{{Duals: []int64{0, -1, 0}}}
		}, Want: "list, struck 0: has a dual below 0: -1"},
		{What: "struck by too few duals", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Struck = []model.CertStruck{{Duals: []int64{0, 0}}}
		}, Want: "list, struck 0: has 2 duals for 3 items, and 0 for 0 cuts"},
		{What: "struck by more cuts than there are", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Struck = []model.CertStruck{
				{Duals: make([]int64, 3), CutDuals: make([]int64, 3)}}
		}, Want: "list, struck 0: has 3 duals for 3 items, and 3 for 2 cuts"},
		{What: "struck by fewer cuts than before", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Struck = []model.CertStruck{
				{Duals: make([]int64, 3), CutDuals: make([]int64, 1)}, {Duals: make([]int64, 3)}}
		}, Want: "list, struck 1: goes by 0 cuts, and the one before by 1"},
		{What: "struck by a dual too large", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Struck = []model.CertStruck{
				{Duals: make([]int64, 3), CutDuals: []int64{math.MaxInt64}}}
		}, Want: "the duals of the cuts are too large to reckon with"},
		{What: "struck too often", Spoil: func(j *model.Job, p *model.Plan) {
			for range maxStruck + 1 {
				list(p).Struck = append(list(p).Struck, model.CertStruck{Duals: make([]int64, 3)})
			}
		}, Want: "strikes off 101 times; it may 100 times"},
		// nothing is struck off by duals that prove 0, and the proof is what it was
		{What: "struck too early, bound a unit lower", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Struck = []model.CertStruck{{Duals: make([]int64, 3)}}
			twin(p, 159)
		}, Want: "the certificate proves 0.016"},
		{What: "dual of no cut", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals = append(list(p).CutDuals, 0)
		}, Want: "has 3 duals for 3 items, and 3 for 2 cuts"},
		{What: "cut dropped", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Cuts, list(p).CutDuals = list(p).Cuts[:1], []int64{ticks(15)}
		}, Want: "the certificate proves 0.015"},
		{What: "cut dropped that another is made from", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Cuts, list(p).CutDuals = list(p).Cuts[1:], []int64{ticks(20)}
		},
			Want: "cut 0: names row 7; the rows before it are 0 to 6"},
		{What: "cuts swapped", Spoil: func(j *model.Job, p *model.Plan) {
			slices.Reverse(list(p).Cuts)
		}, Want: "cut 0: names row 7; the rows before it are 0 to 6"},
		{What: "cut made from itself", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Rows[0][0] = 8
		}, Want: "cut 1: names row 8; the rows before it are 0 to 7"},
		{What: "row that is not there", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[0][0] = -1
		}, Want: "cut 0: names row -1"},
		{What: "row far off", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[2][0] = math.MaxInt64
		}, Want: "cut 0: names row 9223372036854775807"},
		{What: "row twice", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[1][0] = 0
		}, Want: "cut 0: names row 0 after row 0; rows are to rise"},
		{What: "rows in another order", Spoil: func(j *model.Job, p *model.Plan) {
			slices.Reverse(cut(p, 0).Rows)
		}, Want: "cut 0: names row 1 after row 2; rows are to rise"},
		{What: "row left away", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows = cut(p, 0).Rows[1:]
		}, Want: "cut 0: comes to a multiple of its denominator"},
		{What: "no rows", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Rows = nil
		}, Want: "cut 1: comes to a multiple of its denominator"},
		// boards with the 4 are at least 1: 120 + 30 + 5
		{What: "another row", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Rows[0][0] = 0
		}, Want: "the certificate proves 0.0155"},
		// cut 0 asks for 0
		{What: "most of a stock for a part", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[2][0] = 3
		}, Want: "cut 1: comes to a multiple of its denominator"},
		{What: "least of a stock", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[2][0] = 5
		}, Want: "cut 0: comes to a multiple of its denominator"},
		{What: "denominator 1", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Den = 1
		}, Want: "cut 0: has the denominator 1; it is to be from 2 to 65536"},
		{What: "denominator below 0", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Den = -3
		}, Want: "cut 1: has the denominator -3"},
		{What: "denominator too large", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Den = MostDen + 1
		}, Want: "cut 1: has the denominator 65537"},
		{What: "denominator that divides", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Den = 3
		}, Want: "cut 0: comes to a multiple of its denominator"},
		// cut 0 asks for 3
		{What: "denominator higher", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Den = 4
		}, Want: "cut 1: comes to a multiple of its denominator"},
		{What: "multiplier 0", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[1][1] = 0
		}, Want: "cut 0: has the multiplier 0 for row 1; it is to be from 1 to 1"},
		{What: "multiplier below 0", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Rows[0][1] = -1
		}, Want: "cut 1: has the multiplier -1 for row 7; it is to be from 1 to 2"},
		{What: "multiplier as large as the denominator", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 0).Rows[1][1] = 2
		}, Want: "cut 0: has the multiplier 2 for row 1"},
		{What: "any number of boards", Spoil: func(j *model.Job, p *model.Plan) {
			j.Yard[0].Available, p.Groups[0].Certificate.Stocks[0].Supply = nil, nil
			list(p).Duals[0] += ticks(1)
		}, Want: "the list proves nothing: stock 0, of which there is any number"},
		{What: "most of any number of boards", Spoil: func(j *model.Job, p *model.Plan) {
			j.Yard[0].Available, p.Groups[0].Certificate.Stocks[0].Supply = nil, nil
			cut(p, 0).Rows[2][0] = 3
		}, Want: "cut 0: names row 3, of which there is no end, or more than 2^20"},
		{What: "too many cuts", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Cuts = make([]model.CertCut, maxCuts+1)
		}, Want: "has 2001 cuts; there may be 2000"},
		{What: "too many rows", Spoil: func(j *model.Job, p *model.Plan) {
			cut(p, 1).Rows = make([][2]int64, maxNamed+1)
		}, Want: "cut 1: names 65537 rows; it may name 65536"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := handmade.Threes()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}
