package model

import "math/big"

// Tally is wood measured, exact until it is written. A board foot is 144 cubic inches.
//
// Wood that is cut up is tallied by volume:
//
//   - Softwood by nominal thickness, nominal width and length (PS 20; NAVEDTRA, Engineering Aid
//     Basic). A thickness under 1 in counts as 1 in. What was ripped off counts its share of the
//     nominal width, rounded to a unit, where it is narrower than nine tenths of the section's
//     actual dry width. That is a rule of ours: no standard tallies strips.
//   - Hardwood quarters by nominal thickness, likewise, and measured width and length.
//   - Metric sections, and all wood in cubic metres, by measured sizes.
//
// Whole boards of hardwood quarters are tallied as yards do (NHLA):
//
//	surface measure = width in inches x length in whole feet / 12
//	board feet      = surface measure x nominal thickness in inches
//
// The width has its fraction. The surface measure is rounded to whole square feet, board by board.
// Exactly half goes up, or from piece to piece up and down in turn (King, Elements of Woodwork).
// Board feet are not rounded to whole ones.

// TallyRule is how boards bought in hardwood quarters are tallied. The zero value is surface
// measure, halves up.
type TallyRule struct {
	Hardwood HardwoodRule `json:"hardwood"`
	Half     HalfRule     `json:"half"`
}

// HardwoodRule is by what boards of hardwood quarters are tallied.
type HardwoodRule string

// The hardwood rules.
const (
	SurfaceMeasure HardwoodRule = "surface measure"
	ExactVolume    HardwoodRule = "exact"
)

// HalfRule is where exactly half a square foot of surface measure goes.
type HalfRule string

// The half rules.
const (
	HalfUp        HalfRule = "up"
	HalfAlternate HalfRule = "alternate"
)

const unitsPerFoot = 12 * UnitsPerInch

// Volume is a quantity of wood in cubic units of length, as the trade counts it. The zero value is
// none.
type Volume struct{ units big.Int }

// Add adds another quantity.
func (v *Volume) Add(o *Volume) { v.units.Add(&v.units, &o.units) }

// mostTally is the greatest tally that is written: no wood that anybody has comes near it.
const mostTally = 999_999_999_999_999_999

// Millionths is the quantity in millionths of a board foot, in a millimetre shop of a cubic metre,
// halves up.
func (v *Volume) Millionths(u Unit) int64 {
	unit := tallyUnit(u)
	n := new(big.Int).Mul(&v.units, big.NewInt(2_000_000))
	n.Add(n, &unit.units)
	if n.Div(n, unit.units.Lsh(&unit.units, 1)); !n.IsInt64() {
		return mostTally
	}
	return min(n.Int64(), mostTally)
}

// tallyUnit is a board foot, in a millimetre shop a cubic metre.
func tallyUnit(u Unit) *Volume {
	if u == Millimetre {
		return volume(1000*UnitsPerMillimetre, 1000*UnitsPerMillimetre, 1000*UnitsPerMillimetre)
	}
	return volume(unitsPerFoot, unitsPerFoot, UnitsPerInch)
}

// volume multiplies.
func volume(factors ...Length) *Volume {
	v := &Volume{}
	v.units.SetInt64(1)
	for _, f := range factors {
		v.units.Mul(&v.units, big.NewInt(int64(f)))
	}
	return v
}

// Volume is that of a run of this wood, counted for a shop with this unit.
func (w *Wood) Volume(run Length, u Unit) *Volume { return w.VolumeAcross(run, w.Width, u) }

// VolumeAcross is that of a blank or an offcut so long and so wide of this wood. It is what a board
// of this width counts, so that what goes back to the rack counts the same when it comes from
// there.
func (w *Wood) VolumeAcross(run, width Length, u Unit) *Volume {
	thickness := w.Thickness
	if size := w.Section.size(Condition{}); u != Millimetre && size.kind != metric {
		thickness = max(size.nominalThickness, UnitsPerInch)
		if size.kind == softwood {
			width = w.Section.nominalShare(width)
		}
	}
	return volume(thickness, width, run)
}

