package report

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// How parts come about that are made of pieces, for the bench. Trade: common practice.

// Assembly is some copies of a part that come about alike: of the same staves and layers, or
// several in one blank.
type Assembly struct {
	Piece  *model.Part // one of the pieces
	Made   []int64     // copies of the part that it makes
	Blanks int64       // of a gang
	nets   []model.Length
	member model.Member
}

// Gang says whether several copies are in one blank.
func (a *Assembly) Gang() bool { return a.Piece.Makes.InOne > 1 }

// Assemblies puts the pieces among some parts together, by part and copy. A copy counts if any of
// its pieces is still wanted. Spare copies that are cut as they are make nothing else.
func Assemblies(parts []*model.Part) (out []Assembly) {
	type copyOf struct {
		commission, part string
		number           int64
	}
	var order []copyOf
	made, wanted := map[copyOf]*Assembly{}, map[copyOf]bool{}
	for _, p := range parts {
		if p.Makes == nil || makeup.IsSpare(p) {
			continue
		}
		if p.Makes.InOne > 1 {
			out = append(out, gang(p))
			continue
		}
		for n := range p.Makes.Of {
			m := &p.Makes.Of[n]
			key := copyOf{p.Commission, p.Makes.Part, m.Copies[0]}
			a := made[key]
			if a == nil {
				a = &Assembly{Piece: p, Made: m.Copies, member: *m}
				made[key], order = a, append(order, key)
			}
			wanted[key] = wanted[key] || p.Wants(int64(n)+1)
			if m.Layer == 1 && m.Staves > 1 {
				a.nets = append(a.nets, p.Makes.Net)
			}
		}
	}
	for _, key := range order {
		a := made[key]
		if !wanted[key] {
			continue
		}
		slices.Sort(a.nets)
		n := slices.IndexFunc(out, func(o Assembly) bool { return o.like(a) })
		if n < 0 {
			out = append(out, *a)
		} else {
			out[n].Made = append(out[n].Made[:len(out[n].Made):len(out[n].Made)],
				a.Made...)
		}
	}
	for n := range out {
		slices.Sort(out[n].Made)
	}
	return out
}

// gang is what blanks of several copies give.
func gang(p *model.Part) Assembly {
	a := Assembly{Piece: p, Blanks: p.Qty}
	for n := range p.Qty {
		if m := makeup.MemberOf(p, p.CopyAt(n)); m != nil {
			a.Made = append(a.Made, m.Copies...)
		}
	}
	return a
}

func (a *Assembly) like(b *Assembly) bool {
	p, q := a.Piece, b.Piece
	return !a.Gang() && p.Commission == q.Commission && p.Makes.Part == q.Makes.Part &&
		p.Section == q.Section && p.Thickness == q.Thickness && slices.Equal(a.nets, b.nets) &&
		a.member.Staves == b.member.Staves && a.member.Layers == b.member.Layers
}

// Which names the copies: 1-4, spare 1.
func (a *Assembly) Which() string {
	var wanted, spare []int64
	for _, c := range a.Made {
		if c > a.Piece.Makes.Wanted {
			spare = append(spare, c-a.Piece.Makes.Wanted)
		} else {
			wanted = append(wanted, c)
		}
	}
	words := []string{makeup.Numbers(wanted)}
	if wanted == nil {
		words = nil
	}
	if spare != nil {
		words = append(words, "spare "+makeup.Numbers(spare))
	}
	return strings.Join(words, ", ")
}

// Copies names the copies in a sentence: Copies 1-4, spare 1.
func (a *Assembly) Copies() string {
	switch which := a.Which(); {
	case strings.HasPrefix(which, "spare"):
		return upperFirst(which)
	case strings.ContainsAny(strings.SplitN(which, ", spare", 2)[0], "-,"):
		return "Copies " + which
	default:
		return "Copy " + which
	}
}

