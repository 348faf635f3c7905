package nest

import (
	"fmt"
	"slices"

	"rackwright/model"
	"rackwright/model/makeup"
)

// mostLines of one sort of remark are written out, the rest of them is counted; of parts that
// nothing holds there are more, as each needs a remedy of its own.
const mostLines, mostUnheld = 5, 20

// Remarks are what is odd in a job but allowed, in words for the maker: parts that nothing holds,
// with what would help; what is too large or too short for the machines of the shop; glue-ups for
// which all wood on hand has knots; short blanks; parts that hang on one board; boards that nothing
// can be cut from though nobody said so, or that are too long to carry; wood whose worth is a guess
// or hardly below the yard's price; and what may be a slip: prices and due dates far from the
// others, boards that stand twice.
func Remarks(job *model.Job) (out []string) {
	worth := job.Valuation()
	r := &reviewer{job: job, stocks: stocksOf(job, worth)}
	unheld, single, idle, reserved := r.uses()
	glued := makeup.RemarksOn(job)
	for n, lines := range [][]string{unheld, glued.Machines, glued.Knotty, shortBlanks(job), single,
		guessed(job, worth), r.trimmedAway(), tooLong(job), idle, reserved, oddPrices(job),
		twice(job), dearOffcuts(job), earlyDues(job)} {
		most := mostLines
		if n == 0 {
			most = mostUnheld
		}
		out = append(out, fewLines(lines, most)...)
	}
	return out
}

// MadeUp says of parts that a plan makes up how many ways there are, and the cheapest by area.
func MadeUp(job *model.Job) []string { return makeup.RemarksOn(job).Ways }

// fewLines are lines of one sort: so many of them, and how many more there are.
func fewLines(lines []string, most int) []string {
	if more := len(lines) - most; more > 1 {
		return append(lines[:most:most], fmt.Sprintf("... and %d more of this sort", more))
	}
	return lines
}

// reviewer looks what is odd in the wood of a job.
type reviewer struct {
	job    *model.Job
	stocks []stock
}

// lineOf is where a row stands in its file.
func lineOf(w model.Where) string { return fmt.Sprintf("%s:%d", w.File, w.Line) }

// shortBlanks warns of blanks below the safe length, but of parts that come several out of one.
func shortBlanks(job *model.Job) (out []string) {
	for i := range job.Parts {
		p := &job.Parts[i]
		blank, least := job.BlankLength(p),
			job.Settings.SafetyFor(p.Material, p.Section).ShortestBlank
		if blank < least && p.InOne == 0 {
			out = append(out, fmt.Sprintf(
				"%s: length: the blank of %s of %s is %s, shorter than the %s of [safety] "+
					"shortest_blank; mill it as part of a longer piece, by the machine's manual",
				lineOf(p.Where), p.Name, p.Commission, blank.Shop(job.Settings.Units),
				least.Shop(job.Settings.Units)))
		}
	}
	return out
}

// uses looks which wood has a place for which part: parts that no board or one only can give, and
// boards that can give none, by their kind.
func (r *reviewer) uses() (unheld, single, idle, reserved []string) {
	used := make([]bool, len(r.stocks))
	var short []*model.Part
	for i := range r.job.Parts {
		p := &r.job.Parts[i]
		if p.ByWays() {
			if !r.madeUp(p, used) {
				short = append(short, p)
			}
			continue
		}
		boards, last := int64(0), 0 // that can give it, as far as two
		for n := range r.stocks {
			if used[n] && boards > 1 {
				continue
			}
			s := &r.stocks[n]
			if held, _ := r.job.Holds(p, s.board, s.origin()); !held ||
				!r.job.HasRun(p, s.board, s.origin()) {
				continue
			}
			used[n], last = true, n
			if boards += 2; s.single() {
				boards--
			}
		}
		if boards == 0 {
			short = append(short, p)
		}
		if boards == 1 && p.Board == "" {
			only, s := "", &r.stocks[last]
			if s.onHand() {
				only = r.job.Rack[s.boards[0]].ID
			} else {
				only = "the one for sale at " + lineOf(r.job.Yard[s.offer].Where)
			}
			single = append(single, fmt.Sprintf(
				"%s: %s of %s can come from one board only, %s; if that one fails there is no other",
				lineOf(p.Where), p.Name, p.Commission, only))
		}
	}
	return r.unheld(short), single, r.idle(used), r.reserved(used)
}

// madeUp notes which wood gives pieces that a part can be made up of, and says whether any does.
func (r *reviewer) madeUp(p *model.Part, used []bool) bool {
	pieces := makeup.ChoiceOf(r.job, p).Pieces()
	for n := range r.stocks {
		used[n] = used[n] || slices.ContainsFunc(pieces, func(q model.Part) bool {
			return r.can(&q, &r.stocks[n])
		})
	}
	return len(pieces) > 0
}

