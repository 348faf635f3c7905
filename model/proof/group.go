package proof

import (
	"context"
	"fmt"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
)

// A certificate must be about the job. Its items are all blanks of the parts, and of the pieces of
// those that are made up, each counted once. Each item names every board and line that holds it.
// stocks.go judges the boards and lines, wants.go what is made of pieces.

// Bounds judges the groups of a plan: it derives each bound again from its certificate, and no
// findings mean that all of them are proven. It trusts the reading, which [check.Check] judges.
func Bounds(r *check.Reading) []model.Finding {
	found, _ := NewProver(r.Job).Bounds(context.Background(), r)
	return found
}

// judge judges all groups and what they add up to.
func (p *proof) judge() {
	for i := range p.plan.Groups {
		p.judgeGroup(i)
	}
	for _, d := range p.inOrder {
		if d.copies > 0 && d.group < 0 {
			part := p.parts[d.part]
			p.say("plan.json: groups",
				"%d copies of %s of %s, or of blanks like it, are counted in no group", d.copies,
				part.Name, part.Commission)
		}
	}
	p.judgeCounted()
	p.judgeTotals()
}

// judgeTotals judges that the plan's value is dealt out to the groups by largest remainder, and
// that its bound is the sum of theirs.
func (p *proof) judgeTotals() {
	bound := new(big.Int)
	for i, v := range p.dealt() {
		g := &p.plan.Groups[i]
		bound.Add(bound, big.NewInt(int64(g.Bound)))
		if g.Value != v {
			p.say("plan.json: group "+g.Name,
				"the value is %v, its boards, with handling and rips, "+
					"less their offcuts, cost %v", g.Value, v)
		}
	}
	if bound.Cmp(big.NewInt(int64(p.plan.Bound))) != 0 {
		p.say("plan.json: bound", "is %v, but the bounds of the groups do not add up to it",
			p.plan.Bound)
	}
}

// dealt is the plan's value, dealt out to the groups: each has its exact value rounded down, then
// each unit left over goes to the one that lacks most, of equals to the first. None is too many, as
// the plan's value is the sum rounded to the nearest.
func (p *proof) dealt() []model.Money {
	out, lacks := make([]model.Money, len(p.exact)), make([]*big.Int, len(p.exact))
	all := new(big.Int)
	unit := new(big.Int).Lsh(big.NewInt(1), p.worth.Bits)
	for _, v := range p.exact {
		all.Add(all, v)
	}
	left := p.worth.Shown(all)
	for i, v := range p.exact {
		whole := new(big.Int).Rsh(v, p.worth.Bits)
		out[i] = model.Money(whole.Int64())
		left -= out[i]
		lacks[i] = new(big.Int).Sub(v, whole.Mul(whole, unit))
	}
	for ; left > 0 && len(out) > 0; left-- {
		best := 0
		for i := range lacks {
			if lacks[i].Cmp(lacks[best]) > 0 {
				best = i
			}
		}
		out[best]++
		lacks[best].Sub(lacks[best], unit)
	}
	return out
}

// proof is what the certificates of all groups are judged by. A wood is a board of the rack or a
// line of the yard; woods are numbered in this order.
type proof struct {
	*Prover
	ctx     context.Context
	late    bool // it ended before all bounds were derived
	plan    *model.Plan
	worth   *model.Valuation
	used    []check.Board
	found   []model.Finding
	demands map[demandKey]*demand
	inOrder []*demand
	wanted  []wanted   // by want of the job
	owner   []int      // by wood the group that names it, or -1
	exact   []*big.Int // by group its value, in ticks
	most    along.Most
	onGrid  along.Most // of stocks on a coarser grid
	ripped  across.Most
	lister  along.Lister
	strips  across.Lister // of boards that can be ripped
}

