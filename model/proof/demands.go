package proof

import (
	"slices"

	"rackwright/model"
	"rackwright/model/check"
)

// What is wanted: blanks that are alike, of parts and of the pieces that parts may be made of, and
// how many of them are cut for themselves.

// demandKey tells items apart. held is the set of woods that hold the blank, a bit each; a line
// with nothing for sale is not in it. width is that of the finished part where one of these woods
// can be ripped. Else it says nothing of the blank and is 0.
type demandKey struct {
	length model.Length
	width  model.Length
	face   model.Face
	held   string
}

// demand is what an item must be: how many copies of blanks alike are cut for themselves, as parts
// that are not made up.
type demand struct {
	demandKey
	copies int64
	part   int // index of one of its parts in Prover.parts
	group  int // that counts it, or -1
}

// placed is by part how many copies are cut that are no pieces of others.
func (p *proof) placed(r *check.Reading) []int64 {
	out := make([]int64, len(p.parts))
	direct := map[[2]string]int{}
	for i := range p.job.Parts {
		if part := &p.job.Parts[i]; !part.ByWays() {
			direct[[2]string{part.Commission, part.Name}] = i
		}
	}
	for _, u := range p.used {
		for _, n := range u.Parts {
			part := &r.Job.Parts[n]
			if i, is := direct[[2]string{part.Commission, part.Name}]; is {
				out[i]++
			}
		}
	}
	return out
}

// findKeys finds what tells the items of the parts apart.
func (p *Prover) findKeys() {
	for i, part := range p.parts {
		key := demandKey{p.job.BlankLength(part), 0, part.Face, p.held[i]}
		if slices.ContainsFunc(woodsIn(p.held[i]), func(w int) bool { return p.rippable[w] }) {
			key.width = part.Width
		}
		p.keys = append(p.keys, key)
	}
}

// heldSets gives by part the set of woods that hold it; none of one that comes about by its ways.
func (p *Prover) heldSets() []string {
	out := make([]string, len(p.parts))
	type alike struct { // parts alike in all that Holds looks at share theirs
		commission, material, board string
		length, width, thickness    model.Length
		section                     model.Section
		sawn                        bool
	}
	sets := map[alike]string{}
	for i, part := range p.parts {
		if part.ByWays() {
			continue // what may be cut of it are its pieces
		}
		key := alike{part.Commission, part.Material, part.Board, part.Length, part.Width,
			part.Thickness, part.Section, part.Sawn()}
		held, known := sets[key]
		if !known {
			held = p.heldBy(part)
			sets[key] = held
		}
		out[i] = held
	}
	return out
}

// heldBy is the set of woods that hold a part.
func (p *Prover) heldBy(part *model.Part) string {
	woods := len(p.job.Rack) + len(p.job.Yard)
	set := make([]byte, (woods+7)/8)
	for w := range woods {
		board, origin := p.board(w)
		if ok, _ := p.job.Holds(part, board, origin); ok && p.supply(w) > 0 {
			set[w/8] |= 1 << (w % 8)
		}
	}
	return string(set)
}
