package proof

import (
	"fmt"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
)

// A certificate claims, for one group, that no plan which meets exactly the pieces met here costs
// less than the bound. It is judged in three steps, with the job and the plan's cuts and nothing of
// the solver:
//
//  1. It is about this job: stocks are boards of the rack and lines of the yard as they are, at what they cost; each
//     board or line that could give a piece stands in exactly one group; each piece cut is counted in exactly one item,
//     and each item names all that could give it. (This file.)
//  2. Its leaves leave out no number of boards: every way to use the stocks lies in some leaf. (boundleaf.go)
//  3. In each leaf any whole duals pi >= 0 give a bound, by weak duality. With d copies of each item, z boards of stock
//     s in [least, most], and best_s the most that one board can give in pieces and offcuts (boundboard.go; boundrip.go
//     where it can be ripped),
//
//     bound = sum of pi d + sum over s of min( least (cost - best_s), most (cost - best_s) )
//
//     as each board of a plan costs cost - offcuts, and pieces + offcuts <= best_s. (boundleaf.go) On a board that can be ripped best_s is worked out
//     for any number of copies, though no board of a plan gives more than the d of an item. So with whole lambda >= 0 at most pi it may be taken at the
//     duals pi - lambda, and sum of lambda d added to it.
//
//     A leaf may carry a list that proves more: over the patterns alone that a plan cheaper than its target can use, and
//     with cuts that every such plan meets. (boundlist.go; boundcuts.go)
//
// The group's bound is the least over its leaves, rounded up to whole money.

// Bounds judges the groups of a plan and their proofs: it derives each bound again from its
// certificate. It relies on the reading, which [check.Check] judges.
func Bounds(r *check.Reading) []model.Finding {
	p := newProof(r)
	for i := range p.plan.Groups {
		p.group(i)
	}
	for _, d := range p.order {
		if d.copies > 0 && d.group < 0 {
			part := &p.job.Parts[d.part]
			p.say("plan.json: groups",
				"%d copies of %s of %s, or of blanks like it, are counted in no group", d.copies,
				part.Name, part.Commission)
		}
	}
	p.totals()
	return p.found
}

// totals judges that value and bound of the groups add up to the plan's.
func (p *proof) totals() {
	value, bound := new(big.Int), new(big.Int)
	for i := range p.plan.Groups {
		g := &p.plan.Groups[i]
		value.Add(value, big.NewInt(int64(g.Value)))
		bound.Add(bound, big.NewInt(int64(g.Bound)))
	}
	if value.Cmp(big.NewInt(int64(p.plan.Value))) != 0 {
		p.say("plan.json: value", "is %v, but the values of the groups do not add up to it",
			p.plan.Value)
	}
	if bound.Cmp(big.NewInt(int64(p.plan.Bound))) != 0 {
		p.say("plan.json: bound", "is %v, but the bounds of the groups do not add up to it",
			p.plan.Bound)
	}
	if p.plan.Bound > p.plan.Value {
		p.say("plan.json: bound", "%v is above the value %v", p.plan.Bound, p.plan.Value)
	}
}

// proof is what the certificates of all groups are judged by. Woods are counted as the boards of
// the rack, then the lines of the yard.
type proof struct {
	job     *model.Job
	plan    *model.Plan
	worth   *model.Valuation
	used    []check.Board
	rack    map[string]int // id to index in job.Rack
	offers  map[int]int    // line of yard.csv to index in job.Yard
	found   []model.Finding
	demands map[demandKey]*demand
	order   []*demand
	owner   []int // group of each wood, or -1
	most    along.Most
	ripped  across.Most
	lister  along.Lister

	rippable []bool // by wood
}

// demandKey tells items apart; held is the set of woods that hold the blank, a bit each. Lines with
// nothing for sale count for none. width is that of the finished part where one of these can be
// ripped (across.go), else 0: it then says nothing of the blank.
type demandKey struct {
	length model.Length
	width  model.Length
	face   model.Face
	held   string
}

type demand struct {
	demandKey
	copies int64 // placed
	part   int   // the first of its parts
	group  int   // that counts it, or -1
}

