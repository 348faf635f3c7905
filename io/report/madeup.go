package report

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// FinalCut is a cut to the finished length: off is what both ends lose together.
type FinalCut struct {
	Stop, Blank, Off model.Length
	Qty              int64
	Part, Commission string
}

// FinalCuts lists the last crosscuts of some parts, longest stop first: of a glue-up its own and
// not those of its pieces.
func FinalCuts(job *model.Job, parts []*model.Part) (out []FinalCut) {
	made := Assemblies(parts)
	for _, p := range parts {
		blank := job.BlankLength(p)
		if p.Makes == nil || makeup.IsSpare(p) {
			out = append(out, FinalCut{p.Length, blank, blank - p.Length, p.Qty, p.Name,
				p.Commission})
		}
		for n := range made {
			a := &made[n]
			if a.Piece != p {
				continue
			}
			c := FinalCut{p.Makes.Length, blank, blank - p.Makes.Length, int64(len(a.Made)),
				p.Makes.Part + ", glued", p.Commission}
			if a.Gang() {
				c.Off, c.Part = blank-p.Length, p.Makes.Part+", "+a.inOne()
			}
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b FinalCut) int { return cmp.Compare(b.Stop, a.Stop) })
	return out
}

// MadeUp sums up how the parts of a plan are made up: glue-ups by their staves and layers, gangs,
// and spare copies. It is empty of a plan in which none are.
func MadeUp(job *model.Job) (out []string) {
	list := Assemblies(pointers(job.Parts))
	blanks, inGangs := 0, 0
	for i := range list {
		if a := &list[i]; a.Gang() {
			blanks, inGangs = blanks+int(a.Blanks), inGangs+len(a.Made)
		}
	}
	if words := glueUpCounts(list); words != "" {
		out = append(out, "Glue-ups: "+words+".")
	}
	if blanks > 0 {
		out = append(out, fmt.Sprintf("Several in one blank: %s from %s.", count(inGangs, "part"),
			count(blanks, "blank")))
	}
	return append(out, spares(job)...)
}

// glueUpCounts counts glue-ups, the fewest pieces first, a piece named once a sort: panels by their
// staves, then laminated parts by their layers, then what has both.
func glueUpCounts(list []Assembly) string {
	kind := func(a *Assembly) int {
		switch m := &a.member; {
		case m.Layers == 1:
			return 0
		case m.Staves == 1:
			return 1
		}
		return 2
	}
	order := func(a, b *Assembly) int {
		return cmp.Or(cmp.Compare(kind(a), kind(b)), cmp.Compare(a.member.Layers, b.member.Layers),
			cmp.Compare(a.member.Staves, b.member.Staves))
	}
	var all []*Assembly
	for i := range list {
		if a := &list[i]; !a.Gang() {
			all = append(all, a)
		}
	}
	slices.SortStableFunc(all, order)
	var text strings.Builder
	for from := 0; from < len(all); {
		to, copies := from, 0
		for ; to < len(all) && order(all[from], all[to]) == 0; to++ {
			copies += len(all[to].Made)
		}
		a := all[from]
		of := a.Of()
		switch {
		case from == 0:
		case kind(all[from-1]) != kind(a):
			text.WriteString("; ")
		default:
			text.WriteString(", ")
			if kind(a) < 2 {
				of = fmt.Sprint(a.member.Staves * a.member.Layers)
			}
		}
		fmt.Fprintf(&text, "%d of %s", copies, of)
		from = to
	}
	return text.String()
}

// spares says of which parts there are spare copies, and how many were welcome.
func spares(job *model.Job) []string {
	made := map[[2]string]map[int64]bool{}
	for i := range job.Parts {
		p := &job.Parts[i]
		if p.Makes == nil {
			continue
		}
		name := [2]string{p.Commission, p.Makes.Part}
		for _, m := range p.Makes.Of {
			for _, c := range m.Copies {
				if c > p.Makes.Wanted {
					if made[name] == nil {
						made[name] = map[int64]bool{}
					}
					made[name][c] = true
				}
			}
		}
	}
	var words []string
	for i := range job.AsEntered().Parts {
		p := &job.AsEntered().Parts[i]
		if p.Spare > 0 {
			words = append(words, fmt.Sprintf("%s of %s, %d of %d", p.Name, p.Commission,
				len(made[[2]string{p.Commission, p.Name}]), p.Spare))
		}
	}
	if words == nil {
		return nil
	}
	return []string{"Spare copies: " + strings.Join(words, "; ") + "."}
}