// newProof finds the demands of a plan.
func newProof(ctx context.Context, v *Prover, r *check.Reading) *proof {
	p := &proof{Prover: v, ctx: ctx, plan: r.Plan, worth: r.Worth, used: r.Boards,
		demands: map[demandKey]*demand{}, owner: make([]int, len(v.job.Rack)+len(v.job.Yard))}
	p.ripped.Stop = func() bool { return ctx.Err() != nil }
	for w := range p.owner {
		p.owner[w] = -1
	}
	placed := p.placed(r)
	for i, part := range p.parts {
		if part.ByWays() {
			continue
		}
		d := p.demands[p.keys[i]]
		if d == nil {
			d = &demand{demandKey: p.keys[i], part: i, group: -1}
			p.demands[d.demandKey] = d
			p.inOrder = append(p.inOrder, d)
		}
		d.copies += placed[i]
	}
	p.wanted = p.findWanted()
	return p
}

// say notes a finding.
func (p *proof) say(where, format string, args ...any) {
	p.found = append(p.found, model.Finding{Where: where, What: fmt.Sprintf(format, args...)})
}

// shop writes a length for people.
func (p *proof) shop(l model.Length) string { return l.Shop(p.job.Settings.Units) }

// faceName writes a face for people; a certificate may hold any.
func (p *proof) faceName(f model.Face) string {
	if f < 0 || f >= model.Faces {
		return "no face"
	}
	return f.String()
}

// board gives one wood as Holds looks at it.
func (p *Prover) board(w int) (*model.Board, model.Origin) {
	if w < len(p.job.Rack) {
		return &p.job.Rack[w], model.FromRack
	}
	return &model.Board{Wood: p.job.Yard[w-len(p.job.Rack)].Wood}, model.FromYard
}

// woodName names one wood for people.
func (p *proof) woodName(w int) string {
	if w < len(p.job.Rack) {
		return "board " + p.job.Rack[w].ID
	}
	return fmt.Sprintf("line %d of yard.csv", p.job.Yard[w-len(p.job.Rack)].Where.Line)
}

// supply is how many boards there are of a wood; unlimited: any number.
func (p *Prover) supply(w int) int64 {
	if w < len(p.job.Rack) {
		return 1
	}
	if n := p.job.ForSale(&p.job.Yard[w-len(p.job.Rack)]); n != nil {
		return *n
	}
	return unlimited
}

// judgeGroup judges one group: its certificate, its value, its bound and its words.
func (p *proof) judgeGroup(g int) {
	group := &p.plan.Groups[g]
	where, before := "plan.json: group "+group.Name, len(p.found)
	stocks := p.judgeStocks(g, where)
	items := p.judgeItems(g, where, stocks)
	p.judgeWants(g, where, stocks)
	if bits := group.Certificate.Bits; bits != p.worth.Bits {
		p.say(where, "its certificate reckons in 2^-%d of money; this job does so in 2^-%d", bits,
			p.worth.Bits)
	}
	var bound *big.Int
	if len(p.found) == before {
		bound = p.derived(group, where, stocks, items)
	}
	value := p.valueOf(g)
	p.exact = append(p.exact, value)
	if bound != nil {
		p.judgeProof(group, where, value, p.lessForgone(g, bound))
	}
	if !slices.Contains([]model.Ended{model.Finished, model.WorkLimit, model.Clock,
		model.Interrupted}, group.Ended) {
		p.say(where, "%q is no way for a search to end; it is finished, work limit, clock or "+
			"interrupted",
			group.Ended)
	}
}

// valueOf is what the boards of a group cost with their rips, less their offcuts, in ticks.
func (p *proof) valueOf(g int) *big.Int {
	value := new(big.Int)
	for _, u := range p.used {
		w := u.Rack
		if w < 0 {
			w = len(p.job.Rack) + u.Offer
		}
		if p.owner[w] == g {
			value.Add(value, big.NewInt(u.Net))
		}
	}
	return value
}

