package makeup

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// Names are the pieces of a job that make other parts, to be named for people: by what they make,
// not by what a plan calls them.
type Names map[[2]string]*model.Part

// NamesOf gives the pieces of a job whose parts are those that are cut.
func NamesOf(job *model.Job) Names {
	out := Names{}
	for i := range job.Parts {
		if p := &job.Parts[i]; p.Makes != nil {
			out[[2]string{p.Commission, p.Name}] = p
		}
	}
	return out
}

// Of names a copy of a part, without its commission. One that is just cut is named by format, which
// takes the name of the part and the number of the copy.
func (n Names) Of(commission, part string, copy int64, format string) string {
	if p := n[[2]string{commission, part}]; p != nil {
		if name := NameOf(p, copy); name != "" {
			return name
		}
	}
	return fmt.Sprintf(format, part, copy)
}

// Stave says which piece a copy of a part is of what it makes: 2/7 of the staves, 1/2 of the layers
// behind it, layer 1/2 where there are layers alone, or 6 in one. It is empty of all others.
func (n Names) Stave(commission, part string, copy int64) string {
	p := n[[2]string{commission, part}]
	if p == nil {
		return ""
	}
	m := MemberOf(p, copy)
	switch {
	case m == nil:
		return ""
	case p.Makes.InOne > 1:
		return fmt.Sprintf("%d in one", p.Makes.InOne)
	case m.Staves == 1 && m.Layers == 1:
		return ""
	case m.Staves == 1:
		return fmt.Sprintf("layer %d/%d", m.Layer, m.Layers)
	case m.Layers == 1:
		return fmt.Sprintf("%d/%d", m.Stave, m.Staves)
	}
	return fmt.Sprintf("%d/%d %d/%d", m.Stave, m.Staves, m.Layer, m.Layers)
}

// MemberOf says which piece of which copy a copy of a part is; nil where it is of none.
func MemberOf(p *model.Part, copy int64) *model.Member {
	if p.Makes == nil || copy < 1 || copy > int64(len(p.Makes.Of)) {
		return nil
	}
	return &p.Makes.Of[copy-1]
}

// NameOf names a piece by what it makes: top 1, stave 2/7; leg 3, layer 1/2; leg, spare 1; plug, 6
// in one: copies 1-6. It is empty where it makes nothing.
func NameOf(p *model.Part, copy int64) string {
	m := MemberOf(p, copy)
	if m == nil || len(m.Copies) == 0 {
		return ""
	}
	k := p.Makes
	if k.InOne > 1 {
		return fmt.Sprintf("%s, %d in one: %s", k.Part, k.InOne, copies(k, m))
	}
	name := CopyOf(k, m.Copies[0])
	if m.Staves > 1 {
		name += fmt.Sprintf(", stave %d/%d", m.Stave, m.Staves)
	}
	if m.Layers > 1 {
		name += fmt.Sprintf(", layer %d/%d", m.Layer, m.Layers)
	}
	return name
}

// CopyOf names a copy of the part that is made: top 1; or top, spare 1.
func CopyOf(k *model.Makes, copy int64) string {
	if copy > k.Wanted {
		return fmt.Sprintf("%s, spare %d", k.Part, copy-k.Wanted)
	}
	return fmt.Sprintf("%s %d", k.Part, copy)
}

// copies says which copies a gang gives.
func copies(k *model.Makes, m *model.Member) string {
	var wanted, spare []int64
	for _, c := range m.Copies {
		if c > k.Wanted {
			spare = append(spare, c-k.Wanted)
		} else {
			wanted = append(wanted, c)
		}
	}
	var parts []string
	for _, list := range []struct {
		copies    []int64
		one, many string
	}{{wanted, "copy", "copies"}, {spare, "spare", "spares"}} {
		switch len(list.copies) {
		case 0:
		case 1:
			parts = append(parts, list.one+" "+Numbers(list.copies))
		default:
			parts = append(parts, list.many+" "+Numbers(list.copies))
		}
	}
	if over := k.InOne - int64(len(m.Copies)); over > 0 {
		parts = append(parts, fmt.Sprintf("%d over", over))
	}
	return strings.Join(parts, ", ")
}

// Numbers writes ascending numbers, those that follow each other as the first and the last.
func Numbers(list []int64) string {
	var out []string
	for n := 0; n < len(list); {
		end := n + 1
		for end < len(list) && list[end] == list[end-1]+1 {
			end++
		}
		if end-n > 1 {
			out = append(out, fmt.Sprintf("%d-%d", list[n], list[end-1]))
		} else {
			out = append(out, fmt.Sprint(list[n]))
		}
		n = end
	}
	return strings.Join(out, ", ")
}

// Reword names the pieces in a cell of the order of work, which names each as commission, part and
// copy, with "; " between two.
func (n Names) Reword(cell string) string {
	if len(n) == 0 {
		return cell
	}
	var out []string
	for _, piece := range strings.Split(cell, "; ") {
		out = append(out, n.reword(piece))
	}
	return strings.Join(out, "; ")
}

// reword names one piece; one that is not found is left as it is.
func (n Names) reword(piece string) string {
	at := strings.LastIndex(piece, ", ")
	if at < 0 {
		return piece
	}
	var copy int64
	if _, err := fmt.Sscan(piece[at+2:], &copy); err != nil {
		return piece
	}
	name := piece[:at] // commission and part, in which there may be commas, too
	for from := 0; ; {
		i := strings.Index(name[from:], ", ")
		if i < 0 {
			return piece
		}
		from += i
		if p := n[[2]string{name[:from], name[from+2:]}]; p != nil {
			if made := NameOf(p, copy); made != "" {
				return name[:from] + ", " + made
			}
		}
		from += 2
	}
}

// GluesUp says whether some parts of a job are staves or layers of a glue-up.
func GluesUp(job *model.Job) bool {
	return slices.ContainsFunc(job.Parts, func(p model.Part) bool { return IsGlued(&p) })
}

// MakesUp says whether some parts of a job are pieces of others.
func MakesUp(job *model.Job) bool {
	return slices.ContainsFunc(job.Parts, func(p model.Part) bool { return p.Makes != nil })
}

// IsGlued says whether a part is a stave or a layer of a glue-up.
func IsGlued(p *model.Part) bool {
	return p.Makes != nil && slices.ContainsFunc(p.Makes.Of, func(m model.Member) bool {
		return m.Staves*m.Layers > 1
	})
}

// IsSpare says whether a part is spare copies that are cut as they are.
func IsSpare(p *model.Part) bool {
	return p.Makes != nil && p.Makes.InOne == 1 && !IsGlued(p)
}
