package nest

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// What a plan would find of parts that nothing holds or makes up, and the nearest thing that would
// help. Help is looked for by the rule that came nearest to holding the part: see
// [model.Hindrances].

// unheld says of parts that no board can give why that is so, and what would help. Those that are
// only counted in the end have empty lines, as help is looked for through the whole job.
func (r *reviewer) unheld(parts []*model.Part) (out []string) {
	g := &grouper{job: r.job, stocks: r.stocks}
	for n, p := range parts {
		if n > mostUnheld {
			out = append(out, "")
			continue
		}
		if why, help := makeup.Hindrance(r.job, p); why != "" {
			if auto := makeup.Advise(r.job, p); auto != "" {
				help = auto
			}
			out = append(out, fmt.Sprintf("%s: nothing makes up %s of %s, so it will be short: "+
				"%s; %s", lineOf(p.Where), p.Name, p.Commission, why, help))
			continue
		}
		_, reason := g.holders(p)
		out = append(out, fmt.Sprintf("%s: nothing holds %s of %s, so it will be short: %s; %s",
			lineOf(p.Where), p.Name, p.Commission, reason, r.help(p, reason)))
	}
	return out
}

// help says what would come nearest to having the part held.
func (r *reviewer) help(p *model.Part, reason string) string {
	if turned := r.turned(p); turned != "" {
		return turned
	}
	switch reason {
	case model.OtherMaterial:
		return r.otherMaterial(p)
	case model.OtherSection:
		return r.otherSection(p)
	case model.TooNarrow:
		return r.wider(p)
	case model.TooThin:
		return r.thicker(p)
	case model.TooThick:
		return r.thinner(p)
	case model.TooShort:
		return r.longer(p)
	case model.TooCrooked, model.Reserved, model.Untouched:
		return r.setFree(p, reason)
	case model.TooLongToCarry:
		return "a shorter board, or a higher longest_load, would help"
	case model.NoClearRun:
		return r.otherFace(p)
	}
	return "name another board"
}

// name is how the maker finds a stock: the id of its first board, or its line in yard.csv.
func (r *reviewer) name(s *stock) string {
	if s.onHand() {
		return r.job.Rack[s.boards[0]].ID
	}
	return lineOf(r.job.Yard[s.offer].Where)
}

// shop writes a length for people.
func (r *reviewer) shop(l model.Length) string { return l.Shop(r.job.Settings.Units) }

// gives names the first stock that could give a part; empty where none could.
func (r *reviewer) gives(p *model.Part) string {
	for n := range r.stocks {
		if s := &r.stocks[n]; r.can(p, s) {
			return r.name(s)
		}
	}
	return ""
}

// can says whether a stock could give a part.
func (r *reviewer) can(p *model.Part, s *stock) bool {
	ok, _ := r.job.Holds(p, s.board, s.origin())
	return ok && r.job.HasRun(p, s.board, s.origin())
}

// nearest is the stock that lacks least of those that do not hold a part for a reason; nil where
// there is none.
func (r *reviewer) nearest(p *model.Part, reason string, lacks func(*stock) model.Length) *stock {
	var best *stock
	for n := range r.stocks {
		s := &r.stocks[n]
		if _, why := r.job.Holds(p, s.board, s.origin()); why == reason &&
			(best == nil || lacks(s) < lacks(best)) {
			best = s
		}
	}
	return best
}

// nearness is the higher, the nearer to holding a part a wood came that does not for this reason.
func nearness(reason string) int { return slices.Index(model.Hindrances, reason) }

// turned helps where a part is wider than long, and the two sizes the other way round are held.
func (r *reviewer) turned(p *model.Part) string {
	if p.Width <= p.Length {
		return ""
	}
	q := *p
	q.Length, q.Width = p.Width, p.Length
	if by := r.gives(&q); by != "" {
		return fmt.Sprintf("with width and length exchanged, %s long and %s wide, %s would hold it",
			r.shop(q.Length), r.shop(q.Width), by)
	}
	return ""
}

// otherMaterial helps where no board is of the material.
func (r *reviewer) otherMaterial(p *model.Part) string {
	var names []string
	for n := range r.stocks {
		names = append(names, r.stocks[n].board.Material)
	}
	if len(names) == 0 {
		return "put boards of it into yard.csv"
	}
	return fmt.Sprintf("put boards of %s into yard.csv; the nearest material that there is is %s",
		p.Material, model.Nearest(p.Material, names))
}

// otherSection helps where no board is of the section.
func (r *reviewer) otherSection(p *model.Part) string {
	q := *p
	q.Section = ""
	if by := r.gives(&q); by != "" {
		return "without its section, " + by + " would hold it"
	}
	var sections []string
	for n := range r.stocks {
		if b := r.stocks[n].board; b.Material == p.Material {
			sections = append(sections, string(b.Section))
		}
	}
	slices.Sort(sections)
	sections = slices.Compact(sections)
	return fmt.Sprintf("put %s %s into yard.csv; there is %s", p.Material, p.Section,
		strings.Join(sections, ", "))
}

// setFree names the board that would do but for what the maker says of it.
func (r *reviewer) setFree(p *model.Part, reason string) string {
	s := r.nearest(p, reason, func(s *stock) model.Length { return -s.board.Longest })
	if s == nil {
		return "a board that can be brought would help"
	}
	b := s.board
	switch {
	case b.Longest > 0 && r.job.BlankLength(p) > b.Longest:
		return fmt.Sprintf("the nearest is %s, which gives up to %s where the blank needs %s; a "+
			"straight board would help", r.name(s), r.shop(b.Longest), r.shop(r.job.BlankLength(p)))
	case b.For != "" && b.For != p.Commission:
		return fmt.Sprintf("the nearest is %s, which is reserved for %s", r.name(s), b.For)
	}
	return fmt.Sprintf("the nearest is %s, which is to stay untouched", r.name(s))
}

// otherFace helps where no board has a run that is clear enough.
func (r *reviewer) otherFace(p *model.Part) string {
	for face := p.Face + 1; face < model.Faces; face++ {
		q := *p
		q.Face = face
		if by := r.gives(&q); by != "" {
			return fmt.Sprintf("with a %v face, %s would hold it", face, by)
		}
	}
	return fmt.Sprintf("a clear board of %s or longer would help",
		r.leastBoard(p).AtYard(r.job.Settings.Units))
}
