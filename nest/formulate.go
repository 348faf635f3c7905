package nest

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/nest/cutting"
)

// group is a connected set of parts and boards, as a cutting-stock program and what its indices
// stand for. Items and stocks are in an order that does not depend on the order of the input.
type group struct {
	name    string
	program cutting.Problem
	items   []item
	stocks  []stock
	list    []int // the item of every copy, in the order of the parts list
}

// item is a blank length of one face that one set of stocks holds, and of one finished width where
// any of these can be ripped (else 0); its copies in the order in which they are dealt out.
type item struct {
	copies []copyOf
	length model.Length
	width  model.Length
	face   model.Face
}

type copyOf struct {
	part int // index of Job.Parts
	copy int64
}

// stock is a set of alike rack boards, or one offer.
type stock struct {
	boards []int  // indices of Job.Rack; empty for an offer
	offer  int    // index of Job.Yard
	kind   string // all that tells it from others, of whatever place in the input
}

func (s *stock) onHand() bool { return len(s.boards) > 0 }

// formulator carries what the groups are made from.
type formulator struct {
	job    *model.Job
	worth  *model.Valuation
	stocks []stock
	specs  []cutting.Stock
	holds  [][]int // for each part, the stocks that hold it
	root   []int   // union-find over stocks
}

// formulate sorts the job into groups, and names the parts that nothing can hold.
func formulate(job *model.Job, worth *model.Valuation) ([]*group, []model.Shortage) {
	f := &formulator{job: job, worth: worth}
	f.stock()
	var short []model.Shortage
	for i := range job.Parts {
		held, reason := f.holders(&job.Parts[i])
		f.holds = append(f.holds, held)
		if len(held) == 0 {
			short = append(short, shortage(&job.Parts[i], copies(1, job.Parts[i].Qty), reason))
		}
	}
	f.widen()
	f.connect()
	return f.groups(), short
}

// widen tells of the stocks that can be ripped what they are across.
func (f *formulator) widen() {
	parts := make([][]*model.Part, len(f.stocks))
	for i, held := range f.holds {
		for _, n := range held {
			parts[n] = append(parts[n], &f.job.Parts[i])
		}
	}
	for n := range f.stocks {
		if b, o := f.board(n); f.job.Rippable(b, o, parts[n]) {
			f.specs[n].Across, f.specs[n].Spots = f.across(b), f.patches(b, &f.specs[n])
		}
	}
}

// across is what a board is across its length.
func (f *formulator) across(b *model.Board) *cutting.Across {
	job, safe := f.job, f.job.Settings.SafetyFor(b.Material, b.Section)
	return &cutting.Across{Width: int64(b.Width), Inset: int64(job.Inset(&b.Wood)),
		Keep: int64(job.KeepWidth(&b.Wood)),
		Trim: job.Settings.TrimmingCut, ShortestRip: int64(safe.ShortestRip),
		Narrowest: int64(safe.NarrowestRip)}
}

// patches are the spots of a board that can be ripped, each with its part of the width.
func (f *formulator) patches(b *model.Board, s *cutting.Stock) (out []cutting.Spot) {
	for _, d := range b.Defects {
		one := model.Board{Wood: b.Wood, Defects: []model.Defect{d}}
		for _, r := range f.job.WidenedRects(&one, nil) {
			p := cutting.Spot{Left: int64(r.Left), Right: int64(r.Right)}
			p.From, p.To = max(s.From, int64(r.From)), min(s.To, int64(r.To))
			for q := range p.Tolerated {
				p.Tolerated[q] = f.job.Settings.Tolerates(model.Face(q), d.Kind)
			}
			if p.From < p.To {
				out = append(out, p)
			}
		}
	}
	slices.SortFunc(out, compareSpots)
	return slices.Compact(out)
}

// spotsBy are the spots of a stock that has Across, or that has not; else none.
func spotsBy(s *cutting.Stock, across bool) []cutting.Spot {
	if across != (s.Across != nil) {
		return nil
	}
	return s.Spots
}

