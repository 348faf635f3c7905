package model

// Measure is what a plan does with money and wood, summed up.
type Measure struct {
	Boards, Bought, Offcuts int // boards used, those of them that are bought, offcuts that go back
	Short                   int // pieces that are not cut for want of wood
	Value                   Money
	Cash                    Money // for what is bought and used, with tax
	Handling                Money
	Ripping                 Money
	RackUsed                Money  // worth of the rack boards used
	RackReturned            Money  // worth of the offcuts that go back
	Length                  Length // of all boards used
	// of them, what is less than the width of its board by its share of it; sums to Length
	ByKind map[Kind]Length
}

// MeasureOf sums up the cuts, what is bought and the costs of plans that follow each other.
func MeasureOf(plans ...*Plan) Measure {
	m := Measure{ByKind: map[Kind]Length{}}
	for _, p := range plans {
		m.add(p)
	}
	return m
}

func (m *Measure) add(p *Plan) {
	m.Value += p.Value
	m.Boards += len(p.Placements)
	for _, s := range p.Shortages {
		m.Short += len(s.Copies)
	}
	for _, b := range p.Buy {
		if !b.Reserve {
			m.Cash += b.Total + b.Tax
			m.Bought += int(b.Qty)
		}
	}
	for _, c := range p.Costs {
		m.RackUsed += c.Rack
		m.RackReturned += c.Credit
		m.Handling += c.Handling
		m.Ripping += c.Ripping
	}
	for from := 0; from < len(p.Cuts); {
		to := from
		for to < len(p.Cuts) && p.Cuts[to].Board == p.Cuts[from].Board {
			to++
		}
		m.board(p.Cuts[from:to])
		from = to
	}
}

// board adds the rows of one board. What the shares of the width leave over in rounding, under a
// unit for each kind, is counted as waste.
func (m *Measure) board(rows []Cut) {
	var long, wide Length
	area := map[Kind]Length{}
	for i := range rows {
		c := &rows[i]
		long, wide = max(long, c.To), max(wide, c.Right)
		area[c.Kind] += (c.To - c.From) * (c.Right - c.Left)
		if c.Kind == KindOffcut {
			m.Offcuts++
		}
	}
	m.Length += long
	for kind, a := range area {
		share := a / max(1, wide)
		m.ByKind[kind] += share
		long -= share
	}
	if long > 0 {
		m.ByKind[KindWaste] += long
	}
}

// Worth is that of the rack boards used, less that of the offcuts returned.
func (m *Measure) Worth() Money { return m.RackUsed - m.RackReturned }

// Waste is all that is neither part nor offcut: kerf, trim, defects and waste.
func (m *Measure) Waste() Length { return m.Length - m.ByKind[KindPart] - m.ByKind[KindOffcut] }
