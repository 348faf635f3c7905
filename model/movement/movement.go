package movement

import (
	"cmp"
	"math/big"
	"slices"
	"strings"

	"rackwright/model"
)

// The movement of one width, from the Wood Handbook (Forest Products Laboratory, GTR-190, 2010).
//
//	D      the width
//	M, N   the moisture before and after, in percent of the dry weight; neither above 30 %
//	C      the coefficient of Table 13-5, see model/species.go
//	S      the shrinkage from green to dry
//
//	change = D C (N - M)                     eq. 13-2, where both are between 6 % and 14 %
//	change = D (N - M) / (1/C + M - 10)      eq. 13-3, elsewhere
//
// Eq. 13-3 is printed with S, as D (N - M) / (30 100/S - 30 + M). Table 13-5 is that at M = 10, so
// 1/C = 30 100/S - 20. Put in, S falls out, which differs between one species and its trade group.
// So does the 30, which for redwood and western redcedar would have to be 22. Fractions are exact
// here: moisture in tenths, C in 1/100000.

// Moisture is water in wood, in tenths of a percent of its dry weight.
type Moisture int64

// MostMoisture is about where the walls of wood are full of water; above it wood no longer swells.
// Redwood and western redcedar stop at 22 %, so beyond that too much is asked for them.
const MostMoisture Moisture = 300

func (m Moisture) String() string { return tenths(int64(m)) + model.NoBreakSpace + "%" }

func tenths(n int64) string { return strings.TrimSuffix(big.NewRat(n, 10).FloatString(1), ".0") }

// Sawn says how the rings lie in a part.
type Sawn bool

// The two ways.
const (
	FlatSawn    Sawn = false // rings along the width, which moves the more
	QuarterSawn Sawn = true  // rings across it
)

// Coefficient is the share of its width that the wood moves for each 1 % of moisture, in 1/100000.
func Coefficient(s *model.Species, how Sawn) int64 {
	if how == QuarterSawn {
		return s.Radial
	}
	return s.Tangential
}

// Change is what a width gains from one moisture to the other, negative where it loses: exact, in
// units of Length.
func Change(s *model.Species, width model.Length, how Sawn, from, to Moisture) *big.Rat {
	k := Coefficient(s, how)
	den := int64(1_000_000)
	if min(from, to) < 60 || max(from, to) > 140 {
		den += k * int64(from-100)
	}
	return big.NewRat(int64(width)*k*int64(to-from), den)
}

// Slot is how much space a change asks for: all of it, up to the next 1/32 in, or to the next
// millimetre. It adds no clearance.
func Slot(change *big.Rat, u model.Unit) model.Length {
	step := int64(model.UnitsPerInch / 32)
	if u == model.Millimetre {
		step = model.UnitsPerMillimetre
	}
	n := new(big.Rat).Abs(change)
	n.Quo(n, big.NewRat(step, 1))
	up := new(big.Int).Add(n.Num(), n.Denom())
	return model.Length(up.Sub(up, big.NewInt(1)).Div(up, n.Denom()).Int64() * step)
}

// Wide are the wide parts of one material. Species is nil where it is not known.
type Wide struct {
	Material string
	Species  *model.Species
	Parts    []*model.Part
}

// whole are the parts of a job, each once, and not the pieces that they are made of.
func whole(j *model.Job) (out []*model.Part) {
	met := map[[2]string]bool{}
	for i := range j.Parts {
		p := &j.Parts[i]
		if k := p.Makes; k != nil {
			made := *p
			made.Name, made.Makes = k.Part, nil
			made.Length, made.Width, made.Thickness = k.Length, k.Width, k.Thickness
			p = &made
		}
		if name := [2]string{p.Commission, p.Name}; !met[name] {
			met[name], out = true, append(out, p)
		}
	}
	return out
}

// WideParts gives the parts of at least this width, by material, then by commission, in input
// order. What is made of pieces moves as one, so it counts with its own width, and the pieces do
// not.
func WideParts(j *model.Job, least model.Length) []Wide {
	var out []Wide
	at := map[string]int{}
	for _, p := range whole(j) {
		if p.Width < least {
			continue
		}
		n, seen := at[p.Material]
		if !seen {
			n, at[p.Material] = len(out), len(out)
			out = append(out, Wide{Material: p.Material,
				Species: j.Settings.SpeciesFor(p.Material)})
		}
		out[n].Parts = append(out[n].Parts, p)
	}
	order := map[string]int{}
	for i, n := range j.Commissions {
		order[n.Name] = i
	}
	for n := range out {
		slices.SortStableFunc(out[n].Parts, func(a, b *model.Part) int {
			return cmp.Compare(order[a.Commission], order[b.Commission])
		})
	}
	return out
}
