package makeup

import (
	"slices"

	"rackwright/model"
)

// A gang is k alike parts in one blank, which is parted last:
//
//	length to enter = k x length + (k-1) x kerf
//	blank           = that and one length allowance
//
// It is long enough to be cut alone, so at least shortest_blank, and where it is ripped off a
// wider board shortest_rip. It is no longer than [gang] longest. No more parts are put into one
// than are wanted, unless fewer are not long enough.

// MarkShort notes of each part that is too short to be cut alone, and that gangs can be made of,
// that it comes out of gangs. Of a part with a number of staves or layers it says nothing.
func MarkShort(job *model.Job) {
	enough := longEnough(&job.Settings)
	for i := range job.Parts {
		p := &job.Parts[i]
		if p.ByWays() || p.Makes != nil || job.BlankLength(p) >= enough {
			continue
		}
		m := makerOf(job, p)
		if slices.ContainsFunc(m.stocks, func(s stock) bool { return len(m.gangs(&s, 1)) > 0 }) {
			p.InOne = model.Auto
		}
	}
}

// longEnough is a length from which on a blank is cut alone, whatever its wood.
func longEnough(s *model.Settings) model.Length {
	most := max(s.Safety.ShortestBlank, s.Safety.ShortestRip)
	of := func(o model.Override) {
		for _, l := range []*model.Length{o.ShortestBlank, o.ShortestRip} {
			if l != nil {
				most = max(most, *l)
			}
		}
	}
	for _, o := range s.Materials {
		of(o)
	}
	for _, o := range s.Sections {
		of(o)
	}
	return most
}

// Gangs are all ways to cut a part of which one blank would be too short, several in one. Those
// stand first that take the least money for all copies. A part long enough has none.
func Gangs(job *model.Job, p *model.Part) (out []Way) {
	m := makerOf(job, p)
	for i := range m.stocks {
		out = append(out, m.gangs(&m.stocks[i], mostNumbers)...)
	}
	return sorted(out)
}

// gangs are those from a stock, of so many numbers at most: the fewest parts in one first.
func (m *maker) gangs(s *stock, most int) (out []Way) {
	shortest, longest := m.shortest(s), m.job.Settings.GangFor(s.Material, s.Section).Longest
	if m.job.BlankLength(m.part) >= shortest {
		return nil
	}
	kerf := m.job.Settings.CrosscutKerf
	allowance := m.job.BlankLength(m.part) - m.part.Length
	each := m.part.Length + kerf
	first := max(2, int64((shortest-allowance+kerf+each-1)/each))
	if first > mostNumbers { // such crumbs are no gang
		return nil
	}
	for k := first; k <= last(first) && k <= max(first, m.part.Qty) && len(out) < most; k++ {
		q := m.piece(s)
		parts := model.Term{Times: k, Length: m.part.Length}
		length := model.Sum{parts, {Times: k - 1, Length: kerf, Key: "crosscut"}}
		if q.Length = length.Total(); q.Length+allowance > longest {
			break
		}
		w, ok := m.way(s, q, 1, k)
		if !ok {
			break // no board is as long
		}
		w.Length = length
		out = append(out, w)
	}
	return out
}

// shortest is the shortest blank that is cut alone from a stock.
func (m *maker) shortest(s *stock) model.Length {
	safe := m.job.Settings.SafetyFor(s.Material, s.Section)
	for _, b := range s.boards {
		if m.part.Whole(&b.Wood) {
			return safe.ShortestBlank
		}
	}
	for _, o := range s.offers {
		if m.part.Whole(&o.Wood) {
			return safe.ShortestBlank
		}
	}
	return max(safe.ShortestBlank, safe.ShortestRip)
}
