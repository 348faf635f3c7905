package nest

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/nest/cutting"
)

// A part's face is its item's class.
var _ = [1]struct{}{}[model.Faces-cutting.Classes]

// group is a connected set of parts and boards, as a cutting-stock program, and what the program's
// indices stand for. Items and stocks are in an order that does not depend on the order of the
// input.
type group struct {
	name    string
	program cutting.Problem
	items   []item
	stocks  []stock
	list    []int // the item of every copy, in the order of the parts list
	wants   []want
	item    map[int]int      // of the parts that are cut as they are
	rule    []cutting.Chosen // how what is wanted is made by the simple rule
	fixed   *cutting.Problem // the program of what is cut by that
}

// item is what the program does not know of one of its items. All its copies have blanks of one
// length and face, and one set of stocks holds them.
type item struct {
	copies []copyOf     // in the order in which they are served
	width  model.Length // of the parts, finished; 0 where none of the stocks can be ripped
}

// copyOf is one copy of a part, by its number.
type copyOf struct {
	part int // index of Job.Parts
	copy int64
}

// formulate sorts the job into groups, and names the parts that nothing can hold. An error is the
// context's.
func formulate(ctx context.Context, job *model.Job,
	worth *model.Valuation) ([]*group, []model.Shortage, error) {
	s := &grouper{ctx: ctx, job: job, stocks: stocksOf(job, worth)}
	sets, short := s.split()
	var groups []*group
	names := map[string]int{}
	for _, m := range sets {
		f := formulator{job: job, worth: worth, wood: s.stocks, holds: s.holds, made: s.made,
			group: &group{item: map[int]int{}}}
		f.formulate(m)
		g := f.group
		if names[g.name]++; names[g.name] > 1 {
			g.name = fmt.Sprintf("%s (%d)", g.name, names[g.name])
		}
		if groups = append(groups, g); ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
	}
	return groups, short, ctx.Err()
}

// formulator makes the program of one group.
type formulator struct {
	job   *model.Job
	worth *model.Valuation
	wood  []stock // of the whole job
	holds [][]int // for each part, the indices in wood of what holds it
	made  []*made // for each part what a plan may choose
	*group
	at map[int]int // where each of the group's wood went in its stocks
}

// formulate makes the program of a set of parts and stocks.
func (f *formulator) formulate(m members) {
	f.program.Kerf, f.program.Rip = f.units(f.job.Settings.CrosscutKerf),
		f.units(f.job.Settings.RipKerf)
	f.program.Coin, f.program.RipCost = f.worth.Ticks(1), f.worth.Rip
	f.addStocks(m.stocks)
	f.rank()
	var order []itemKey
	keys := map[*model.Part]itemKey{}
	key := func(p *model.Part, held []int) {
		keys[p] = f.keyOf(p, held)
		order = append(order, keys[p])
	}
	for _, i := range m.parts {
		if len(f.holds[i]) > 0 {
			key(&f.job.Parts[i], f.holds[i])
		}
		if c := f.made[i]; c != nil {
			for n := range c.pieces {
				key(c.pieces[n], c.held[n])
			}
		}
	}
	slices.SortFunc(order, compareItems)
	order = slices.Compact(order)
	for _, k := range order {
		f.items = append(f.items, item{width: k.width})
		f.program.Items = append(f.program.Items,
			cutting.Item{Size: f.units(k.length), Class: int(k.face)})
	}
	place := func(p *model.Part, held []int) int {
		at, _ := slices.BinarySearchFunc(order, keys[p], compareItems)
		f.hold(p, held, at)
		return at
	}
	for _, i := range m.parts {
		if held := f.holds[i]; len(held) > 0 {
			f.addPart(i, place(&f.job.Parts[i], held))
		}
		if c := f.made[i]; c != nil {
			f.addWants(i, c, place)
		}
	}
	f.finish()
	f.byRule()
}

// units is a length in units of the job, which all its lengths are multiples of.
func (f *formulator) units(l model.Length) int64 {
	if l%f.worth.Unit != 0 {
		panic(fmt.Sprintf("nest: the length %d is no multiple of the job's unit %d", l,
			f.worth.Unit))
	}
	return int64(l / f.worth.Unit)
}

// atLeast is a least length in units: what is no shorter than the one is no shorter than the other.
func (f *formulator) atLeast(l model.Length) int64 {
	return int64((l + f.worth.Unit - 1) / f.worth.Unit)
}