func newProof(r *check.Reading) *proof {
	p := &proof{job: r.Job, plan: r.Plan, worth: r.Worth, used: r.Boards, rack: map[string]int{},
		offers: map[int]int{}, demands: map[demandKey]*demand{},
		owner: make([]int, len(r.Job.Rack)+len(r.Job.Yard))}
	for w := range p.owner {
		p.owner[w] = -1
	}
	for i := range p.job.Rack {
		p.rack[p.job.Rack[i].ID] = i
	}
	for i := range p.job.Yard {
		p.offers[p.job.Yard[i].Where.Line] = i
	}
	placed := make([]int64, len(p.job.Parts))
	for _, u := range p.used {
		for _, part := range u.Parts {
			placed[part]++
		}
	}
	held := p.sets()
	p.rip(held)
	ripped := map[string]bool{} // sets with a wood that can be ripped
	for i := range p.job.Parts {
		full := &p.job.Parts[i]
		rip, known := ripped[held[i]]
		if !known {
			rip = slices.ContainsFunc(members(held[i]), func(w int) bool { return p.rippable[w] })
			ripped[held[i]] = rip
		}
		key := demandKey{p.job.BlankLength(full), 0, full.Face, held[i]}
		if rip {
			key.width = full.Width
		}
		d := p.demands[key]
		if d == nil {
			d = &demand{demandKey: key, part: i, group: -1}
			p.demands[key] = d
			p.order = append(p.order, d)
		}
		d.copies += placed[i]
	}
	return p
}

func (p *proof) say(where, format string, args ...any) {
	p.found = append(p.found, model.Finding{Where: where, What: fmt.Sprintf(format, args...)})
}

func (p *proof) len(l model.Length) string { return l.Shop(p.job.Settings.Units) }

// face writes a face for people; a certificate may hold any.
func (p *proof) face(f model.Face) string {
	if f < 0 || f >= model.Faces {
		return "no face"
	}
	return f.String()
}

// sets gives the woods that hold each part.
func (p *proof) sets() []string {
	out := make([]string, len(p.job.Parts))
	sets := map[model.Part]string{} // parts alike in what Holds looks at share their set
	for i := range p.job.Parts {
		full := &p.job.Parts[i]
		alike := model.Part{Commission: full.Commission, Material: full.Material,
			Length: full.Length,
			Width:  full.Width, Thickness: full.Thickness, Section: full.Section, Board: full.Board}
		held, known := sets[alike]
		if !known {
			held = p.heldBy(&alike)
			sets[alike] = held
		}
		out[i] = held
	}
	return out
}

// board gives one wood as Holds looks at it.
func (p *proof) board(w int) (*model.Board, model.Origin) {
	if w < len(p.job.Rack) {
		return &p.job.Rack[w], model.FromRack
	}
	return &model.Board{Wood: p.job.Yard[w-len(p.job.Rack)].Wood}, model.FromYard
}

// name names one wood for people.
func (p *proof) name(w int) string {
	if w < len(p.job.Rack) {
		return "board " + p.job.Rack[w].ID
	}
	return fmt.Sprintf("line %d of yard.csv", p.job.Yard[w-len(p.job.Rack)].Where.Line)
}

// live says whether there is any of a wood.
func (p *proof) live(w int) bool {
	i := w - len(p.job.Rack)
	if i < 0 {
		return true
	}
	n := p.job.ForSale(&p.job.Yard[i])
	return n == nil || *n > 0
}

func (p *proof) heldBy(part *model.Part) string {
	set := make([]byte, (len(p.owner)+7)/8)
	for w := range p.owner {
		board, origin := p.board(w)
		if ok, _ := p.job.Holds(part, board, origin); ok && p.live(w) {
			set[w/8] |= 1 << (w % 8)
		}
	}
	return string(set)
}

