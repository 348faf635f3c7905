package model

import (
	"fmt"
	"slices"
	"strings"
)

// What the maker says of a board beside its size: whom it is for, that it is to stay untouched, how
// long a blank it may give; and of a part, which board it must come from. Holds keeps to it; here
// it is judged against the rest of the job.

// validateFacts finds facts that contradict each other or name what is not there. A job without
// parts is a rack alone, as a plan leaves it; whom its boards are for cannot be judged. The rack of
// a shop folder is that of all months: its boards may be for a commission of another one.
func (j *Job) validateFacts(at func(Where) row) {
	commissions := map[string]string{} // by what is the same in all spellings
	var names []string
	for _, c := range j.Commissions {
		commissions[FoldName(c.Name)] = c.Name
		names = append(names, c.Name)
	}
	for i := range j.Parts {
		if p := &j.Parts[i]; commissions[FoldName(p.Commission)] == "" {
			commissions[FoldName(p.Commission)] = p.Commission
			names = append(names, p.Commission)
		}
	}
	for i := range j.Rack {
		b := &j.Rack[i]
		known := commissions[FoldName(b.For)]
		if b.For == "" || len(j.Parts) == 0 || known == b.For || i > 0 &&
			b.Where == j.Rack[i-1].Where || known == "" && strings.HasPrefix(b.Where.File, Above) {
			continue
		}
		if known != "" {
			at(b.Where).wrong(CodeSpelling, "for",
				fmt.Sprintf("%q is written %q elsewhere", b.For, known),
				"write it the same everywhere")
			continue
		}
		r, remedy := at(b.Where), "empty the cell, or give the commission a row in commissions.csv"
		if r.m.count[b.Where.File]*len(names) < 1_000_000 { // each search is through all of them
			remedy += fmt.Sprintf("; the nearest known one is %q", Nearest(b.For, names))
		}
		r.wrong(CodeUnknownCommission, "for",
			fmt.Sprintf("board %s is reserved for %q, which is no commission of this job", b.ID,
				b.For), remedy)
	}
	j.validateSources(at)
}

// validateSources judges the boards that parts must come from.
func (j *Job) validateSources(at func(Where) row) {
	if !slices.ContainsFunc(j.Parts, func(p Part) bool { return p.Board != "" }) {
		return
	}
	boards := map[string][]*Board{} // by the names they go by
	ids := make([]string, len(j.Rack))
	for i := range j.Rack {
		b := &j.Rack[i]
		ids[i] = b.ID
		boards[b.ID] = append(boards[b.ID], b)
		if id := b.rowID(); id != "" {
			boards[id] = append(boards[id], b)
		}
	}
	for i := range j.Parts {
		p := &j.Parts[i]
		if p.Board == "" {
			continue
		}
		r, from := at(p.Where), boards[p.Board]
		one := slices.ContainsFunc(from, func(b *Board) bool { return b.ID == p.Board })
		piece := slices.IndexFunc(from, func(b *Board) bool { return b.ID != p.Board })
		switch {
		case len(from) == 0:
			remedy := "write a board of rack.csv, or empty the cell"
			// each search is through the whole rack
			if len(ids) > 0 && r.m.count[p.Where.File]*len(ids) < 1_000_000 {
				remedy += "; the nearest is " + Nearest(p.Board, ids)
			}
			r.wrong(CodeUnknownBoard, "board", fmt.Sprintf("board %q is not on the rack", p.Board),
				remedy)
		case one && piece >= 0:
			b := from[piece]
			r.wrong(CodeContradiction, "board",
				fmt.Sprintf("%q is a board, and %s, %s, goes by that name too", p.Board, b.ID,
					b.Where.in()), "give one of the two another id")
		case p.sound() && !r.m.in(p.Where):
			if why := j.contradicted(p, from, r); why != "" {
				r.wrong(CodeContradiction, "board", why, "name another board, or empty the cell")
			}
		}
	}
}

func (p *Part) sound() bool {
	return p.Length > 0 && p.Width > 0 && p.Thickness > 0 && p.Material != ""
}

// contradicted says why none of these boards may give a part, by the one that came nearest; nothing
// where one may, where one may give pieces that it is glued up of, or where a row that is wrong
// itself leaves it open.
func (j *Job) contradicted(p *Part, from []*Board, r row) string {
	nearest, best := -1, (*Board)(nil)
	for _, b := range from {
		ok, why := j.Holds(p, b, FromRack)
		glued := p.Staves != 0 && why == TooNarrow ||
			p.Layers != 0 && (why == TooThin || why == TooThick)
		if ok || glued || r.m.in(b.Where) {
			return ""
		}
		if n := slices.Index(Hindrances, why); n > nearest {
			nearest, best = n, b
		}
	}
	board, blank := fmt.Sprintf("board %s, %s, ", best.ID, best.Where.in()),
		showLength(j.BlankLength(p), r.unit)
	cause := [...]string{
		"", // it is one of these boards
		fmt.Sprintf("is of %q, the part of %q", best.Material, p.Material),
		fmt.Sprintf("is of section %s, the part is to be of %s", best.Section, p.Section),
		fmt.Sprintf("is not wide enough for it: it has %s, the blank needs %s",
			showLength(best.Width-2*j.insetOf(p, &best.Wood), r.unit),
			showLength(j.BlankIn(p, &best.Wood).Width, r.unit)),
		fmt.Sprintf("is not thick enough for it: it has %s, the blank needs %s",
			showLength(best.Thickness, r.unit),
			showLength(j.BlankIn(p, &best.Wood).Thickness, r.unit)),
		"is thicker than plane_limit allows to be planed away",
		fmt.Sprintf("gives %s between its trims, the blank is of %s",
			showLength(max(0, best.Length-2*j.Settings.TrimFor(best, FromRack)), r.unit), blank),
		fmt.Sprintf("gives no blank longer than %s, this one is of %s",
			showLength(best.Longest, r.unit),
			blank),
		fmt.Sprintf("is reserved for %q, the part is of %q", best.For, p.Commission),
		"is to stay untouched",
	}[nearest]
	if sized := nearest > 2 && nearest < 8; sized && r.m.count[j.Source("shop.toml")] > 0 {
		return "" // by settings that are not the shop's
	}
	return board + cause
}