// addStocks takes the stocks of the group into its program, and names the group after them.
func (f *formulator) addStocks(stocks []int) {
	slices.SortStableFunc(stocks, func(a, b int) int {
		return compareStocks(&f.wood[a], &f.wood[b])
	})
	f.at = map[int]int{}
	var names []string
	for at, n := range stocks {
		s := &f.wood[n]
		f.at[n] = at
		f.stocks = append(f.stocks, *s)
		f.program.Stocks = append(f.program.Stocks, f.stock(s))
		names = append(names, s.board.Material+" "+string(s.board.Section))
	}
	slices.Sort(names)
	f.name = strings.Join(slices.Compact(names), ", ")
}

// stock is a stock as the engine sees it, without what it holds.
func (f *formulator) stock(s *stock) cutting.Stock {
	w := &s.board.Wood
	out := cutting.Stock{From: f.units(s.usable.From), To: f.units(s.usable.To), Cost: s.cost,
		Supply: int64(len(s.boards)), Slope: s.slope.Whole, Keep: f.units(f.worth.Keep(w))}
	if !s.rippable {
		out.Slope *= f.units(w.Width)
	}
	if !s.onHand() {
		out.Supply = cutting.Any
		if s.available != nil {
			out.Supply = *s.available
		}
	}
	for _, d := range s.defects() {
		out.Spots = append(out.Spots, cutting.Spot{From: f.units(d.From), To: f.units(d.To),
			Tolerated: d.tolerated, Left: f.units(d.Left), Right: f.units(d.Right),
			Weak: d.weak})
	}
	if s.rippable {
		safe := f.job.Settings.SafetyFor(w.Material, w.Section)
		out.Across = &cutting.Across{Width: f.units(w.Width), Inset: f.units(f.job.Inset(w)),
			Keep: f.units(f.job.KeepWidth(w)), Strip: s.slope.Strip,
			Trim: f.job.Settings.TrimmingCut, ShortestRip: f.atLeast(safe.ShortestRip),
			Narrowest: f.units(safe.NarrowestRip)}
	}
	return out
}

// rank puts the boards of the rack in the order in which they are best used up, all else equal: the
// older first, then the shorter.
func (f *formulator) rank() {
	var order []int
	for n := range f.stocks {
		if f.stocks[n].onHand() {
			order = append(order, n)
		}
	}
	oldest := func(n int) *model.Board { return &f.job.Rack[f.stocks[n].boards[0]] }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(earlier(oldest(a).Since, oldest(b).Since),
			cmp.Compare(oldest(a).Length, oldest(b).Length), cmp.Compare(a, b))
	})
	for at, n := range order {
		f.program.Stocks[n].Rank = int64(at * cutting.MostRank / len(order))
	}
}

// keyOf is what the item of a part is known by that some wood holds.
func (f *formulator) keyOf(p *model.Part, holds []int) itemKey {
	k := itemKey{length: f.job.BlankLength(p), face: p.Face}
	var held []int
	for _, n := range holds {
		held = append(held, f.at[n])
		if f.wood[n].rippable {
			k.width = p.Width
		}
	}
	k.held = stockList(held)
	return k
}

// addPart takes the copies of a part into an item.
func (f *formulator) addPart(part, n int) {
	p, it := &f.job.Parts[part], &f.program.Items[n]
	for c := range p.Qty {
		f.items[n].copies = append(f.items[n].copies, copyOf{part, p.CopyAt(c)})
		f.list = append(f.list, n)
	}
	it.Demand += p.Qty
	f.item[part] = n
}

// hold takes an item into the stocks that hold a part.
func (f *formulator) hold(p *model.Part, held []int, n int) {
	it := &f.program.Items[n]
	for _, s := range held {
		st, w := &f.program.Stocks[f.at[s]], &f.wood[s].board.Wood
		st.Holds = append(st.Holds, n)
		switch {
		case !st.Rippable():
		case p.Whole(w):
			st.Across.Whole = append(st.Across.Whole, n)
		default:
			it.Width = f.units(f.job.BlankIn(p, w).Width)
		}
	}
}

// finish puts what was collected part by part into order.
func (f *formulator) finish() {
	for n := range f.program.Stocks {
		st := &f.program.Stocks[n]
		slices.Sort(st.Holds)
		st.Holds = slices.Compact(st.Holds)
		if a := st.Across; a != nil {
			slices.Sort(a.Whole)
			a.Whole = slices.Compact(a.Whole)
		}
	}
	serve(f.job, f.items)
}

// serve puts the copies of items in the order in which they are served: an earlier due date first,
// no date last.
func serve(job *model.Job, items []item) {
	due := map[string]string{}
	for _, c := range job.Commissions {
		due[c.Name] = c.Due
	}
	for n := range items {
		slices.SortStableFunc(items[n].copies, func(a, b copyOf) int {
			return earlier(due[job.Parts[a.part].Commission], due[job.Parts[b.part].Commission])
		})
	}
}