// group judges one group: its certificate, its value, its bound and its words.
func (p *proof) group(g int) {
	group := &p.plan.Groups[g]
	where, before := "plan.json: group "+group.Name, len(p.found)
	stocks := p.stocks(g, where)
	var value model.Money
	for _, u := range p.used {
		w := u.Rack
		if w < 0 {
			w = len(p.job.Rack) + u.Offer
		}
		if p.owner[w] == g {
			value += u.Net
		}
	}
	items := p.items(g, where, stocks)
	if scale := group.Certificate.Scale; scale < 1 || scale > maxScale {
		p.say(where, "the scale is %d; it is to be from 1 to 2^40", scale)
	}
	if len(p.found) == before {
		p.bound(group, where, stocks, items)
	}
	if group.Value != value {
		p.say(where, "the value is %v, its boards, less their offcuts, cost %v", group.Value, value)
	}
	want := model.Feasible
	if group.Value == group.Bound {
		want = model.Optimal
	}
	if group.Proof != want {
		p.say(where, "the proof is %q; value %v and bound %v make it %q", group.Proof, group.Value,
			group.Bound, want)
	}
	if group.Bound > group.Value {
		p.say(where, "the bound %v is above the value %v", group.Bound, group.Value)
	}
	if !slices.Contains([]model.Ended{model.Finished, model.WorkLimit, model.Clock,
		model.Interrupted}, group.Ended) {
		p.say(where, "%q is no way for a search to end; it is finished, work limit, clock or interrupted", group.Ended)
	}
}

// items judges that a certificate's items are blanks of the job with all that holds them and all
// their copies. For each stock it gives the items that name it.
func (p *proof) items(g int, where string, stocks []stock) [][]int {
	cert := &p.plan.Groups[g].Certificate
	out := make([][]int, len(stocks))
	for i := range cert.Items {
		item := &cert.Items[i]
		where := fmt.Sprintf("%s, item %d", where, i)
		set := make([]byte, (len(p.owner)+7)/8)
		for _, s := range item.Stocks {
			if s < 0 || s >= len(stocks) || len(out[s]) > 0 && out[s][len(out[s])-1] == i {
				p.say(where, "stock %d is not there, or is named twice", s)
				continue
			}
			out[s] = append(out[s], i)
			for _, w := range stocks[s].woods {
				if p.live(w) {
					set[w/8] |= 1 << (w % 8)
				}
			}
		}
		key := demandKey{item.Length, item.Width, item.Face, string(set)}
		d := p.demands[key]
		switch {
		case d == nil:
			p.say(where, "%s", p.unlike(key))
		case d.group >= 0:
			p.say(where, "the blanks of %s, %s, from these stocks are counted already",
				p.len(item.Length), p.face(item.Face))
		case d.copies != item.Demand:
			p.say(where, "%d blanks of %s, %s, are counted; %d are cut", item.Demand,
				p.len(item.Length), p.face(item.Face), d.copies)
		}
		if d != nil {
			d.group = g
		}
	}
	return out
}

// unlike says why an item is none of the job's.
func (p *proof) unlike(key demandKey) string {
	alike := func(d *demand) bool {
		return d.length == key.length && d.face == key.face && d.group < 0
	}
	if n := slices.IndexFunc(p.order, func(d *demand) bool {
		return alike(d) && d.held == key.held
	}); n >= 0 {
		return p.unlikeWidth(p.order[n], key)
	}
	for _, d := range p.order {
		if !alike(d) {
			continue
		}
		for w := range p.owner {
			in, held := key.held[w/8]>>(w%8)&1 == 1, d.held[w/8]>>(w%8)&1 == 1
			if in != held {
				verb := "does not hold"
				if held {
					verb = "is not among its stocks but holds"
				}
				return fmt.Sprintf("%s %s the blank of %s", p.name(w), verb,
					p.job.Parts[d.part].Name)
			}
		}
	}
	return fmt.Sprintf("the job has no blank of %s, %s, left to count", p.len(key.length),
		p.face(key.face))
}

// unlikeWidth says what the width of an item should be; d is one of the job's with the same woods.
func (p *proof) unlikeWidth(d *demand, key demandKey) string {
	switch {
	case d.width == 0:
		return fmt.Sprintf("its width is %s; as none of its stocks can be ripped it is to have none", p.len(key.width))
	case key.width == 0:
		return fmt.Sprintf("it has no width, but one of its stocks can be ripped: that of %s is %s",
			p.job.Parts[d.part].Name, p.len(d.width))
	}
	return fmt.Sprintf("the job has no blank of %s, %s, for a part %s wide left to count",
		p.len(key.length), p.face(key.face), p.len(key.width))
}