// nominalShare is the nominal width that a board of a softwood section counts: the section's, or,
// of a strip, its share of that.
func (s Section) nominalShare(width Length) Length {
	nominal := s.size(Condition{}).nominalWidth
	_, actual := s.Actual(Condition{Seasoning: Dry})
	if width >= actual-actual/10 {
		return nominal
	}
	return (2*nominal*width + actual) / (2 * actual)
}

// Tallier tallies whole boards one after the other, as they stand on a list.
type Tallier struct {
	rule   TallyRule
	unit   Unit
	halves map[WoodKind]int64 // met so far
}

// NewTallier tallies by the rule of a shop.
func NewTallier(s *Settings) *Tallier {
	return &Tallier{s.Tally, s.Units, map[WoodKind]int64{}}
}

// Boards is the quantity of the next n boards, all of this wood.
func (t *Tallier) Boards(w *Wood, n int64) *Volume {
	size := w.Section.size(Condition{})
	if t.unit == Millimetre || size.kind != quarters || t.rule.Hardwood == ExactVolume {
		v := w.Volume(w.Length, t.unit)
		v.units.Mul(&v.units, big.NewInt(n))
		return v
	}
	// in 1/unitsPerFoot of a square foot
	area := w.Width * (w.Length / unitsPerFoot)
	measure, twice := n*int64(area/unitsPerFoot), 2*(area%unitsPerFoot) // twice the fraction
	switch {
	case twice > unitsPerFoot, twice == unitsPerFoot && t.rule.Half != HalfAlternate:
		measure += n
	case twice == unitsPerFoot:
		met := t.halves[w.Kind()]
		t.halves[w.Kind()] += n
		measure += (met+n+1)/2 - (met+1)/2 // the first one up, the second down
	}
	return volume(unitsPerFoot, unitsPerFoot, max(size.nominalThickness, UnitsPerInch),
		Length(measure))
}

// PlanTally is the wood of a plan in millionths of a board foot, or of a cubic metre in a
// millimetre shop.
type PlanTally struct {
	Bought   int64 // boards bought, as the yard tallies them
	Rack     int64 // boards of the rack that are used, by volume
	Returned int64 // offcuts, by volume
	Blanks   int64 // what is cut for all commissions, by volume
}

// TallyOf adds up the wood of a plan, exactly, and rounds once.
func (j *Job) TallyOf(p *Plan) PlanTally {
	rack, offer, qty := map[string]*Wood{}, map[int]*Wood{}, map[int]int64{}
	for i := range j.Rack {
		rack[j.Rack[i].ID] = &j.Rack[i].Wood
	}
	for i := range j.Yard {
		offer[j.Yard[i].Where.Line] = &j.Yard[i].Wood
	}
	var bought, used, returned, blanks Volume
	wood := map[string]*Wood{} // by board
	for _, pl := range p.Placements {
		w := rack[pl.Board]
		if pl.Offer > 0 {
			w = offer[pl.Offer]
			qty[pl.Offer]++
		} else {
			used.Add(w.Volume(w.Length, j.Settings.Units))
		}
		wood[pl.Board] = w
		for _, piece := range pl.Pieces {
			width := w.Width
			if pl.First != NotRipped {
				width = piece.Right - piece.Left
			}
			blanks.Add(w.VolumeAcross(piece.To-piece.From, width, j.Settings.Units))
		}
	}
	for _, c := range p.Cuts {
		if c.Kind == KindOffcut {
			returned.Add(wood[c.Board].VolumeAcross(c.To-c.From, c.Right-c.Left, j.Settings.Units))
		}
	}
	yard := NewTallier(&j.Settings)
	for i := range j.Yard {
		if n := qty[j.Yard[i].Where.Line]; n > 0 {
			bought.Add(yard.Boards(&j.Yard[i].Wood, n))
		}
	}
	u := j.Settings.Units
	return PlanTally{bought.Millionths(u), used.Millionths(u), returned.Millionths(u),
		blanks.Millionths(u)}
}
