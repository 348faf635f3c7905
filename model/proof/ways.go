package proof

import (
	"slices"

	"rackwright/model"
)

// The ways and covers of a want are all that the part has, in their order. What came before, in all
// that a certificate says of it, may be left out.

// isOf says whether an item of a certificate, by their keys, is that of a piece.
func (p *proof) isOf(item, part int, keys []demandKey) bool {
	return item >= 0 && item < len(keys) && keys[item] == p.keys[part]
}

// inOrder compares all that a want has with what a certificate says. It gives how many that are
// right begin it, and the first that is missing there, if any.
func inOrder[Has, Claim any](all []Has, claims []Claim, is func(Has, Claim) bool) (n int,
	missing *Has) {
	for k := range all {
		switch {
		case n < len(claims) && is(all[k], claims[n]):
			n++
		case slices.ContainsFunc(claims[:n], func(c Claim) bool { return is(all[k], c) }):
		default:
			return n, &all[k]
		}
	}
	return n, nil
}

// judgeWays judges the ways of a want.
func (p *proof) judgeWays(w *want, claim *model.CertWant, where string, keys []demandKey) {
	n, v := inOrder(w.ways, claim.Ways, func(v way, c model.CertWay) bool {
		return c.Pieces == v.pieces && c.Copies == v.copies && p.isOf(c.Item, v.part, keys)
	})
	if v != nil {
		p.say(where, "its way %d is to be %d for %d pieces of the blank of %s, %s", n, v.copies,
			v.pieces, p.shop(p.keys[v.part].length), p.faceName(p.keys[v.part].face))
	} else if n < len(claim.Ways) {
		p.say(where, "its way %d is none that %s of %s has", n, claim.Part, claim.Commission)
	}
}

// judgeCovers judges the covers of a want.
func (p *proof) judgeCovers(w *want, claim *model.CertWant, where string, keys []demandKey) {
	n, v := inOrder(w.covers, claim.Covers, func(v cover, c model.CertCover) bool {
		return c.Need == v.need && c.Layers == v.layers && slices.EqualFunc(c.Staves, v.staves,
			func(a model.CertStave, b stave) bool {
				return a.Steps == b.steps && p.isOf(a.Item, b.part, keys)
			})
	})
	if v != nil {
		p.say(where, "its cover %d is to need %d steps in %d layers, of staves of %d to %d "+
			"steps whose blanks are %s long", n, v.need, v.layers, v.staves[0].steps,
			v.staves[len(v.staves)-1].steps, p.shop(p.keys[v.staves[0].part].length))
	} else if n < len(claim.Covers) {
		p.say(where, "its cover %d is none that %s of %s has", n, claim.Part, claim.Commission)
	}
}
