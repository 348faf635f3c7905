package nest

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"rackwright/model"
)

// What may be a slip in the input, though nothing forbids it.

// UnnamedKinds names the kinds of defect on the rack that no list of the settings has, in words for
// the maker: no face allows them, and the name may be a slip.
func UnnamedKinds(job *model.Job) (out []string) {
	s := &job.Settings
	named := slices.Concat(s.Sound, s.Hidden, s.Weak)
	count, first := map[string]int{}, map[string]string{}
	var kinds []string
	for i := range job.Rack {
		for _, d := range job.Rack[i].Defects {
			if slices.Contains(named, d.Kind) {
				continue
			}
			if count[d.Kind]++; count[d.Kind] == 1 {
				kinds, first[d.Kind] = append(kinds, d.Kind), job.Rack[i].ID
			}
		}
	}
	for _, k := range kinds {
		text := fmt.Sprintf("%s: kind: no list of [defects] in shop.toml names %q "+
			"(rows: %d, the first of board %s), so no face allows it",
			job.Source("defects.csv"), k, count[k], first[k])
		if len(named) > 0 {
			if near := model.Nearest(k, named); model.Alike(k, near) {
				text += fmt.Sprintf("; the nearest that is named is %q", near)
			}
		}
		out = append(out, text)
	}
	return fewLines(out, mostLines)
}

// far is how many times a price per length is another one's for both to be about tenfold apart:
// less than ten, as prices of one kind of wood differ by themselves.
const far = 7

// oddPrices names offers whose price per length is about tenfold, or a tenth of, that of the middle
// one of their neighbours: the other offers of their kind of wood. Of two the later one is named.
func oddPrices(job *model.Job) (out []string) {
	kinds := map[model.WoodKind][]*model.Offer{}
	for i := range job.Yard {
		o := &job.Yard[i]
		kinds[o.Kind()] = append(kinds[o.Kind()], o)
	}
	// of a metre, in 1/10000
	rate := func(o *model.Offer) int64 {
		return int64(job.PriceOf(o)) * 1000 * model.UnitsPerMillimetre / int64(o.Length)
	}
	middle := map[*model.Offer]*model.Offer{}
	for _, offers := range kinds {
		first := offers[0]
		slices.SortStableFunc(offers, func(a, b *model.Offer) int {
			return cmp.Compare(rate(a), rate(b))
		})
		for n, o := range offers {
			m := (len(offers) - 2) / 2 // of the others
			if m >= n {
				m++
			}
			if len(offers) > 2 || len(offers) == 2 && o != first {
				middle[o] = offers[m]
			}
		}
	}
	for i := range job.Yard {
		o := &job.Yard[i]
		m := middle[o]
		if m == nil {
			continue
		}
		own, theirs, how := max(1, rate(o)), max(1, rate(m)), ""
		switch {
		case own >= far*theirs:
			how = fmt.Sprintf("%d times", (own+theirs/2)/theirs)
		case theirs >= far*own:
			how = fmt.Sprintf("1/%d of", (theirs+own/2)/own)
		default:
			continue
		}
		out = append(out, fmt.Sprintf(
			"%s: price: %v for %s is by length %s what %s asks, %v for %s; "+
				"see that the decimal point and per are right", lineOf(o.Where), job.PriceOf(o),
			o.Length.AtYard(job.Settings.Units), how, lineOf(m.Where), job.PriceOf(m),
			m.Length.AtYard(job.Settings.Units)))
	}
	return out
}

// twice names boards and offers that stand on two lines, so that they may be one.
func twice(job *model.Job) []string {
	return slices.Concat(sameName(job), sameBoard(job), sameOffer(job))
}

