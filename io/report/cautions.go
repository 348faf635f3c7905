package report

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// Caution stands below every list that tells someone to cut. What is particular to a list stands below it, each once: see hazards.
const Caution = "Cutting can maim. The machine's own manual, local rules and proper training come before this list: " +
	"guards on, eyes, ears and lungs protected, no gloves."

// hazards are what a list of cuts gives cause to be careful of. Trade: common practice.
type hazards struct {
	short    int          // blanks below shortest_blank
	shortest model.Length // of them
	stops    int          // stop-block settings
	ripped   int          // blanks narrower than their board, which are ripped to width
	eased    int          // of them, out of boards with eased edges
	dusty    []string     // materials whose dust is known to harm
}

// cautions prints the caution of every list and those that apply to this one.
func (p *printer) cautions(h *hazards) {
	p.line("%s", Caution)
	if h.short > 0 {
		p.line("  Short stock (%s below shortest_blank, the shortest %s): a jig or clamp holds it, never a hand.", count(h.short, "blank"), p.exact(h.shortest))
	}
	if h.stops > 0 {
		p.line("  Stop block (%s): a loose piece between it and the blade is caught and thrown; keep it held until the blade stands, or have the stop clear of it before the cut.",
			count(h.stops, "setting"))
	}
	if h.ripped > 0 {
		eased := ""
		if h.eased > 0 {
			eased = fmt.Sprintf(", %d with eased edges", h.eased)
		}
		p.line("  Ripping (%s out of wider boards%s): what rocks or pinches is kicked back. A straight edge to the fence and a flat face to the table first; riving knife, push stick, nobody in line with the blade.",
			count(h.ripped, "blank"), eased)
	}
	if len(h.dusty) > 0 {
		p.line("  Dust (%s) harms whoever breathes it: extraction on, a mask that fits, for sweeping too.", strings.Join(few(h.dusty), ", "))
	}
}

// few leaves the first names of a long list.
func few(names []string) []string {
	if more := len(names) - mostNames; more > 0 {
		return append(slices.Clip(names[:mostNames]), fmt.Sprintf("and %d more", more))
	}
	return names
}

// planHazards are those of the crosscuts of a plan and of the blanks that it leaves wider than they are to be.
func planHazards(job *model.Job, plan *model.Plan) *hazards {
	h := &hazards{}
	parts := map[[2]string]*model.Part{}
	for i := range job.Parts {
		p := &job.Parts[i]
		parts[[2]string{p.Commission, p.Name}] = p
	}
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		p := parts[[2]string{c.Commission, c.Part}]
		if p == nil {
			continue // kerf, waste and the like
		}
		h.blank(job, p, c.Section, 1)
		if p.Width != c.Right-c.Left { // as in BlankIn
			h.ripped++
			if c.Section.Eased() {
				h.eased++
			}
		}
	}
	for i := range plan.Setups {
		h.stops = max(h.stops, plan.Setups[i].Setup)
	}
	return h
}

// finalHazards are those of the last cuts of some parts. They are crosscuts, so there is no ripping.
func finalHazards(job *model.Job, parts []*model.Part) *hazards {
	h, stops := &hazards{}, map[model.Length]bool{}
	for _, p := range parts {
		h.blank(job, p, p.Section, int(p.Qty))
		stops[p.Length] = true
	}
	h.stops = len(stops)
	return h
}

// blank takes note of qty alike blanks.
func (h *hazards) blank(job *model.Job, p *model.Part, s model.Section, qty int) {
	if l := job.BlankLength(p); l < job.Settings.SafetyFor(p.Material, s).ShortestBlank {
		if h.short == 0 || l < h.shortest {
			h.shortest = l
		}
		h.short += qty
	}
	if !slices.Contains(h.dusty, p.Material) && harmful(job, p.Material) {
		h.dusty = append(h.dusty, p.Material)
	}
}

// conifers are the last words of the names of softwoods in the table of species.
var conifers = []string{"fir", "pine", "spruce", "hemlock", "larch", "redcedar", "redwood"}

// harmful says whether dust of a material has a limit of its own among wood dusts: hardwoods (Directive 2004/37/EC, Annex III) and western
// redcedar (ACGIH; osha.gov, wood dust). A wood of unknown species is taken for hardwood where it comes in quarters, as hardwood does.
func harmful(job *model.Job, material string) bool {
	if s := job.Settings.SpeciesFor(material); s != nil {
		name, _, _ := strings.Cut(s.Name, ",")
		return s.Name == "western redcedar" || !slices.ContainsFunc(conifers, func(c string) bool { return strings.HasSuffix(name, c) })
	}
	quarters := func(m string, s model.Section) bool {
		thick, wide := s.Nominal()
		return m == material && thick > 0 && wide == 0
	}
	return slices.ContainsFunc(job.Parts, func(p model.Part) bool { return quarters(p.Material, p.Section) }) ||
		slices.ContainsFunc(job.Rack, func(b model.Board) bool { return quarters(b.Material, b.Section) }) ||
		slices.ContainsFunc(job.Yard, func(o model.Offer) bool { return quarters(o.Material, o.Section) })
}
