package check

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// What the replay of a board tells of each of its cuts: the pass that it is of, what is in hand,
// where stop or fence stands, and what comes off.

// sawn is one cut as the replay made it.
type sawn struct {
	step      int
	pass      int
	saw       string
	unit      int        // what is in hand until it is cut up, numbered from 0
	hand      model.Rect // the unit, before its first cut
	near, far model.Rect // what came; the near side is that of the marked end or the left edge
	setting   model.Length
	piece     string
}

// saw tells of a cut. A piece that was just cut off by a cut of the same depth is the rest of the
// same unit.
func (p *replaying) saw(step int, piece sawnOff, level int, way model.Axis,
	kerf model.Span, b *bench) sawn {
	s := sawn{step: step, pass: level, saw: model.Crosscut, unit: piece.unit, hand: piece.hand}
	if p.u.down == model.RipFirst {
		s.pass++ // its trims come off in a pass of their own
	}
	if way == model.Across {
		s.saw = model.Rip
	}
	if level != piece.depth || len(b.made) == 0 {
		s.unit, s.hand = b.units, piece.Rect
	}
	held := piece.On(way)
	s.near = piece.With(way, model.Span{From: held.From, To: kerf.From})
	s.far = piece.With(way, model.Span{From: kerf.To, To: held.To})
	return s
}

// tell works out settings and pieces once all cuts are known. Of two cuts of one step the first
// shaves an edge only, and the second is the one that counts.
func (p *replaying) tell(made []sawn) (out []sawn) {
	for n := range made {
		s := &made[n]
		if n+1 < len(made) && made[n+1].step == s.step {
			continue
		}
		last := !slices.ContainsFunc(made[n+1:], func(o sawn) bool { return o.unit == s.unit })
		s.setting, s.piece = p.settingOf(s, last), p.pieceOf(s, last)
		out = append(out, *s)
	}
	return out
}

func (s *sawn) size(r model.Rect) model.Length {
	way := model.Along
	if s.saw == model.Rip {
		way = model.Across
	}
	return r.On(way).To - r.On(way).From
}

// settingOf is where the stop or the fence stands. Of a crosscut it is the length of what holds
// blanks and comes off, or else stays after the last cut; a span to be ripped is cut at its mark.
// Of a rip it is the width that passes the fence: the near side where it has blanks, or an offcut
// with more to rip beside it, and else the far side.
func (p *replaying) settingOf(s *sawn, last bool) model.Length {
	near, far := s.size(s.near), s.size(s.far)
	blanks := func(r model.Rect) bool { return p.contains(r, model.KindPart) }
	if s.saw == model.Crosscut {
		switch {
		case p.u.down == model.RipFirst && s.pass == 1:
			return 0
		case near > 0 && blanks(s.near):
			return near
		case far > 0 && last && blanks(s.far):
			return far
		}
		return 0
	}
	if near == 0 || far == 0 {
		return near + far
	}
	beside := last && slices.ContainsFunc(p.u.rows, func(c model.Cut) bool {
		return c.Rect() == s.far && (c.Kind == model.KindPart || c.Kind == model.KindOffcut)
	})
	if blanks(s.near) || p.contains(s.near, model.KindOffcut) && !beside {
		return near
	}
	return far
}

// pieceOf names the blanks and offcuts in what comes off, and in what stays after the last cut.
func (p *replaying) pieceOf(s *sawn, last bool) string {
	var names []string
	trim, blanks := false, false
	for i := range p.u.rows {
		c := &p.u.rows[i]
		off := s.size(s.near) > 0 && liesIn(c.Rect(), s.near)
		if !off && !(last && liesIn(c.Rect(), s.far)) {
			continue
		}
		switch c.Kind {
		case model.KindPart:
			blanks = true
			names = append(names, fmt.Sprintf("%s, %s, %d", c.Commission, c.Part, c.Copy))
		case model.KindOffcut:
			names = append(names, c.Offcut)
		case model.KindTrim:
			trim = trim || off
		}
	}
	switch {
	case blanks && p.u.down == model.RipFirst && s.pass == 1:
		return "ripped span"
	case len(names) > 0:
		return strings.Join(names, "; ")
	case trim:
		return "trim"
	}
	return "waste"
}