// judgeProof judges what a group says of its proof and its bound, by its exact value and bound.
func (p *proof) judgeProof(group *model.Group, where string, value, bound *big.Int) {
	if bound == noPlans || bound.Cmp(value) > 0 {
		p.say(where, "the certificate proves a bound above the value: it is no certificate of "+
			"this plan")
		return
	}
	money := new(big.Int).Lsh(big.NewInt(1), p.worth.Bits)
	gap := new(big.Int).Sub(value, bound)
	proof, stated := model.Feasible, model.Money(new(big.Int).Rsh(bound, p.worth.Bits).Int64())
	if gap.Cmp(money) < 0 {
		proof, stated = model.Optimal, group.Value
	}
	if group.Proof != proof {
		p.say(where, "the proof is %q; the certificate makes it %q", group.Proof, proof)
	}
	if group.Bound != stated {
		p.say(where, "the bound is stated as %v; the certificate proves %v", group.Bound, stated)
	}
}

// judgeItems judges that the items of a certificate are blanks of the job, with all that holds them
// and all their copies. It gives by stock the items that name it.
func (p *proof) judgeItems(g int, where string, stocks []stock) [][]int {
	cert := &p.plan.Groups[g].Certificate
	out := make([][]int, len(stocks))
	for i := range cert.Items {
		item := &cert.Items[i]
		where := fmt.Sprintf("%s, item %d", where, i)
		for _, s := range item.Stocks {
			if s < 0 || s >= len(stocks) || len(out[s]) > 0 && out[s][len(out[s])-1] == i {
				p.say(where, "stock %d is not there, or is named twice", s)
				continue
			}
			out[s] = append(out[s], i)
		}
		key := p.keyOf(item, stocks)
		d := p.demands[key]
		switch {
		case d == nil:
			p.say(where, "%s", p.unlike(key))
		case d.group >= 0:
			p.say(where, "the blanks of %s, %s, from these stocks are counted already",
				p.shop(item.Length), p.faceName(item.Face))
		case d.copies != item.Demand:
			p.say(where, "%d blanks of %s, %s, are counted; %d are cut", item.Demand,
				p.shop(item.Length), p.faceName(item.Face), d.copies)
		}
		if d != nil {
			d.group = g
		}
	}
	return out
}

// keyOf is what tells an item of a certificate apart. Stocks that are not there hold nothing.
func (p *proof) keyOf(item *model.CertItem, stocks []stock) demandKey {
	set := make([]byte, (len(p.owner)+7)/8)
	for _, s := range item.Stocks {
		if s < 0 || s >= len(stocks) {
			continue
		}
		for _, w := range stocks[s].woods {
			if p.supply(w) > 0 {
				set[w/8] |= 1 << (w % 8)
			}
		}
	}
	return demandKey{item.Length, item.Width, item.Face, string(set)}
}

// unlike says why an item is none of the job's.
func (p *proof) unlike(key demandKey) string {
	alike := func(d *demand) bool {
		return d.length == key.length && d.face == key.face && d.group < 0
	}
	if n := slices.IndexFunc(p.inOrder, func(d *demand) bool {
		return alike(d) && d.held == key.held
	}); n >= 0 {
		return p.unlikeWidth(p.inOrder[n], key)
	}
	for _, d := range p.inOrder {
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
				return fmt.Sprintf("%s %s the blank of %s", p.woodName(w), verb,
					p.parts[d.part].Name)
			}
		}
	}
	return fmt.Sprintf("the job has no blank of %s, %s, left to count", p.shop(key.length),
		p.faceName(key.face))
}

// unlikeWidth says what the width of an item should be; d is a demand of the job with the same
// woods.
func (p *proof) unlikeWidth(d *demand, key demandKey) string {
	switch {
	case d.width == 0:
		return fmt.Sprintf("its width is %s; as none of its stocks can be ripped it is to have "+
			"none", p.shop(key.width))
	case key.width == 0:
		return fmt.Sprintf("it has no width, but one of its stocks can be ripped: that of %s is %s",
			p.parts[d.part].Name, p.shop(d.width))
	}
	return fmt.Sprintf("the job has no blank of %s, %s, for a part %s wide left to count",
		p.shop(key.length), p.faceName(key.face), p.shop(key.width))
}
