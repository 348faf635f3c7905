package report

import (
	"io"
	"math/big"
	"slices"

	"rackwright/io/table"
	"rackwright/model"
	"rackwright/model/movement"
)

// AverageOnly stands under every list of movements.
const AverageOnly = "Caution: these are averages, and wood varies from board to board: check " +
	"them against your own practice."

// Movement tells a maker how much wide parts move over the year, and what slot or gap that asks
// for. Parts without a name are single widths. Of job only the settings count. No line is longer
// than width.
func Movement(w io.Writer, job *model.Job, wide []movement.Wide, s movement.Season,
	how movement.Sawn, width int) error {
	p, u := printer{w: w, job: job, width: width}, job.Settings.Units
	p.line("Moisture of the wood over the year: %s to %s.", condition(s, 0), condition(s, 1))
	for _, m := range wide {
		p.line("")
		p.moving(&m, s, how)
	}
	p.line("")
	if slices.ContainsFunc(wide, func(m movement.Wide) bool { return m.Species != nil }) {
		p.rule(u, s)
	}
	if wide[0].Parts[0].Name != "" {
		if glued := slices.ContainsFunc(job.Parts, func(p model.Part) bool {
			return p.Staves != 0
		}); glued {
			p.line("A part that is glued up of staves moves as one, so its whole width counts.")
		} else {
			p.line("Staves glued edge to edge move as one: ask for their whole width by " +
				"--species and --width.")
		}
	}
	p.line("%s", AverageOnly)
	return p.err
}

// rule says how change and slot are found.
func (p *printer) rule(u model.Unit, s movement.Season) {
	formula := "eq. 13-2: width x coefficient x difference in moisture"
	if s.Low < 60 || s.High > 140 {
		formula = "eq. 13-3, as the moisture goes beyond 6 to 14 %; little different from width " +
			"x coefficient x difference in moisture"
	}
	step := `1/32"`
	if u == model.Millimetre {
		step = "1 mm"
	}
	p.line("Change: Wood Handbook, %s.", formula)
	p.line("Slot or gap: the whole change, up to the next %s, without any clearance added, as "+
		"the wood may be made up dry or damp. "+
		"A part held on its centre line moves half of it to each side.", step)
}

// condition is one end of the season, with the climate that it follows from.
func condition(s movement.Season, end int) string {
	text := []movement.Moisture{s.Low, s.High}[end].String()
	if s.Climates != nil {
		text += " (" + s.Climates[end].String() + " humidity)"
	}
	return text
}

// moving lists the parts of one material.
func (p *printer) moving(m *movement.Wide, s movement.Season, how movement.Sawn) {
	u, name := p.job.Settings.Units, m.Material
	if m.Species == nil {
		p.line(`%s: species not known; name it with species = "..." below [material.%q] in `+
			`shop.toml (rackwright movement --help lists the names).`,
			name, name)
	} else {
		if m.Species.Name != name {
			name += ", reckoned as " + m.Species.Name
		}
		p.line("%s, %s: %s of the width for each 1 %% of moisture.", name, howSawn(how),
			big.NewRat(movement.Coefficient(m.Species, how), 1000).FloatString(3)+" %")
	}
	columns := []table.Column{{Name: "width", Align: table.Right}}
	named := m.Parts[0].Name != ""
	if named {
		columns = append([]table.Column{{Name: "commission"}, {Name: "part"}}, columns...)
	}
	if m.Species != nil {
		columns = append(columns, table.Column{Name: "change", Align: table.Right},
			table.Column{Name: "slot or gap", Align: table.Right})
	}
	var rows [][]string
	for _, part := range m.Parts {
		row := []string{p.show(part.Width)}
		if named {
			row = append([]string{part.Commission, part.Name}, row...)
		}
		if m.Species != nil {
			change := movement.Change(m.Species, part.Width, how, s.Low, s.High)
			row = append(row, fine(change, u), movement.Slot(change, u).Shop(u))
		}
		rows = append(rows, row)
	}
	p.table(columns, rows)
}

func howSawn(how movement.Sawn) string {
	if how == movement.QuarterSawn {
		return "quarter-sawn"
	}
	return "flat-sawn"
}

// fine writes a small length in thousandths of an inch or tenths of a millimetre.
func fine(l *big.Rat, u model.Unit) string {
	if u == model.Millimetre {
		return new(big.Rat).Quo(l, big.NewRat(model.UnitsPerMillimetre, 1)).FloatString(1) + " mm"
	}
	return new(big.Rat).Quo(l, big.NewRat(model.UnitsPerInch, 1)).FloatString(3) + " in"
}
