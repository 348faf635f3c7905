package page

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/io/table"
	"rackwright/model"
	"rackwright/model/makeup"
)

// commission is one customer order with its parts.
type commission struct {
	Anchor string
	Name   string
	Due    string
	Note   string
	Parts  []*part
}

// part is a finished piece wanted, and the boards that give it.
type part struct {
	Name   string
	Note   string
	Qty    int64
	Size   string
	Wood   string
	Face   string
	Boards []source
	Short  int      // copies that nothing gives
	Made   []string // of what pieces it is, and how it is made of them
}

// source is a board that gives some copies of a part.
type source struct {
	Anchor, ID string
	Copies     int
}

// commissions lists what each commission costs, and where its parts come from.
func (v *view) commissions() {
	v.costs()
	at := map[string]*commission{}
	for i := range v.job.Commissions {
		c := &v.job.Commissions[i]
		at[c.Name] = &commission{Anchor: fmt.Sprintf("c%d", i+1), Name: model.Visible(c.Name),
			Due: c.Due, Note: model.Visible(c.Note)}
		v.Commissions = append(v.Commissions, at[c.Name])
	}
	parts, glued := map[[2]string]*part{}, map[[2]string]*part{}
	for i := range v.job.Parts {
		p := &v.job.Parts[i]
		name := [2]string{p.Commission, p.Name}
		if k := p.Makes; k != nil && !makeup.IsSpare(p) {
			is := [2]string{p.Commission, k.Part}
			if parts[name] = glued[is]; parts[name] != nil {
				continue
			}
			glued[is] = v.partOf(p, k.Part, 0, k.Length, k.Width, k.Thickness)
			parts[name] = glued[is]
			v.made(glued[is], is)
		} else {
			parts[name] = v.partOf(p, p.Name, p.Qty, p.Length, p.Width, p.Thickness)
		}
		if c := at[p.Commission]; c != nil {
			c.Parts = append(c.Parts, parts[name])
		}
	}
	for _, b := range v.Boards {
		for i := range b.layout.Rows {
			c := &b.layout.Rows[i]
			p := parts[[2]string{c.Commission, c.Part}]
			if c.Kind != model.KindPart || p == nil {
				continue
			}
			if n := len(p.Boards); n == 0 || p.Boards[n-1].Anchor != b.Anchor {
				p.Boards = append(p.Boards, source{Anchor: b.Anchor, ID: b.ID})
			}
			p.Boards[len(p.Boards)-1].Copies++
		}
	}
	for i := range v.plan.Shortages {
		s := &v.plan.Shortages[i]
		if p := parts[[2]string{s.Commission, s.Part}]; p != nil {
			p.Short += len(s.Copies)
		}
	}
}

// partOf is a part of these finished sizes.
func (v *view) partOf(p *model.Part, name string, qty int64, long, wide,
	thick model.Length) *part {
	return &part{Name: model.Visible(name), Note: model.Visible(p.Note), Qty: qty,
		Size: v.size(long, wide) + " × " + v.length(thick), Wood: model.Visible(p.Material),
		Face: p.Face.String()}
}

// made says of a part how its copies are made of pieces.
func (v *view) made(p *part, name [2]string) {
	var pieces []*model.Part
	for i := range v.job.Parts {
		if q := &v.job.Parts[i]; q.Makes != nil && q.Commission == name[0] &&
			q.Makes.Part == name[1] {
			pieces = append(pieces, q)
		}
	}
	list := report.Assemblies(pieces)
	for n := range list {
		a := &list[n]
		p.Qty += int64(len(a.Made))
		p.Made = append(p.Made, unbroken(model.Visible(a.Copies()+": "+a.Of()+". "+
			strings.Join(report.HowMade(v.job, a), " "))))
	}
}

// costs is the table of costs.csv; the column of rips stands where they have a price.
func (v *view) costs() {
	if len(v.plan.Costs) == 0 {
		return
	}
	g := &grid{}
	for _, name := range []string{"commission", "net", "yards", "rack", "handling", "ripping",
		"offcuts", report.Measure(v.job)} {
		g.Columns = append(g.Columns, table.Column{Name: name, Align: table.Right})
	}
	g.Columns[0].Align = table.Left
	for _, c := range v.plan.Costs {
		g.Rows = append(g.Rows, []string{model.Visible(c.Commission), report.Money(c.Cost),
			report.Money(c.Yard), report.Money(c.Rack), report.Money(c.Handling),
			report.Money(c.Ripping), report.Money(-c.Credit), report.Tally(v.job, c.Tally)})
	}
	if v.job.Settings.Ripping == 0 {
		const ripping = 5
		g.Columns = slices.Delete(g.Columns, ripping, ripping+1)
		for i := range g.Rows {
			g.Rows[i] = slices.Delete(g.Rows[i], ripping, ripping+1)
		}
	}
	v.Costs = g
}

// offcut is one that goes back to the rack.
type offcut struct {
	Tick, ID, Wood, Size, Bin string
	Board                     source
}

// offcuts lists those that go back, in the order of the cuts, with the bins that they go into.
func (v *view) offcuts() {
	bins := map[string]string{}
	for i := range v.plan.Rack {
		bins[v.plan.Rack[i].ID] = v.plan.Rack[i].Bin
	}
	for _, b := range v.Boards {
		for i := range b.layout.Rows {
			c := &b.layout.Rows[i]
			if c.Kind != model.KindOffcut {
				continue
			}
			v.Offcuts = append(v.Offcuts, offcut{Tick: fmt.Sprintf("o%d", len(v.Offcuts)+1),
				ID: model.Visible(c.Offcut), Wood: b.Wood, Size: v.size(c.To-c.From, c.Right-c.Left),
				Bin: model.Visible(layout.InBin(bins[c.Offcut])), Board: source{Anchor: b.Anchor, ID: b.ID}})
		}
	}
}
