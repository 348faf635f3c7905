package check

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// The books of a plan: what is bought and the rack after; what each commission costs is in
// costs.go. Each is made again from the cuts and the job, and compared row by row.

// purchases judges buy.csv. It has one row for each offer that boards are bought of, in the order
// of the yard, then one for each offer of the reserve.
func (c *checker) purchases() {
	count, ids := make([]int64, len(c.job.Yard)), make([][]string, len(c.job.Yard))
	for _, u := range c.boards {
		if u.offer >= 0 {
			count[u.offer]++
			ids[u.offer] = append(ids[u.offer], u.id)
		}
	}
	var want []model.Purchase
	yard := model.NewTallier(&c.job.Settings)
	row := func(o *model.Offer, n int64, reserve bool, ids []string) {
		price := c.job.PriceOf(o)
		want = append(want, model.Purchase{Material: o.Material, Section: o.Section,
			Length: o.Length, Qty: n, Price: price, Total: model.Money(n) * price,
			Tally: yard.Boards(&o.Wood, n).Millionths(c.job.Settings.Units), Width: o.Width,
			Surface: o.Surface, Yard: o.Yard, Grade: o.Grade,
			Tax: model.Money(n) * c.job.TaxOf(o), Reserve: reserve, Boards: ids})
	}
	for i, n := range count {
		o := &c.job.Yard[i]
		if !c.job.Carried(o) && n > 0 {
			c.say("buy.csv", "%d boards are bought by line %d of yard.csv, which are longer than "+
				"the longest_load of %s",
				n, o.Where.Line, o.Yard)
		} else if o.Available != nil && n > *o.Available {
			c.say("buy.csv", "%d boards are bought by line %d of yard.csv, %d are for sale", n,
				o.Where.Line, *o.Available)
		}
		if n > 0 {
			row(o, n, false, ids[i])
		}
	}
	for i, n := range c.reserve(count) {
		if n > 0 {
			row(&c.job.Yard[i], n, true, nil) // nothing is cut from them, so they have no ids
		}
	}
	for i := range max(len(want), len(c.plan.Buy)) {
		where := fmt.Sprintf("buy.csv: line %d", i+2)
		switch {
		case i >= len(want):
			c.say(where, "is one row too many: the cuts use no more bought boards, and no more "+
				"reserve is due")
			return
		case i >= len(c.plan.Buy):
			c.say(where, "is missing: %d of %s %s of %s", want[i].Qty, want[i].Material,
				want[i].Section, c.shop(want[i].Length))
			return
		}
		w, g := &want[i], &c.plan.Buy[i]
		c.fields(where, []field{
			{"material", g.Material, w.Material}, {"section", g.Section, w.Section},
			{"length", g.Length, w.Length},
			{"qty", g.Qty, w.Qty}, {"price", g.Price, w.Price}, {"total", g.Total, w.Total},
			{"tally", tallied(g.Tally), tallied(w.Tally)},
			{"width", g.Width, w.Width}, {"surface", string(g.Surface), string(w.Surface)},
			{"yard", g.Yard, w.Yard}, {"grade", g.Grade, w.Grade},
			{"tax", g.Tax, w.Tax}, {"reserve", yes(g.Reserve), yes(w.Reserve)},
			firstUnlike(g.Boards, w.Boards),
		})
	}
}

// firstUnlike is the first of the ids of a row that is not as it should be; or that of the first
// row, which then is.
func firstUnlike(got, want []string) field {
	at := func(ids []string, n int) string {
		if n < len(ids) {
			return ids[n]
		}
		return ""
	}
	n := 0
	for n < max(len(got), len(want))-1 && at(got, n) == at(want, n) {
		n++
	}
	return field{fmt.Sprintf("id %d of boards", n+1), at(got, n), at(want, n)}
}

// field is one field of a row, as the plan has it and as it should be.
type field struct {
	name      string
	got, want any
}

// tallied is a tally in millionths.
type tallied int64

// fields judges the fields of a row.
func (c *checker) fields(where string, fs []field) {
	for _, f := range fs {
		if f.got != f.want {
			c.say(where, "%s is %s, it should be %s", f.name, c.text(f.got), c.text(f.want))
		}
	}
}

