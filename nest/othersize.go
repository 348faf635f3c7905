package nest

import (
	"fmt"

	"rackwright/model"
	"rackwright/model/makeup"
)

// Help where every board is of another size than a part needs.

// wider helps where every board is too narrow: by a glue-up. Where there is none it says what
// stands in the way of that, too.
func (r *reviewer) wider(p *model.Part) string {
	if auto := makeup.Advise(r.job, p); auto != "" {
		return auto
	}
	otherwise := model.TooNarrow
	for n := range r.stocks {
		s := &r.stocks[n]
		if _, why := r.job.Holds(p, s.board, s.origin()); why != model.TooNarrow {
			continue
		}
		q := *p
		q.Width = r.job.Settings.GlueUpFor(p.Material, s.board.Section).Narrowest
		switch ok, why := r.job.Holds(&q, s.board, s.origin()); {
		case ok:
			otherwise = model.NoClearRun
		case nearness(why) > nearness(otherwise):
			otherwise = why
		}
	}
	return "a wider board would help; for the staves of a glue-up, too, " + otherwise
}

// thicker helps where every board is too thin. Stock that counts as rough for want of a word may be
// S2S, of which less is planed off.
func (r *reviewer) thicker(p *model.Part) string {
	needs := func(s *stock) model.Length { return r.job.BlankIn(p, &s.board.Wood).Thickness }
	s := r.nearest(p, model.TooThin, func(s *stock) model.Length {
		return needs(s) - s.board.Thickness
	})
	if s == nil {
		return "a board that can be brought and is thicker would help"
	}
	text := fmt.Sprintf("the nearest is %s, %s thick where the blank needs %s; ", r.name(s),
		r.shop(s.board.Thickness), r.shop(needs(s)))
	planed := *s.board
	planed.Surface = model.S2S
	if ok, _ := r.job.Holds(p, &planed, s.origin()); ok && s.board.Surface == model.Rough {
		return text + "it counts as rough; if it comes S2S, write that as its surface"
	}
	if auto := makeup.Advise(r.job, p); auto != "" {
		return text + auto
	}
	return text + "thicker stock would help"
}

// thinner helps where every board is too thick.
func (r *reviewer) thinner(p *model.Part) string {
	limit := r.job.Settings.AllowanceFor(p.Material).PlaneLimit
	spare := func(s *stock) model.Length {
		return s.board.Thickness - r.job.BlankIn(p, &s.board.Wood).Thickness
	}
	s := r.nearest(p, model.TooThick, spare)
	if s == nil {
		return "a board that can be brought and is thinner would help"
	}
	return fmt.Sprintf("the nearest is %s, with %s to plane away where plane_limit allows %s; "+
		"thinner stock, or a higher limit, would help", r.name(s), r.shop(spare(s)), r.shop(limit))
}

// longer helps where every board is too short. Where all boards of the section are shorter than its
// shortest part, their lengths may be meant in feet or in metres.
func (r *reviewer) longer(p *model.Part) string {
	lacks := func(s *stock) model.Length {
		return r.job.BlankLength(p) - (s.usable.To - s.usable.From)
	}
	s := r.nearest(p, model.TooShort, lacks)
	least := r.leastBoard(p)
	if s == nil {
		return fmt.Sprintf("a board of %s or longer that can be brought would help",
			least.AtYard(r.job.Settings.Units))
	}
	larger, sign := model.Length(12), "'"
	if r.job.Settings.Units == model.Millimetre {
		larger, sign = 1000, "m"
	}
	if meant := s.board.Length * larger; meant <= model.LongestBoard &&
		meant >= least && r.allShort(s) {
		number := s.board.Length.Decimal(r.job.Settings.Units)
		return fmt.Sprintf("all boards of %s %s are shorter than its shortest part: if the %s of "+
			"%s is to be %s%s, write it so", s.board.Material, s.board.Section, number, r.row(s),
			number, sign)
	}
	return fmt.Sprintf("the nearest is %s, which gives %s where the blank needs %s; a board of %s "+
		"or longer would help", r.name(s), r.shop(s.usable.To-s.usable.From),
		r.shop(r.job.BlankLength(p)), least.AtYard(r.job.Settings.Units))
}

// leastBoard is the length of the shortest board for sale that is long enough for a part.
func (r *reviewer) leastBoard(p *model.Part) model.Length {
	return r.job.BlankLength(p) + 2*r.job.Settings.TrimFor(nil, model.FromYard)
}

// row is the line that a stock stands in.
func (r *reviewer) row(s *stock) string {
	if s.onHand() {
		return lineOf(r.job.Rack[s.boards[0]].Where)
	}
	return lineOf(r.job.Yard[s.offer].Where)
}

// allShort says whether all boards of a kind of wood are shorter than every part that is cut from
// it: than those that name its section, and those that some board of it would hold were it longer.
func (r *reviewer) allShort(of *stock) bool {
	kind, longest := of.board.Kind(), model.Length(0)
	for n := range r.stocks {
		if b := r.stocks[n].board; b.Kind() == kind {
			longest = max(longest, b.Length)
		}
	}
	for i := range r.job.Parts {
		p := &r.job.Parts[i]
		if p.Length > longest || p.Material != kind.Material {
			continue
		}
		if p.Section == kind.Section {
			return false
		}
		for n := range r.stocks {
			s := &r.stocks[n]
			if s.board.Kind() != kind {
				continue
			}
			if ok, why := r.job.Holds(p, s.board, s.origin()); ok || nearness(why) >=
				nearness(model.TooShort) {
				return false
			}
		}
	}
	return true
}