// idle counts the boards on the rack that no part can use, by their kind of wood; they are carried
// over.
func (r *reviewer) idle(used []bool) (out []string) {
	type count struct {
		all, idle int
		example   string // the first idle one
	}
	perWood := map[model.WoodKind]*count{}
	var order []model.WoodKind
	for n := range r.stocks {
		s := &r.stocks[n]
		if !s.onHand() {
			continue
		}
		b := &r.job.Rack[s.boards[0]]
		if b.Untouched || b.For != "" {
			continue // not by chance: see reserved
		}
		k := b.Kind()
		if perWood[k] == nil {
			perWood[k], order = &count{}, append(order, k)
		}
		c := perWood[k]
		if c.all += len(s.boards); used[n] {
			continue
		}
		if c.idle += len(s.boards); c.example == "" {
			c.example = b.ID
		}
	}
	for _, k := range order {
		switch c := perWood[k]; {
		case c.idle == c.all:
			out = append(out, fmt.Sprintf(
				"%s: %s %s: no part can use it (boards: %d); carried over",
				r.job.Source("rack.csv"), k.Material, k.Section, c.all))
		case c.idle > 0:
			out = append(out, fmt.Sprintf(
				"%s: %s %s: no part can use %d of %d boards, the first is %s; carried over",
				r.job.Source("rack.csv"), k.Material, k.Section, c.idle, c.all, c.example))
		}
	}
	return out
}

// reserved names the boards kept for a commission that has no part for them.
func (r *reviewer) reserved(used []bool) (out []string) {
	for n := range r.stocks {
		if s := &r.stocks[n]; s.onHand() && !used[n] {
			if b := &r.job.Rack[s.boards[0]]; b.For != "" && !b.Untouched {
				out = append(out, fmt.Sprintf(
					"%s: for: no part of %s can use board %s, which is reserved for it; "+
						"carried over",
					lineOf(b.Where), b.For, b.ID))
			}
		}
	}
	return out
}

// trimmedAway counts the boards that are no longer than what is trimmed off their two ends.
func (r *reviewer) trimmedAway() (out []string) {
	for _, side := range []struct {
		onHand   bool
		key      string
		what     string
		twoTrims model.Length
	}{
		{true, "trim.rack_end", "boards on the rack", 2 * r.job.Settings.TrimFor(&model.Board{}, model.FromRack)},
		{false, "trim.yard_end", "rows of the yard", 2 * r.job.Settings.TrimFor(nil, model.FromYard)},
	} {
		n, place := 0, ""
		for i := range r.stocks {
			if s := &r.stocks[i]; s.onHand() == side.onHand && s.usable.From >= s.usable.To {
				if n += max(1, len(s.boards)); place == "" && s.onHand() {
					place = lineOf(r.job.Rack[s.boards[0]].Where)
				} else if place == "" {
					place = lineOf(r.job.Yard[s.offer].Where)
				}
			}
		}
		if n > 0 {
			out = append(out, fmt.Sprintf(
				"%s: length: nothing can be cut from it, the trims of its two ends take %s (%s: "+
					"%d); see %s in shop.toml",
				place, side.twoTrims.Shop(r.job.Settings.Units), side.what, n, side.key))
		}
	}
	return out
}

// tooLong names the rows of the yard that can never be bought, as no vehicle carries the board.
func tooLong(job *model.Job) (out []string) {
	for i := range job.Yard {
		if o := &job.Yard[i]; !job.Carried(o) {
			load := job.Settings.Yards[o.Yard].LongestLoad
			out = append(out, fmt.Sprintf(
				"%s: length: never bought, as %s is longer than what the vehicle carries from "+
					"%s, %s; see yards.%q.longest_load in shop.toml",
				lineOf(o.Where), o.Length.AtYard(job.Settings.Units), o.Yard,
				load.AtYard(job.Settings.Units), o.Yard))
		}
	}
	return out
}

// guessed names the kinds of wood whose worth is a guess.
func guessed(job *model.Job, worth *model.Valuation) (out []string) {
	_, unit := job.Settings.Units.YardUnit()
	for _, w := range worth.Guessed {
		out = append(out, fmt.Sprintf(
			"%s: no yard sells %s %s, and no board of it has a value: its rack value is a "+
				"guess, 1 %s a %s; give a value to one of its boards",
			job.Source("rack.csv"), w.Material, w.Section, job.Settings.Currency, unit))
	}
	return out
}