func copies(from, to int64) (c []int64) {
	for n := from; n <= to; n++ {
		c = append(c, n)
	}
	return c
}

func shortage(p *model.Part, copies []int64, reason string) model.Shortage {
	return model.Shortage{Commission: p.Commission, Part: p.Name, Copies: copies, Reason: reason}
}

// stock lists the wood that could be used: alike rack boards together, and each offer.
func (f *formulator) stock() {
	alike := map[string]int{}
	named := f.named()
	for i := range f.job.Rack {
		b := &f.job.Rack[i]
		spec := f.spec(&b.Wood, model.FromRack, b)
		kind := fmt.Sprintf("%v %v %v %v %q %t %d %q", b.Wood, spec, *f.across(b),
			f.patches(b, &spec), b.For,
			b.Untouched, b.Longest, named(b))
		if n, ok := alike[kind]; ok {
			f.stocks[n].boards = append(f.stocks[n].boards, i)
			f.specs[n].Supply++
			continue
		}
		alike[kind] = len(f.stocks)
		f.stocks, f.specs = append(f.stocks, stock{boards: []int{i}, kind: kind}),
			append(f.specs, spec)
	}
	// the older of alike boards goes first, a board without a date last
	for _, s := range f.stocks {
		slices.SortStableFunc(s.boards, func(a, b int) int {
			return earlier(f.job.Rack[a].Since, f.job.Rack[b].Since)
		})
	}
	for i := range f.job.Yard {
		o := &f.job.Yard[i]
		n := f.job.ForSale(o)
		if n != nil && *n == 0 {
			continue
		}
		spec := f.spec(&o.Wood, model.FromYard, nil)
		spec.Cost, spec.Supply = int64(f.job.PaidFor(o)+f.job.Settings.Handling), cutting.Any
		spec.Rate = cutting.Rate(f.worth.RateOfOffer(o))
		if n != nil {
			spec.Supply = *n
		}
		f.stocks, f.specs = append(f.stocks, stock{offer: i, kind: fmt.Sprint(o.Wood, spec)}),
			append(f.specs, spec)
	}
}

// named gives the names of a board by which some part asks for it; boards that differ there are not
// alike.
func (f *formulator) named() func(b *model.Board) []string {
	var names []string
	for i := range f.job.Parts {
		if name := f.job.Parts[i].Board; name != "" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	return func(b *model.Board) (its []string) {
		for _, n := range names {
			if b.Answers(n) {
				its = append(its, n)
			}
		}
		return its
	}
}

// spec is a wood as the engine sees it; for a rack board with its defects, cost and rate.
func (f *formulator) spec(w *model.Wood, o model.Origin, b *model.Board) cutting.Stock {
	trim := f.job.Settings.TrimFor(o)
	s := cutting.Stock{From: int64(trim), To: int64(max(trim, w.Length-trim)), Supply: 1,
		Keep: int64(f.worth.Keep(w))}
	if b == nil {
		return s
	}
	s.Cost = int64(f.worth.WorthOfBoard(b) + f.job.Settings.Handling)
	s.Rate = cutting.Rate(f.worth.RateOfBoard(b))
	for _, d := range b.Defects {
		spot := cutting.Spot{
			From: max(s.From, int64(d.From-f.job.Settings.Margin)),
			To:   min(s.To, int64(d.To+f.job.Settings.Margin)),
		}
		for q := range spot.Tolerated {
			spot.Tolerated[q] = f.job.Settings.Tolerates(model.Face(q), d.Kind)
		}
		if spot.From < spot.To {
			s.Spots = append(s.Spots, spot)
		}
	}
	slices.SortFunc(s.Spots, compareSpots)
	return s
}

func compareSpots(a, b cutting.Spot) int {
	return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To),
		cmp.Compare(fmt.Sprint(a.Tolerated), fmt.Sprint(b.Tolerated)),
		cmp.Compare(a.Left, b.Left), cmp.Compare(a.Right, b.Right))
}