// SpareCosts says what spare copies are of the net wood cost of each commission: as much of it as
// they are of the wood in its blanks. Of a gang a spare copy is its share. It is empty where there
// are none.
//
//	share = cost of the commission x wood of its spares / wood of its blanks
func SpareCosts(job *model.Job, plan *model.Plan) string {
	names := makeup.NamesOf(job)
	all, spare := map[string]*big.Rat{}, map[string]*big.Rat{}
	thick := thicknesses(job, plan)
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		if c.Kind != model.KindPart {
			continue
		}
		if all[c.Commission] == nil {
			all[c.Commission], spare[c.Commission] = new(big.Rat), new(big.Rat)
		}
		wood := big.NewRat(int64(c.To-c.From), 1)
		wood.Mul(wood, big.NewRat(int64(c.Right-c.Left), 1))
		wood.Mul(wood, big.NewRat(int64(thick[c.Board]), 1))
		all[c.Commission].Add(all[c.Commission], wood)
		p := names[[2]string{c.Commission, c.Part}]
		if p == nil {
			continue
		}
		if m := makeup.MemberOf(p, c.Copy); m != nil {
			n := int64(0)
			for _, number := range m.Copies {
				if number > p.Makes.Wanted {
					n++
				}
			}
			wood.Mul(wood, big.NewRat(n, p.Makes.InOne))
			spare[c.Commission].Add(spare[c.Commission], wood)
		}
	}
	var words []string
	for i := range plan.Costs {
		c := &plan.Costs[i]
		if s := spare[c.Commission]; s != nil && s.Sign() > 0 {
			share := new(big.Rat).Quo(s, all[c.Commission])
			share.Mul(share, big.NewRat(int64(c.Cost), 1))
			words = append(words, Money(rounded(share))+" of "+c.Commission)
		}
	}
	if words == nil {
		return ""
	}
	return "Of these costs spare copies are, by their wood: " + strings.Join(words, "; ") + "."
}

// rounded is an amount to the nearest unit.
func rounded(r *big.Rat) model.Money {
	n, ok := new(big.Int).SetString(r.FloatString(0), 10)
	if !ok || !n.IsInt64() {
		return model.MaxMoney
	}
	return model.Money(n.Int64())
}

// thicknesses are those of the boards that a plan uses, by their ids.
func thicknesses(job *model.Job, plan *model.Plan) map[string]model.Length {
	out, lines := map[string]model.Length{}, map[int]model.Length{}
	for i := range job.Yard {
		lines[job.Yard[i].Where.Line] = job.Yard[i].Thickness
	}
	for i := range job.Rack {
		out[job.Rack[i].ID] = job.Rack[i].Thickness
	}
	for i := range plan.Placements {
		if p := &plan.Placements[i]; p.Offer > 0 {
			out[p.Board] = lines[p.Offer]
		}
	}
	return out
}

// AllCautions are [Cautions], and those of what is glued up and parted at the bench.
func AllCautions(job *model.Job, plan *model.Plan) []string {
	h := planHazards(job, plan)
	h.atBench(job, pointers(job.Parts))
	return cautionsOf(job, h)
}

func pointers(parts []model.Part) (out []*model.Part) {
	for i := range parts {
		out = append(out, &parts[i])
	}
	return out
}

// atBench takes note of what is glued up of some parts, or parted. Of a job that no plan has chosen
// for yet it is what may be.
func (h *hazards) atBench(job *model.Job, parts []*model.Part) {
	part := func(l model.Length) {
		if h.parted == 0 || l < h.parted {
			h.parted = l
		}
	}
	for _, p := range parts {
		switch {
		case p.Makes != nil && makeup.IsGlued(p):
			h.planed.add(job, p, job.BlankLength(p))
		case p.Makes != nil || job.Entered != nil:
		case p.InOne != 0:
			part(p.Length)
		case p.ByWays():
			h.glued, h.widest = h.glued+int(p.Qty), max(h.widest, p.Width)
		}
	}
	for _, a := range Assemblies(parts) {
		if k := a.Piece.Makes; a.Gang() {
			part(k.Length)
			h.gangs += int(a.Blanks)
		} else {
			h.glued, h.widest = h.glued+len(a.Made), max(h.widest, k.Width)
		}
	}
}
