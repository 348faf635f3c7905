package report

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// Caution stands below every list that tells someone to cut. What is particular to a list stands
// below it, each once: see hazards.
const Caution = "Cutting can maim. The machine's own manual, local rules and proper training " +
	"come before this list: " +
	"guards on, eyes, ears and lungs protected, no gloves."

// hazards are what a list of cuts gives cause to be careful of. Trade: common practice.
type hazards struct {
	short    int             // blanks below shortest_blank
	shortest model.Length    // of them
	stops    int             // stop-block settings
	ripped   int             // blanks narrower than their board, which are ripped to width
	eased    int             // of them, out of boards with eased edges
	fences   int             // fence settings
	tense    int             // blanks that the plan rips from construction lumber
	longest  model.Length    // rip of them
	narrow   int             // blanks and offcuts that the plan rips narrower than narrowStrip
	thinnest model.Length    // of them
	glued    int             // glue-ups
	widest   model.Length    // of them
	gangs    int             // blanks of several parts, to be parted
	parted   model.Length    // the shortest of these; 0: there are none
	planed   planed          // pieces of glue-ups that are short or thin
	dusty    []string        // materials whose dust is known to harm
	looked   map[string]bool // materials, whether they are among them
}

// Cautions are the caution of every list that tells someone to cut, and below it those that apply
// to the cuts of a plan, or of some boards of it: see [Only]. Blanks within lengths do not break.
func Cautions(job *model.Job, plan *model.Plan) []string {
	return cautionsOf(job, planHazards(job, plan))
}

// FinalCautions are [Cautions] for the last cuts of some parts, which are crosscuts.
func FinalCautions(job *model.Job, parts []*model.Part) []string {
	return cautionsOf(job, finalHazards(job, parts))
}

// cautions prints those that [Cautions] or [FinalCautions] give.
func (p *printer) cautions(texts []string) {
	for n, text := range texts {
		p.line("%*s%s", 2*min(n, 1), "", text)
	}
}

func cautionsOf(job *model.Job, h *hazards) []string {
	out, show := []string{Caution}, job.Settings.Show
	say := func(applies bool, format string, args ...any) {
		if applies {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	say(h.short > 0, "Short stock (%s below shortest_blank, the shortest %s): a jig or clamp holds "+
		"it, never a hand.",
		count(h.short, "blank"), show(h.shortest))
	say(h.stops > 0, "Stop block (%s): a loose piece between it and the blade is caught and "+
		"thrown; keep it held until the blade has stopped, or have the stop clear of it before "+
		"the cut.",
		count(h.stops, "setting"))
	eased := ""
	if h.eased > 0 {
		eased = fmt.Sprintf(", %d with eased edges", h.eased)
	}
	if h.fences > 0 {
		eased += "; " + count(h.fences, "fence setting")
	}
	say(h.ripped > 0, "Ripping (%s out of wider boards%s): what rocks or pinches is kicked back. A "+
		"straight edge to the fence and a flat face to the table first; riving knife, push "+
		"stick, nobody in line with the blade.",
		count(h.ripped, "blank"), eased)
	say(h.tense > 0, "Long rips (%s from construction lumber, the longest cut %s): stresses in the "+
		"wood close the kerf behind the blade, and it throws the piece back. Riving knife or "+
		"splitter behind the blade, the outfeed supported, nothing forced; what pinches is "+
		"stopped and left to the machine's manual.",
		count(h.tense, "blank"), show(h.longest))
	say(h.narrow > 0, "Narrow strips (%s under %s, the narrowest %s): push stick or push block by "+
		"the machine's manual, no hand between blade and fence.",
		count(h.narrow, "piece"), show(narrowStrip(job)), show(h.thinnest))
	say(h.glued > 0, "Gluing (%s, the widest %s): clamp by the label of the glue, and leave it "+
		"for the cure time that the label names. Till then no panel goes over a saw or through a "+
		"planer: a joint that is not cured opens, and it is thrown. Hard glue is scraped off "+
		"first, as it breaks knives.", count(h.glued, "glue-up"), show(h.widest))
	out = append(out, h.planed.texts(show)...)
	blanks := ""
	if h.gangs > 0 {
		blanks = count(h.gangs, "blank") + " into "
	}
	say(h.parted > 0, "Parting (%spieces down to %s): the last piece, and any that is too "+
		"short to hold, lies in a jig or clamp, never in a hand. What the machine's manual calls "+
		"too short is parted by a hand saw.", blanks, show(h.parted))
	say(len(h.dusty) > 0, "Dust (%s) harms whoever breathes it: extraction on, a mask that fits, "+
		"for sweeping too.",
		strings.Join(few(h.dusty), ", "))
	return out
}

// narrowStrip is the width of a rip under which a hand at the fence comes too near to the blade:
// common practice; the machine's manual may say more.
func narrowStrip(job *model.Job) model.Length {
	if job.Settings.Units == model.Millimetre {
		return 150 * model.UnitsPerMillimetre
	}
	return 6 * model.UnitsPerInch
}

// planHazards are those of the crosscuts of a plan and of the blanks that it leaves wider than they
// are to be.
func planHazards(job *model.Job, plan *model.Plan) *hazards {
	h := &hazards{looked: map[string]bool{}}
	parts := map[[2]string]*model.Part{}
	for i := range job.Parts {
		p := &job.Parts[i]
		parts[[2]string{p.Commission, p.Name}] = p
	}
	widths := map[string]model.Length{}
	for i := range plan.Cuts {
		widths[plan.Cuts[i].Board] = max(widths[plan.Cuts[i].Board], plan.Cuts[i].Right)
	}
	surfaces := surfacesOf(job, plan)
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		h.rip(job, c, widths[c.Board])
		p := parts[[2]string{c.Commission, c.Part}]
		if p == nil {
			continue // kerf, waste and the like
		}
		h.blank(job, p, c.Section, 1)
		if !p.Whole(&model.Wood{Width: widths[c.Board], Surface: surfaces[c.Board]}) {
			h.ripped++
			if c.Section.Eased() {
				h.eased++
			}
		}
	}
	h.settings(plan)
	return h
}

// settings counts how often stop and fence are set in the order of work of a plan: to another
// length, or for another wood.
func (h *hazards) settings(plan *model.Plan) {
	type stand struct {
		material string
		section  model.Section
		setting  model.Length
	}
	stands, woods := map[string]stand{}, map[string]stand{}
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		woods[c.Board] = stand{material: c.Material, section: c.Section}
	}
	for i := range plan.Order {
		s := &plan.Order[i]
		at := woods[s.Board]
		if at.setting = s.Setting; s.Setting == 0 || stands[s.Saw] == at {
			continue // it is cut at its mark, or nothing is moved
		}
		if stands[s.Saw] = at; s.Saw == model.Rip {
			h.fences++
		} else {
			h.stops++
		}
	}
}