// holders are the stocks that hold a part; where none can give it, why not, by the rule that came
// nearest.
func (f *formulator) holders(p *model.Part) (held []int, reason string) {
	nearest, clear := 0, false
	for n := range f.stocks {
		b, o := f.board(n)
		ok, why := f.job.Holds(p, b, o)
		if !ok {
			nearest = max(nearest, slices.Index(model.Hindrances, why))
			continue
		}
		held = append(held, n)
		clear = clear || f.job.HasRun(p, b, o)
	}
	switch {
	case len(held) == 0:
		return nil, model.Hindrances[max(nearest, f.beyondLoad(p))]
	case !clear:
		return nil, model.NoClearRun
	}
	return held, ""
}

// beyondLoad is how near a part came to the boards for sale that are no stock because they cannot
// be brought.
func (f *formulator) beyondLoad(p *model.Part) (nearest int) {
	for i := range f.job.Yard {
		o := &f.job.Yard[i]
		if f.job.Carried(o) || o.Available != nil && *o.Available == 0 {
			continue
		}
		ok, why := f.job.Holds(p, &model.Board{Wood: o.Wood}, model.FromYard)
		if ok {
			why = model.TooLongToCarry
		}
		nearest = max(nearest, slices.Index(model.Hindrances, why))
	}
	return nearest
}

// board is one board of a stock.
func (f *formulator) board(n int) (*model.Board, model.Origin) {
	if s := &f.stocks[n]; s.onHand() {
		return &f.job.Rack[s.boards[0]], model.FromRack
	}
	return &model.Board{Wood: f.job.Yard[f.stocks[n].offer].Wood}, model.FromYard
}

// connect joins the stocks that share a part.
func (f *formulator) connect() {
	f.root = make([]int, len(f.stocks))
	for n := range f.root {
		f.root[n] = n
	}
	for _, held := range f.holds {
		for _, n := range held {
			f.root[f.find(n)] = f.find(held[0])
		}
	}
}

func (f *formulator) find(n int) int {
	for f.root[n] != n {
		n = f.root[n]
	}
	return n
}

// groups makes one program of each connected set, in the order of the parts list.
func (f *formulator) groups() []*group {
	var out []*group
	at := map[int]*group{}
	parts := map[*group][]int{}
	for i, held := range f.holds {
		if len(held) == 0 {
			continue
		}
		root := f.find(held[0])
		g := at[root]
		if g == nil {
			g = &group{}
			at[root] = g
			out = append(out, g)
		}
		parts[g] = append(parts[g], i)
	}
	names := map[string]int{}
	for _, g := range out {
		f.fill(g, parts[g])
		if names[g.name]++; names[g.name] > 1 {
			g.name = fmt.Sprintf("%s (%d)", g.name, names[g.name])
		}
	}
	return out
}