// sameName names lines of the rack whose boards go by the name of a board, or of several alike
// ones, on another line: ID or ID.1, ID.2, ... by qty beside a line ID.3. Lines of one such board
// each are how a plan writes them.
func sameName(job *model.Job) (out []string) {
	type line struct {
		board *model.Board // the first of it
		whole bool         // has the name itself, or several boards
	}
	lines := map[string][]line{}
	var names []string
	for i := range job.Rack {
		b := &job.Rack[i]
		name := b.ID
		if dot := strings.LastIndexByte(b.ID, '.'); dot > 0 && b.Answers(b.ID[:dot]) {
			name = b.ID[:dot]
		}
		l := lines[name]
		switch {
		case len(l) == 0:
			names = append(names, name)
		case l[len(l)-1].board.Where == b.Where:
			l[len(l)-1].whole = true
			continue
		}
		lines[name] = append(l, line{b, b.ID == name})
	}
	for _, name := range names {
		l := lines[name]
		if len(l) < 2 || !slices.ContainsFunc(l, func(x line) bool { return x.whole }) {
			continue
		}
		first, second := l[0].board, l[1].board
		out = append(out, fmt.Sprintf("%s: board: %s goes by the name of %s, as does %s at %s; if "+
			"one board stands on both lines, take one out", lineOf(second.Where), second.ID, name,
			first.ID, lineOf(first.Where)))
	}
	return out
}

// sameBoard names lines of the rack that are the same in all but id and note, where a board is told
// from others of its kind: by its defects, or by the random width of hardwood. Ids that a plan gave
// are of boards of their own.
func sameBoard(job *model.Job) (out []string) {
	met := map[string]*model.Board{}
	for i := range job.Rack {
		b := &job.Rack[i]
		_, wide := b.Section.Actual(model.Condition{})
		if len(b.Defects) == 0 && wide != 0 || strings.Contains(b.ID, "off-") {
			continue
		}
		key := fmt.Sprintf("%+v %q %s %q %t %d %v", b.Wood, b.Bin, b.Since, b.For, b.Untouched,
			b.Longest, b.Defects)
		if other := met[key]; other == nil {
			met[key] = b
		} else if other.Where != b.Where {
			out = append(out, fmt.Sprintf(
				"%s: board: %s has the sizes, the bin and the defects of "+
					"%s at %s; if it is one board, take one of the lines out", lineOf(b.Where),
				b.ID,
				other.ID, lineOf(other.Where)))
		}
	}
	return out
}

// sameOffer names lines of the yard that sell the same boards at the same price.
func sameOffer(job *model.Job) (out []string) {
	met := map[model.Offer]*model.Offer{}
	for i := range job.Yard {
		o := &job.Yard[i]
		key := *o
		key.Where, key.Available = model.Where{}, nil
		if first := met[key]; first == nil {
			met[key] = o
		} else {
			out = append(out, fmt.Sprintf("%s: the same boards at the same price stand at %s; if "+
				"they are counted twice, take one of the lines out", lineOf(o.Where),
				lineOf(first.Where)))
		}
	}
	return out
}

// dearOffcuts names offcut values above 0.8: wood on hand then is hardly cheaper than new, and
// there is little in using it up.
func dearOffcuts(job *model.Job) (out []string) {
	warn := func(key string, v *model.Fraction) {
		if v != nil && v.Num*5 > v.Den*4 {
			out = append(out, job.Source("shop.toml")+": "+key+
				"offcut.value: above 0.8 wood on hand counts nearly as much as new wood, so that "+
				"little of it is used up; the default is 0.5")
		}
	}
	s := &job.Settings
	warn("", &s.Offcut.Value)
	for name, o := range s.Materials {
		warn(fmt.Sprintf("material.%q.", name), o.Value)
	}
	for name, o := range s.Sections {
		warn(fmt.Sprintf("section.%q.", string(name)), o.Value)
	}
	slices.Sort(out)
	return out
}

// earlyDues names due dates of more than 60 days before the middle one of all: a slip in the year
// or month, it may be. Of fewer than three dates none is odd.
func earlyDues(job *model.Job) (out []string) {
	type due struct {
		commission string
		day        time.Time
	}
	var dues []due
	for _, c := range job.Commissions {
		if day, err := time.Parse(time.DateOnly, c.Due); err == nil {
			dues = append(dues, due{c.Name, day})
		}
	}
	slices.SortStableFunc(dues, func(a, b due) int {
		return cmp.Or(a.day.Compare(b.day), strings.Compare(a.commission, b.commission))
	})
	if len(dues) < 3 {
		return nil
	}
	middle := dues[len(dues)/2].day
	for _, d := range dues {
		if d.day.Before(middle.AddDate(0, 0, -60)) {
			out = append(out, fmt.Sprintf(
				"commissions.csv: due: %s of %s is more than 60 days before the middle one of "+
					"the due dates, %s; see that year and month are right",
				d.day.Format(time.DateOnly), d.commission, middle.Format(time.DateOnly)))
		}
	}
	return out
}