// surfacesOf says how the boards come that a plan uses, by their ids; those that are finished on
// all sides are left out.
func surfacesOf(job *model.Job, plan *model.Plan) map[string]model.Surface {
	lines, out := map[int]model.Surface{}, map[string]model.Surface{}
	for i := range job.Yard {
		lines[job.Yard[i].Where.Line] = job.Yard[i].Surface
	}
	for i := range job.Rack {
		if s := job.Rack[i].Surface; s != "" {
			out[job.Rack[i].ID] = s
		}
	}
	for i := range plan.Placements {
		if p := &plan.Placements[i]; p.Offer > 0 && lines[p.Offer] != "" {
			out[p.Board] = lines[p.Offer]
		}
	}
	return out
}

// rip takes note of a row of a board that is ripped; those of its whole width are none.
func (h *hazards) rip(job *model.Job, c *model.Cut, width model.Length) {
	if c.Right-c.Left == width {
		return
	}
	// no other kerf is as long as that of a rip
	if lumber(job, c.Material, c.Section) &&
		(c.Kind == model.KindPart || c.Kind == model.KindKerf) {
		h.longest = max(h.longest, c.To-c.From)
	}
	if lumber(job, c.Material, c.Section) && c.Kind == model.KindPart {
		h.tense++
	}
	if w := c.Right - c.Left; w < narrowStrip(job) &&
		(c.Kind == model.KindPart || c.Kind == model.KindOffcut) {
		if h.narrow == 0 || w < h.thinnest {
			h.thinnest = w
		}
		h.narrow++
	}
}

// lumber says whether wood is construction lumber: in softwood sections, and in metric ones where
// its species is not known for a hardwood.
func lumber(job *model.Job, material string, s model.Section) bool {
	thick, wide := s.Nominal()
	if thick == 0 || wide == 0 || !strings.HasSuffix(string(s), "mm") {
		return thick > 0 && wide > 0
	}
	species := job.Settings.SpeciesFor(material)
	return species == nil || conifer(species)
}

// finalHazards are those of the last cuts of some parts. They are crosscuts, so there is no
// ripping.
func finalHazards(job *model.Job, parts []*model.Part) *hazards {
	h, stops := &hazards{looked: map[string]bool{}}, map[model.Length]bool{}
	for _, p := range parts {
		h.blank(job, p, p.Section, int(p.Qty))
		if p.Makes != nil {
			stops[p.Makes.Length] = true
		} else {
			stops[p.Length] = true
		}
	}
	h.stops = len(stops)
	h.atBench(job, parts)
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
	if !h.looked[p.Material] {
		h.looked[p.Material] = true
		if harmful(job, p.Material) {
			h.dusty = append(h.dusty, p.Material)
		}
	}
}

// conifers are the last words of the names of softwoods in the table of species.
var conifers = []string{"fir", "pine", "spruce", "hemlock", "larch", "redcedar", "redwood"}

func conifer(s *model.Species) bool {
	name, _, _ := strings.Cut(s.Name, ",")
	return slices.ContainsFunc(conifers, func(c string) bool { return strings.HasSuffix(name, c) })
}

// harmful says whether dust of a material has a limit of its own among wood dusts: hardwoods
// (Directive 2004/37/EC, Annex III) and western redcedar (ACGIH; osha.gov, wood dust). A wood of
// unknown species is taken for hardwood where it comes in quarters, as hardwood does.
func harmful(job *model.Job, material string) bool {
	if s := job.Settings.SpeciesFor(material); s != nil {
		return s.Name == "western redcedar" || !conifer(s)
	}
	quarters := func(m string, s model.Section) bool {
		thick, wide := s.Nominal()
		return m == material && thick > 0 && wide == 0
	}
	return slices.ContainsFunc(job.Parts, func(p model.Part) bool {
		return quarters(p.Material, p.Section)
	}) ||
		slices.ContainsFunc(job.Rack, func(b model.Board) bool {
			return quarters(b.Material, b.Section)
		}) ||
		slices.ContainsFunc(job.Yard, func(o model.Offer) bool {
			return quarters(o.Material, o.Section)
		})
}