// fill makes the program of the group that a set of parts belongs to.
func (f *formulator) fill(g *group, parts []int) {
	g.program.Kerf, g.program.Rip = int64(f.job.Settings.CrosscutKerf),
		int64(f.job.Settings.RipKerf)
	index := f.fillStocks(g, f.find(f.holds[parts[0]][0]))
	due := map[string]string{}
	for _, c := range f.job.Commissions {
		due[c.Name] = c.Due
	}
	type key struct {
		length model.Length
		width  model.Length // of the part; 0 where none of its stocks can be ripped
		face   model.Face
		held   string
	}
	keyOf := func(i int) key {
		p, held, width := &f.job.Parts[i], []int(nil), model.Length(0)
		for _, n := range f.holds[i] {
			held = append(held, index[n])
			if f.specs[n].Across != nil {
				width = p.Width
			}
		}
		slices.Sort(held)
		return key{f.job.BlankLength(p), width, p.Face, fmt.Sprint(held)}
	}
	order := map[key]int{}
	var keys []key
	for _, i := range parts {
		if k := keyOf(i); order[k] == 0 {
			order[k] = 1
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(a, b key) int {
		return cmp.Or(cmp.Compare(b.length, a.length), cmp.Compare(b.width, a.width),
			cmp.Compare(a.face, b.face), cmp.Compare(a.held, b.held))
	})
	for n, k := range keys {
		order[k] = n
		g.items = append(g.items, item{length: k.length, width: k.width, face: k.face})
		g.program.Items = append(g.program.Items,
			cutting.Item{Size: int64(k.length), Class: int(k.face)})
	}
	for _, i := range parts {
		n := order[keyOf(i)]
		for c := range f.job.Parts[i].Qty {
			g.items[n].copies = append(g.items[n].copies, copyOf{i, c + 1})
			g.list = append(g.list, n)
		}
		g.program.Items[n].Demand += f.job.Parts[i].Qty
		for _, s := range f.holds[i] {
			st, p := &g.program.Stocks[index[s]], &f.job.Parts[i]
			st.Holds = append(st.Holds, n)
			if st.Across == nil {
				continue
			}
			if b, _ := f.board(s); p.Whole(&b.Wood) {
				st.Across.Whole = append(st.Across.Whole, n)
			} else {
				g.program.Items[n].Width = int64(f.job.BlankIn(p, &b.Wood).Width)
			}
		}
	}
	for n := range g.program.Stocks {
		st := &g.program.Stocks[n]
		slices.Sort(st.Holds)
		st.Holds = slices.Compact(st.Holds)
		if a := st.Across; a != nil {
			slices.Sort(a.Whole)
			a.Whole = slices.Compact(a.Whole)
		}
	}
	for n := range g.items { // an earlier due date is served first; no date is last
		slices.SortStableFunc(g.items[n].copies, func(a, b copyOf) int {
			return earlier(due[f.job.Parts[a.part].Commission], due[f.job.Parts[b.part].Commission])
		})
	}
}

// earlier orders dates, no date last.
func earlier(a, b string) int {
	return cmp.Or(cmp.Compare(btoi(a == ""), btoi(b == "")), cmp.Compare(a, b))
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// rank puts the boards of the rack in the order in which they are best used up, all else equal: the
// older first, then the shorter.
func (f *formulator) rank(g *group) {
	var order []int
	for n := range g.stocks {
		if g.stocks[n].onHand() {
			order = append(order, n)
		}
	}
	first := func(n int) *model.Board { return &f.job.Rack[g.stocks[n].boards[0]] }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(earlier(first(a).Since, first(b).Since),
			cmp.Compare(first(a).Length, first(b).Length), cmp.Compare(a, b))
	})
	for at, n := range order {
		g.program.Stocks[n].Rank = int64(at * 1023 / len(order))
	}
}

// fillStocks takes the stocks of one connected set into a group: rack boards first, by what they
// are; index tells where each went.
func (f *formulator) fillStocks(g *group, root int) (index map[int]int) {
	var members []int
	for n := range f.stocks {
		if f.find(n) == root {
			members = append(members, n)
		}
	}
	slices.SortStableFunc(members, func(a, b int) int {
		sa, sb := &f.specs[a], &f.specs[b]
		return cmp.Or(cmp.Compare(btoi(!f.stocks[a].onHand()), btoi(!f.stocks[b].onHand())),
			cmp.Compare(sa.To-sa.From, sb.To-sb.From), cmp.Compare(sa.Cost, sb.Cost),
			slices.CompareFunc(spotsBy(sa, false), spotsBy(sb, false), compareSpots),
			slices.CompareFunc(spotsBy(sa, true), spotsBy(sb, true), compareSpots),
			strings.Compare(f.stocks[a].kind, f.stocks[b].kind))
	})
	index = map[int]int{}
	var names []string
	for at, n := range members {
		index[n] = at
		g.stocks = append(g.stocks, f.stocks[n])
		g.program.Stocks = append(g.program.Stocks, f.specs[n])
		w, _ := f.board(n)
		names = append(names, w.Material+" "+string(w.Section))
	}
	f.rank(g)
	slices.Sort(names)
	g.name = strings.Join(slices.Compact(names), ", ")
	return index
}
