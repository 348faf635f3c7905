package model

// Measure is what a plan does with money and wood, summed up.
type Measure struct {
	Boards, Bought, Offcuts int   // boards used, those of them that are bought, offcuts that go back
	Cash                    Money // for what is bought
	Handling                Money
	RackUsed                Money // worth of the rack boards used
	RackReturned            Money // worth of the offcuts that go back
	Length                  Length
	ByKind                  map[Kind]Length // of all boards used; sums to Length
}

// Measure sums up the cuts, what is bought and the costs of a plan.
func (p *Plan) Measure() Measure {
	m := Measure{Boards: len(p.Placements), ByKind: map[Kind]Length{}}
	for _, b := range p.Buy {
		m.Cash += b.Total
		m.Bought += int(b.Qty)
	}
	for _, c := range p.Costs {
		m.RackUsed += c.Rack
		m.RackReturned += c.Credit
		m.Handling += c.Handling
	}
	for _, c := range p.Cuts {
		m.Length += c.To - c.From
		m.ByKind[c.Kind] += c.To - c.From
		if c.Kind == KindOffcut {
			m.Offcuts++
		}
	}
	return m
}

// Waste is all that is neither part nor offcut: kerf, trim, defects and waste.
func (m *Measure) Waste() Length { return m.Length - m.ByKind[KindPart] - m.ByKind[KindOffcut] }
