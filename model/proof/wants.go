package proof

import (
	"fmt"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/makeup"
)

// Wants are parts that are made up: a certificate says of what pieces their copies may be. Package
// makeup says what ways and covers a part has. All of them must stand in the certificate, in their
// order: the bound is of plans that may choose any. A way that came out twice, as for two surfaces
// of one section, may stand once.
//
//	glued up            a want of the copies that are made, all of which have to be, and where
//	                    spare copies are allowed a second want of as many as are
//	not glued up        a want of the spare copies; the others are wanted as blanks, as of any part
//
// A spare copy that is not made costs Forgo: what a spare copy may cost, in ticks. So a certificate
// bounds
//
//	F x (spare copies that are not made) + what the plan costs
//
// of every plan with as many copies of the rest. The bound of the group is that less F times what
// is not made in this plan: no plan with just as many spare copies costs less.
//
// choice.go says what wants add to the bound of a leaf.

// want is some copies of a part that is made up, as the job has it.
type want struct {
	part   int  // index in the job's parts
	spare  bool // the copies need not be made
	ways   []way
	covers []cover
}

// way is copies of a part for so many pieces; part is the index of the piece in Prover.parts.
type way struct {
	part           int
	pieces, copies int64
}

// cover is staves that come to a need, in each of the layers.
type cover struct {
	need   int64 // in steps
	layers int64
	staves []stave
}

// stave is a piece that counts so many steps.
type stave struct {
	part  int // index in Prover.parts
	steps int64
}

// wanted is what a plan has of a want.
type wanted struct {
	demand int64
	made   int64 // of spare copies
	group  int   // that counts it, or -1
}

// findWants lists the parts of the job and all pieces, and of what each part may be made.
func (p *Prover) findWants() {
	for i := range p.job.Parts {
		p.parts = append(p.parts, &p.job.Parts[i])
	}
	for i := range p.job.Parts {
		part := &p.job.Parts[i]
		choice := makeup.ChoiceOf(p.job, part)
		if choice == nil {
			continue
		}
		w := want{part: i}
		for n := range choice.Ways {
			one := &choice.Ways[n]
			w.ways = append(w.ways, way{p.piece(&one.Piece), one.Pieces, one.Copies})
		}
		for n := range choice.Covers {
			w.covers = append(w.covers, p.cover(&choice.Covers[n]))
		}
		if part.ByWays() {
			p.wants = append(p.wants, w)
		}
		if w.spare = true; part.Spare > 0 {
			p.wants = append(p.wants, w)
		}
	}
}

// piece notes a piece.
func (p *Prover) piece(q *model.Part) int {
	p.parts = append(p.parts, q)
	return len(p.parts) - 1
}

// cover notes the staves of a cover. Its need is rounded up to whole steps.
func (p *Prover) cover(v *makeup.Cover) cover {
	out := cover{need: int64((v.Need.Total() + v.Step - 1) / v.Step), layers: v.Through.Times}
	for n := range v.Staves {
		s := &v.Staves[n]
		out.staves = append(out.staves, stave{p.piece(&s.Piece), int64(s.Net / v.Step)})
	}
	return out
}

// findWanted counts what the plan has of the wants.
func (p *proof) findWanted() []wanted {
	out := make([]wanted, len(p.wants))
	for n, w := range p.wants {
		part, made := &p.job.Parts[w.part], map[int64]bool{} // copies of the want
		for _, m := range p.plan.Made {
			if m.Commission != part.Commission || m.Part != part.Name {
				continue
			}
			for _, c := range m.Copies {
				spare := c > part.All() && c <= part.All()+part.Spare
				if spare == w.spare && (spare || part.Wants(c)) {
					made[c] = true
				}
			}
		}
		out[n] = wanted{demand: int64(len(made)), group: -1}
		if w.spare {
			out[n].demand, out[n].made = part.Spare, int64(len(made))
		}
	}
	return out
}

// judgeCounted judges that all that is wanted is counted in some group. Spare copies of a part that
// there is no way to make need not be.
func (p *proof) judgeCounted() {
	for n, w := range p.wants {
		if at := &p.wanted[n]; at.group < 0 && at.demand > 0 && len(w.ways)+len(w.covers) > 0 {
			part := &p.job.Parts[w.part]
			p.say("plan.json: groups", "%d %s of %s of %s are counted in no group", at.demand,
				w.copies(), part.Name, part.Commission)
		}
	}
}

// copies is what the copies of a want are called.
func (w *want) copies() string {
	if w.spare {
		return "spare copies"
	}
	return "copies made up"
}

// judgeWants judges that the wants of a certificate are those of the job, with all the ways that
// each has.
func (p *proof) judgeWants(g int, where string, stocks []stock) {
	cert := &p.plan.Groups[g].Certificate
	keys := make([]demandKey, 0, len(cert.Items))
	if len(cert.Wants) > 0 {
		for i := range cert.Items {
			keys = append(keys, p.keyOf(&cert.Items[i], stocks))
		}
	}
	last := -1
	for n := range cert.Wants {
		claim, where := &cert.Wants[n], fmt.Sprintf("%s, want %d", where, n)
		at := slices.IndexFunc(p.wants, func(w want) bool {
			part := &p.job.Parts[w.part]
			return part.Commission == claim.Commission && part.Name == claim.Part &&
				w.spare == (claim.Forgo != nil)
		})
		if at < 0 {
			p.say(where, "the job has no %s of %s of %s",
				(&want{spare: claim.Forgo != nil}).copies(), claim.Part, claim.Commission)
			continue
		}
		w, counted := &p.wants[at], &p.wanted[at]
		switch {
		case counted.group >= 0:
			p.say(where, "the %s of %s of %s are counted already", w.copies(), claim.Part,
				claim.Commission)
		case at < last:
			p.say(where, "%s of %s does not stand in the order of the parts", claim.Part,
				claim.Commission)
		case claim.Demand != counted.demand:
			p.say(where, "%d %s of %s of %s are counted; it is to be %d", claim.Demand, w.copies(),
				claim.Part, claim.Commission, counted.demand)
		}
		counted.group, last = g, max(last, at)
		if f := p.forgo(); w.spare && f.Cmp(big.NewInt(*claim.Forgo)) != 0 {
			p.say(where, "a spare copy of %s of %s may cost %v ticks, not %d", claim.Part,
				claim.Commission, f, *claim.Forgo)
		}
		p.judgeWays(w, claim, where, keys)
		p.judgeCovers(w, claim, where, keys)
	}
}

// forgo is what a spare copy may cost, in ticks.
func (p *proof) forgo() *big.Int {
	f := big.NewInt(int64(p.job.Settings.SpareAtMost))
	return f.Lsh(f, p.worth.Bits)
}

// lessForgone is the bound of a group by what its certificate proves: less what the spare copies
// cost that are not made.
func (p *proof) lessForgone(g int, proven *big.Int) *big.Int {
	if proven == noPlans {
		return proven
	}
	out := new(big.Int).Set(proven)
	for n := range p.wants {
		if at := &p.wanted[n]; at.group == g && p.wants[n].spare {
			out.Sub(out, new(big.Int).Mul(p.forgo(), big.NewInt(at.demand-at.made)))
		}
	}
	return out
}
