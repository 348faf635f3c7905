package nest

import (
	"math/big"

	"rackwright/model"
	"rackwright/nest/cutlist"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
)

// certifier writes the certificate of one group in trade words, so that its bound can be derived
// again from the job alone. Items that are short as a whole are not in it.
type certifier struct {
	job   *model.Job
	worth *model.Valuation
	group *group
	place []int // of each item in the certificate; -1: it is not in it
	items []model.CertItem
}

// certify writes down what is proven of a group. Its value is settled with those of the others.
func certify(job *model.Job, worth *model.Valuation, g *group, r *cutstock.Result) model.Group {
	c := certifier{job: job, worth: worth, group: g}
	c.wanted(r.Unmet)
	cert := model.Certificate{Bits: worth.Bits, Root: c.node(r.Certificate)}
	for s := range g.stocks {
		stock := c.stock(s)
		if p := r.Certificate; p.Rough != nil {
			stock.Rough = p.Rough[s]
		}
		if p := r.Certificate; p.Grids != nil {
			stock.Grid = model.Length(p.Grids[s].Along) * worth.Unit
			stock.GridAcross = model.Length(p.Grids[s].Across) * worth.Unit
		}
		cert.Stocks = append(cert.Stocks, stock)
	}
	cert.Items, cert.Wants = c.items, c.wants(r)
	return model.Group{Name: g.name, Ended: ended[r.Ended], Certificate: cert}
}

// settleValues states values and bounds in money. The plan's value is dealt out to the groups by
// largest remainder. A bound less than a coin below the value leaves nothing to save.
func settleValues(plan *model.Plan, worth *model.Valuation, results []cutstock.Result) {
	var exact []*big.Rat
	coin := worth.Ticks(1)
	for n := range results {
		exact = append(exact, big.NewRat(results[n].Value, coin))
	}
	for n, v := range cutlist.Deal(plan.Value, exact) {
		g, r := &plan.Groups[n], &results[n]
		g.Value, g.Proof = v, model.Feasible
		if r.Value-r.Bound < coin {
			g.Bound, g.Proof = v, model.Optimal
		} else {
			g.Bound = model.Money(r.Bound >> worth.Bits) // rounded down
		}
		plan.Bound += g.Bound
	}
}

// ended says in trade words why a search ended.
var ended = map[cutstock.Ended]model.Ended{
	cutstock.Finished:    model.Finished,
	cutstock.WorkLimit:   model.WorkLimit,
	cutstock.Interrupted: model.Interrupted,
	cutstock.Clock:       model.Clock,
}

// wanted takes in the items of which at least one copy is met.
func (c *certifier) wanted(unmet []int64) {
	useful := c.group.program.Useful()
	for i, it := range c.group.program.Items {
		met := it.Demand - unmet[i]
		if useful[i]-unmet[i] == 0 {
			c.place = append(c.place, -1)
			continue
		}
		c.place = append(c.place, len(c.items))
		c.items = append(c.items, model.CertItem{Length: model.Length(it.Size) * c.worth.Unit,
			Width: c.group.items[i].width, Face: model.Face(it.Class), Demand: met})
	}
}

// stock writes down one stock, and with the items that it may give them.
func (c *certifier) stock(s int) model.CertStock {
	boards, spec := &c.group.stocks[s], &c.group.program.Stocks[s]
	out := model.CertStock{Cost: spec.Cost, Supply: unlessAny(spec.Supply)}
	for _, b := range boards.boards {
		out.Boards = append(out.Boards, c.job.Rack[b].ID)
	}
	if !boards.onHand() {
		out.Yard = c.job.Yard[boards.offer].Where.Line
	}
	for _, i := range spec.Holds {
		if n := c.place[i]; n >= 0 {
			c.items[n].Stocks = append(c.items[n].Stocks, s)
		}
	}
	return out
}

// unlessAny is a supply, nil where it is any number.
func unlessAny(n int64) *int64 {
	if n == cutting.Any {
		return nil
	}
	return &n
}

// node writes down a split, or a leaf with its duals, what boards give by them, and its list.
func (c *certifier) node(p *cutstock.Proof) model.CertNode {
	if s := p.Choice; s != nil {
		return model.CertNode{Choice: &model.CertChoice{Want: s.Want, Way: s.Way,
			AtMost: s.AtMost, Low: c.node(s.Low), High: c.node(s.High)}}
	}
	if s := p.Split; s != nil {
		return model.CertNode{Split: &model.CertSplit{Stock: s.Stock, AtMost: s.AtMost,
			Low: c.node(s.Low), High: c.node(s.High)}}
	}
	out := model.CertNode{Duals: c.duals(p.Leaf.Duals), List: c.list(p.Leaf.List)}
	for _, w := range p.Leaf.Within {
		out.Within = append(out.Within, model.CertWithin{Stock: w.Stock, Gives: w.Gives})
	}
	return out
}

