package makeup

import (
	"fmt"

	"rackwright/model"
)

// What the machines of the shop take, as [machine] has it, and the pieces of parts that are made
// up. Where it says nothing of a machine nothing is said here.

// wide warns where the part is in any case wider than the planer takes when it is glued.
func (l *look) wide() []string {
	most := l.job.Settings.Machine.PlanerWidth
	if most == 0 || len(l.choice.Ways) > len(l.glued()) { // it may be of one piece
		return nil
	}
	least := model.Length(0)
	take := func(wide model.Length) {
		if least == 0 || wide < least {
			least = wide
		}
	}
	for _, w := range l.glued() {
		if w.Across.Times > 1 {
			take(w.Across.Need.Total())
		} else {
			take(w.Blank.Width)
		}
	}
	for n := range l.choice.Covers {
		take(l.choice.Covers[n].Need.Total())
	}
	if least <= most {
		return nil
	}
	return []string{fmt.Sprintf("%swidth: %s is %s wide when it is glued, the planer takes %s by "+
		"[machine] planer_width; glue and plane it in parts no wider, and join these last, or "+
		"flatten it otherwise", l.column, l.of, l.shop(least), l.shop(most))}
}

// faces warns of rough pieces that are wider than the jointer flattens, and says which need no
// jointing of their faces, as S2S stock has flat ones. Edges are straightened in any case.
func (l *look) faces() []string {
	most := l.job.Settings.Machine.JointerWidth
	if most == 0 {
		return nil
	}
	var rough, flat model.Length // the widest, or 0
	var roughWood, flatWood, section = "", "", model.Section("")
	take := func(w *model.Wood, wide model.Length) {
		switch {
		case wide <= most:
		case w.Surface == model.Rough && wide > rough:
			rough, roughWood, section = wide, WoodOf(w), w.Section
		case w.Surface == model.S2S && wide > flat:
			flat, flatWood = wide, WoodOf(w)
		}
	}
	for _, w := range l.glued() {
		take(&w.Wood, w.Blank.Width)
	}
	for n := range l.choice.Covers {
		c := &l.choice.Covers[n]
		take(&c.Wood, c.Staves[len(c.Staves)-1].Blank.Width)
	}
	flatness := fmt.Sprintf("from %s, which comes flat, they need no jointing of their faces, "+
		"only of their edges", flatWood)
	head := fmt.Sprintf("%s%s: pieces of %s may be", l.column, l.name(), l.of)
	switch {
	case rough > 0:
		text := fmt.Sprintf("%s %s wide from %s, the jointer flattens %s by [machine] "+
			"jointer_width; %s, or flatten them otherwise", head, l.shop(rough), roughWood,
			l.shop(most), l.narrower(section))
		if flat > 0 {
			text += "; " + flatness
		}
		return []string{text}
	case flat > 0:
		return []string{fmt.Sprintf("%s %s wide, more than the jointer flattens: %s", head,
			l.shop(flat), flatness)}
	}
	return nil
}

// narrower is what keeps staves to the jointer.
func (l *look) narrower(section model.Section) string {
	g := l.job.Settings.GlueUpFor(l.part.Material, section)
	lost := max(g.Joint, l.job.Settings.AllowanceFor(l.part.Material).Edge)
	if net := l.job.Settings.Machine.JointerWidth - 2*lost; l.part.Staves != 0 &&
		net >= g.Narrowest {
		return "set [glue_up] widest to " + l.shop(net) + " at most"
	}
	return "choose narrower wood"
}

// short warns of pieces that are planed, if even the longest are too short for that.
func (l *look) short() []string {
	longest := model.Length(0) // of the planed ones
	take := func(b *model.Blank, q *model.Part, through *Fill) {
		if b.Thickness > q.Thickness || len(through.Need) > 1 {
			longest = max(longest, b.Length)
		}
	}
	for n := range l.choice.Ways {
		w := &l.choice.Ways[n]
		take(&w.Blank, &w.Piece, &w.Through)
	}
	for n := range l.choice.Covers {
		c := &l.choice.Covers[n]
		take(&c.Staves[0].Blank, &c.Staves[0].Piece, &c.Through)
	}
	if longest == 0 || longest >= l.job.Settings.Machine.PlanerShortest {
		return nil
	}
	return []string{l.tooShort(longest)}
}

// alone warns likewise of a part of one piece, where some wood that holds it is planed. Of one that
// is too short to be cut alone it is said anyway.
func (l *look) alone() []string {
	least, p := l.job.Settings.Machine.PlanerShortest, l.part
	if blank := l.job.BlankLength(p); blank >= least ||
		blank < l.job.Settings.SafetyFor(p.Material, p.Section).ShortestBlank {
		return nil
	}
	m := makerOf(l.job, p)
	for i := range m.stocks {
		s := &m.stocks[i]
		q := plain(p)
		if l.job.BlankIn(&q, &s.Wood).Thickness > q.Thickness && !none(m.give(s, &q)) {
			return []string{l.tooShort(l.job.BlankLength(p))}
		}
	}
	return nil
}

// tooShort is why short pieces are not planed alone: common practice.
func (l *look) tooShort(long model.Length) string {
	return fmt.Sprintf("%slength: pieces of %s of %s are shorter than the %s of [machine] "+
		"planer_shortest, and what does not reach from roller to roller is thrown back; plane "+
		"them as part of a longer piece, by the machine's manual", l.column, l.shop(long), l.of,
		l.shop(l.job.Settings.Machine.PlanerShortest))
}