// rackAfter judges rack.csv and defects.csv: the boards not used, as they were, then the offcuts in
// the order of the cuts.
func (c *checker) rackAfter() {
	isUsed := map[string]bool{}
	var want []model.Board
	for _, u := range c.boards {
		isUsed[u.id] = true
	}
	for _, b := range c.job.Rack {
		if !isUsed[b.ID] {
			b.Bought = false // of the next plan it is a board as any
			want = append(want, b)
		}
	}
	unused := len(want)
	bins := c.job.Settings.BinsOf(c.job.Rack)
	for _, u := range c.boards {
		bins.TakeFrom(u.board.Bin)
		for i := range u.rows {
			if u.rows[i].Kind == model.KindOffcut {
				b := c.offcut(u, &u.rows[i])
				b.Bin = bins.PutAway(b.Length, "", u.board.Bin)
				want = append(want, b)
			}
		}
	}
	if len(c.plan.Rack) != len(want) {
		c.say("rack.csv", "has %d boards; %d were not used and %d offcuts came, that is %d",
			len(c.plan.Rack), unused, len(want)-unused, len(want))
	}
	for i := range min(len(want), len(c.plan.Rack)) {
		g, w := &c.plan.Rack[i], &want[i]
		c.sameBoard(fmt.Sprintf("rack.csv: line %d", i+2), g, w)
	}
}

// offcut is the board that a row of the cuts leaves behind; its bin is left open.
func (c *checker) offcut(u *usedBoard, r *model.Cut) model.Board {
	b := model.Board{ID: r.Offcut, Wood: u.board.Wood, Since: c.plan.Date, For: u.board.For}
	b.Length, b.Width = r.To-r.From, r.Right-r.Left
	if b.Length > u.board.Longest {
		b.Longest = u.board.Longest
	}
	if u.board.Value != nil || b.Width < u.board.Width { // a strip carries its worth
		v := c.worth.ShownTicks(c.credit(u, r))
		b.Value = &v
	}
	for _, d := range u.board.Defects {
		from, to, left, right := max(d.From, r.From), min(d.To, r.To), max(d.Left, r.Left),
			min(d.Right, r.Right)
		if from < to && left < right {
			b.Defects = append(b.Defects,
				model.Defect{From: from - r.From, To: to - r.From, Left: left - r.Left,
					Right: right - r.Left, Kind: d.Kind})
		}
	}
	return b
}

// credit is what one offcut is worth, in ticks.
func (c *checker) credit(u *usedBoard, r *model.Cut) int64 {
	slope := c.worth.SlopeOfBoard(u.board)
	if u.offer >= 0 {
		slope = c.worth.SlopeOfOffer(&c.job.Yard[u.offer])
	}
	return c.worth.WorthOfRect(slope, &u.board.Wood,
		model.Rect{From: r.From, To: r.To, Left: r.Left, Right: r.Right}, u.bad)
}

// yes writes a flag as the tables do.
func yes(is bool) string {
	if is {
		return "yes"
	}
	return ""
}

// sameBoard judges one board of the rack after.
func (c *checker) sameBoard(where string, g, w *model.Board) {
	value := func(m *model.Money) string {
		if m == nil {
			return ""
		}
		return m.String()
	}
	c.fields(where, []field{
		{"board", g.ID, w.ID}, {"material", g.Material, w.Material},
		{"section", g.Section, w.Section},
		{"length", g.Length, w.Length}, {"width", g.Width, w.Width},
		{"thickness", g.Thickness, w.Thickness},
		{"surface", string(g.Surface), string(w.Surface)},
		{"bin", g.Bin, w.Bin}, {"value", value(g.Value), value(w.Value)},
		{"since", g.Since, w.Since},
		{"for", g.For, w.For}, {"untouched", yes(g.Untouched), yes(w.Untouched)},
		{"longest", g.Longest, w.Longest}, {"note", g.Note, w.Note},
		{"bought", yes(g.Bought), yes(w.Bought)},
	})
	if !slices.Equal(g.Defects, w.Defects) {
		c.say(where, "the defects of board %s in defects.csv are not those it has: there are %d, "+
			"it has %d, or a span or kind differs",
			w.ID, len(g.Defects), len(w.Defects))
	}
}