// Of says of what each copy is: 7 staves, 2 layers, 2 staves in each of 6 layers, 6 in one blank.
func (a *Assembly) Of() string {
	m := &a.member
	switch {
	case a.Gang():
		return fmt.Sprintf("%d in one blank", a.Piece.Makes.InOne)
	case m.Layers == 1:
		return count(int(m.Staves), "stave")
	case m.Staves == 1:
		return count(int(m.Layers), "layer")
	}
	return fmt.Sprintf("%s in each of %s", count(int(m.Staves), "stave"),
		count(int(m.Layers), "layer"))
}

// HowMade says how an assembly is made at the bench, from its blanks to the finished part. Blanks
// within lengths do not break.
func HowMade(job *model.Job, a *Assembly) []string {
	show, k := job.Settings.Show, a.Piece.Makes
	if a.Gang() {
		over := ""
		if n := a.Blanks*k.InOne - int64(len(a.Made)); n > 0 {
			over = fmt.Sprintf(" That gives %d more than wanted.", n)
		}
		each := ""
		if a.Blanks > 1 {
			each = " each"
		}
		return []string{fmt.Sprintf("%s, %s%s: plane and joint each blank whole. Square one "+
			"end, set the stop block to %s, and part them one after the other, each held until "+
			"the blade has stopped. The last piece, and any that is too short to hold, lies in a "+
			"jig or clamp, never in the hand.%s",
			count(int(a.Blanks), "blank"), a.inOne(), each, show(k.Length), over)}
	}
	var out []string
	if a.member.Staves > 1 {
		layer := ""
		if a.member.Layers > 1 {
			layer = " of each layer"
		}
		var wide model.Length
		for _, n := range a.nets {
			wide += n
		}
		together := ""
		if int64(len(a.nets)) == a.member.Staves { // else some were cut before
			together = ": " + show(wide) + " together"
		}
		out = append(out, fmt.Sprintf("Joint both edges of each stave straight and square, down "+
			"to %s wide. Glue the staves%s edge to edge%s.", widths(job, a.nets), layer, together))
	}
	if a.member.Layers > 1 {
		out = append(out, fmt.Sprintf("Bring the layers to %s thick, straighten each face that is "+
			"glued, and glue them on each other: %s together.", show(a.Piece.Thickness),
			show(a.thick(job))))
	}
	return append(out, fmt.Sprintf("When the glue is cured, bring it to %s: flat faces first, "+
		"then the width, then the length.", sizesOf(job, k.Length, k.Width, k.Thickness)))
}

// inOne is what one blank holds.
func (a *Assembly) inOne() string { return fmt.Sprintf("%d in one", a.Piece.Makes.InOne) }

// thick is what the layers come to: see package makeup.
func (a *Assembly) thick(job *model.Job) model.Length {
	p, n := a.Piece, a.member.Layers
	loses := model.Length(min(2, n-1)) * job.Settings.GlueUpFor(p.Material, p.Section).FaceJoint
	return model.Length(n) * (p.Thickness - loses)
}

// MakersChoice is what a plan does not say of glue-ups.
const MakersChoice = "Which faces go up, and how the growth rings lie, is yours to choose: the " +
	"order of the staves is only how the plan counts them."

// widths names the widths of staves, each once with how many there are where they are of several.
func widths(job *model.Job, nets []model.Length) string {
	var words []string
	for n := 0; n < len(nets); {
		end := n + 1
		for end < len(nets) && nets[end] == nets[n] {
			end++
		}
		word := job.Settings.Show(nets[n])
		if end-n < len(nets) {
			word = fmt.Sprintf("%s (%d)", word, end-n)
		}
		words, n = append(words, word), end
	}
	return listed(words)
}

// listed joins words by commas, the last one by and.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

func sizesOf(job *model.Job, list ...model.Length) string {
	var words []string
	for _, l := range list {
		words = append(words, job.Settings.Show(l))
	}
	return strings.Join(words, " x ")
}