// duals are those of the items in the certificate.
func (c *certifier) duals(all []int64) []int64 {
	out := make([]int64, 0, len(c.items))
	for i, d := range all {
		if c.place[i] >= 0 {
			out = append(out, d)
		}
	}
	return out
}

// list writes down what is proven over the list of all useful patterns. Rows are those of the
// items, then others; an item that is not in the certificate has nothing in its row.
func (c *certifier) list(proof *cuts.Proof) *model.CertList {
	if proof == nil {
		return nil
	}
	return &model.CertList{Target: proof.Target, CertListNode: c.listNode(&proof.Node)}
}

// listNode writes down cuts over a list, and what follows: duals, or a split.
func (c *certifier) listNode(n *cuts.Node) (out model.CertListNode) {
	for _, cut := range n.Cuts {
		written := model.CertCut{Den: cut.Den}
		for _, r := range cut.Rows {
			row := r.Row - len(c.place) + len(c.items)
			if r.Row < len(c.place) {
				row = c.place[r.Row]
			}
			if row >= 0 {
				written.Rows = append(written.Rows, [2]int64{int64(row), r.Multiplier})
			}
		}
		out.Cuts = append(out.Cuts, written)
	}
	for _, s := range n.Struck {
		out.Struck = append(out.Struck,
			model.CertStruck{Duals: c.duals(s.Duals), CutDuals: s.CutDuals})
	}
	if s := n.Split; s != nil {
		out.Split = &model.CertListSplit{Stocks: s.Sum.Stocks, AtMost: s.AtMost,
			Low: c.listNode(s.Low), High: c.listNode(s.High)}
		for _, h := range s.Sum.Having {
			out.Split.Having = append(out.Split.Having,
				model.CertHaving{Item: c.place[h.Item], Copies: h.Copies})
		}
		if s.Sum.Item != cuts.AllItems {
			out.Split.Item = &c.place[s.Sum.Item]
		}
		return out
	}
	out.Duals, out.CutDuals = c.duals(n.Duals), n.CutDuals
	return out
}

// usesOf are the patterns used for each group.
func usesOf(results []cutstock.Result) (uses [][]cutting.Use) {
	for n := range results {
		uses = append(uses, results[n].Uses)
	}
	return uses
}

// watch tells what a search reports of one group; nil where nobody listens.
func watch(observe func(Event), worth *model.Valuation, n, groups int,
	name string) func(cutstock.Event) {
	if observe == nil {
		return nil
	}
	return func(e cutstock.Event) {
		value, bound := worth.ShownTicks(e.Value), worth.ShownTicks(e.Bound)
		if e.Proven && e.Value-e.Bound < worth.Ticks(1) {
			bound = value
		}
		observe(Event{Group: n, Groups: groups, Name: name, Phase: e.Phase, Value: value,
			Bound: bound, Proven: e.Proven, Done: e.Done})
	}
}

// wants are those of the certificate: what is made of each.
func (c *certifier) wants(r *cutstock.Result) (out []model.CertWant) {
	for j := range c.group.wants {
		w, spec := &c.group.wants[j], &c.group.program.Wants[j]
		p := w.Part
		cert := model.CertWant{Commission: p.Commission, Part: p.Name, Demand: spec.Demand,
			Ways: []model.CertWay{}}
		if w.spare {
			cert.Forgo = &spec.Forgo
		} else {
			cert.Demand = r.Chosen[j].Made(spec)
		}
		for _, way := range spec.Ways {
			cert.Ways = append(cert.Ways, model.CertWay{Item: c.place[way.Item],
				Pieces: way.Pieces, Copies: way.Copies})
		}
		for _, v := range spec.Covers {
			cover := model.CertCover{Need: v.Need, Layers: v.Layers}
			for _, s := range v.Staves {
				cover.Staves = append(cover.Staves, model.CertStave{Item: c.place[s.Item],
					Steps: s.Steps})
			}
			cert.Covers = append(cert.Covers, cover)
		}
		out = append(out, cert)
	}
	return out
}
