package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// madeUp tells by which ways a part may come about, and which of them the plan at hand takes; of
// one that nothing holds how it could be glued up. It gives the cautions for that.
func (p *printer) madeUp(e *model.Explanation, at *Planned) (cautions []string) {
	if e.Part.MadeUp() {
		return p.chosen(e.Part, at)
	}
	var ways []makeup.Way
	if len(e.Fits) == 0 {
		ways = makeup.GlueUps(p.job, e.Part)
		p.ways("Glued up of pieces that are entered as a part of their own, the cheapest first",
			ways)
		if !slices.ContainsFunc(ways, func(w makeup.Way) bool { return w.Across.Times == 1 }) {
			p.covers(makeup.Covers(p.job, e.Part))
		}
	}
	gangs := makeup.Gangs(p.job, e.Part)
	p.ways("Several in one blank, entered in place of this part and parted last, the cheapest for "+
		"all first", gangs)
	return p.planing(append(ways, gangs...))
}

// ways tells of each wood and number of layers the cheapest way, with its arithmetic, and names the
// others.
func (p *printer) ways(head string, ways []makeup.Way) {
	for n := range ways {
		if n == 0 {
			p.line("")
			p.line("%s; wood in %s, by the yard's price per area", head, p.job.Settings.Currency)
		}
		w := &ways[n]
		alike := func(o makeup.Way) bool {
			return makeup.WoodOf(&o.Wood) == makeup.WoodOf(&w.Wood) &&
				o.Through.Times == w.Through.Times
		}
		if slices.IndexFunc(ways, alike) < n {
			continue
		}
		p.way(w)
		var others []string
		for i := range ways[n+1:] {
			if o := &ways[n+1+i]; alike(*o) {
				others = append(others, p.other(w, o))
			}
		}
		if len(others) > 0 {
			p.line("    or %s", strings.Join(few(others), ", "))
		}
	}
}

// way tells of one way, with its arithmetic.
func (p *printer) way(w *makeup.Way) {
	u := p.job.Settings.Units
	more := ""
	if over := w.Sets()*w.Copies - w.Part.Qty; over > 0 {
		more = fmt.Sprintf(" (%d more than wanted)", over)
	}
	enter := w.Enter(w.Sets(), u)
	if w.Part.MadeUp() {
		q := &w.Piece
		enter = fmt.Sprintf("%s %s by %s by %s", count(int(w.Sets()*w.Pieces), "piece"),
			p.exact(q.Length), p.exact(q.Width), p.exact(q.Thickness))
	}
	p.line("  %s: %s%s", w.Made(u), enter, more)
	if len(w.Length) > 1 {
		p.line("    length: %s", p.sum(w.Length))
	}
	p.fill("wide", "stave", &w.Across)
	p.fill("thick", "layer", &w.Through)
	p.wood(w)
}

// fill tells how pieces come to the width or the thickness of a part.
func (p *printer) fill(how, piece string, f *makeup.Fill) {
	if f.Times == 1 {
		return
	}
	p.line("    %s: %d x %s = %s, at least %s", how, f.Times, p.exact(f.Net), p.exact(f.Gives()),
		p.sum(f.Need))
	p.line("    blank of a %s: %s", piece, p.sum(f.Blank))
}

// wood prices the pieces of a way.
func (p *printer) wood(w *makeup.Way) {
	if w.Price == nil {
		p.line("    wood: no yard sells it; given by %s", p.names(&w.Woods))
		return
	}
	o, beside := w.Price.Offer, ""
	if w.Price.Beside > 1 {
		beside = fmt.Sprintf(" / %d side by side", w.Price.Beside)
	}
	p.line("    wood of one: %d x %v / %s x (%s + %s)%s = %s, by %s:%d", w.Pieces,
		p.job.PaidFor(o), p.exact(o.Length), p.exact(w.Blank.Length),
		p.exact(p.job.Settings.CrosscutKerf), beside, four(w.Price.Cost), o.Where.File,
		o.Where.Line)
	if w.Sets() > 1 {
		p.line("    wood of all: %d x %s = %s", w.Sets(), four(w.Price.Cost), four(w.All()))
	}
}

// other names a way in few words, after one of the same wood and layers.
func (p *printer) other(after, w *makeup.Way) string {
	price := ""
	if w.Price != nil {
		price = " for " + four(w.All())
	}
	switch {
	case w.Pieces == 1 && w.Copies == 1:
		return "in one piece" + price
	case w.Copies > 1:
		return fmt.Sprintf("%d in one (%s)%s", w.Copies, count(int(w.Sets()), "blank"), price)
	case w.Across.Times == 1:
		return "in one width" + price
	case after.Across.Times == 1:
		return fmt.Sprintf("%d staves of %s%s", w.Across.Times, p.exact(w.Across.Net), price)
	}
	return fmt.Sprintf("%d of %s%s", w.Across.Times, p.exact(w.Across.Net), price)
}

// covers tells of staves of random widths.
func (p *printer) covers(covers []makeup.Cover) {
	for n := range covers {
		if n == 0 {
			p.line("")
			p.line("Glued up of staves of random widths, as they come")
		}
		c := &covers[n]
		first, last := &c.Staves[0], &c.Staves[len(c.Staves)-1]
		layers := ""
		if c.Through.Times > 1 {
			layers = fmt.Sprintf(" in each of %d layers", c.Through.Times)
		}
		p.line("  %d to %d staves from %s%s, of %s to %s net in steps of %s", c.Fewest, c.Most,
			makeup.WoodOf(&c.Wood), layers, p.exact(first.Net), p.exact(last.Net), p.exact(c.Step))
		p.line("    wide: their net widths together at least %s", p.sum(c.Need))
		p.line("    blank of a stave: %s wider than its net width",
			p.exact(first.Blank.Width-first.Net))
		p.fill("thick", "layer", &c.Through)
		if c.Price == nil {
			p.line("    wood: no yard sells it; given by %s", p.names(&c.Woods))
			continue
		}
		p.coverWood(c, first.Blank)
	}
}

// coverWood prices the fewest staves of a cover.
func (p *printer) coverWood(c *makeup.Cover, blank model.Blank) {
	o, set := c.Price.Offer, &p.job.Settings
	lost := model.Sum{{Times: 1, Length: c.Net()}, {Times: c.Fewest,
		Length: blank.Width - c.Staves[0].Net}, {Times: c.Fewest, Length: set.RipKerf, Key: "rip"}}
	p.line("    width of %d with their kerfs: %s", c.Fewest, p.sum(lost))
	p.line("    wood of one: %d x %v / (%s x %s) x %s x (%s + %s) = %s, by %s:%d", c.Through.Times,
		p.job.PaidFor(o), p.exact(o.Length), p.exact(o.Width), p.exact(lost.Total()),
		p.exact(blank.Length), p.exact(set.CrosscutKerf), four(c.Price.Cost), o.Where.File,
		o.Where.Line)
}

// thinPiece is the thickness under which a piece is planed on a carrier: common practice; the
// machine's manual may say more.
func thinPiece(u model.Unit) model.Length {
	if u == model.Millimetre {
		return 10 * model.UnitsPerMillimetre
	}
	return 3 * model.UnitsPerInch / 8
}

// planing are the cautions for pieces of ways that are short or thin.
func (p *printer) planing(ways []makeup.Way) []string {
	var found planed
	for i := range ways {
		found.add(p.job, &ways[i].Piece, ways[i].Blank.Length)
	}
	return found.texts(p.exact)
}

// planed is the shortest and the thinnest of pieces that are dangerous to plane; 0: there are none.
type planed struct{ short, thin model.Length }

// add takes note of a piece with so long a blank.
func (f *planed) add(job *model.Job, p *model.Part, blank model.Length) {
	least := job.Settings.SafetyFor(p.Material, p.Section).ShortestBlank
	if blank < least && (f.short == 0 || blank < f.short) {
		f.short = blank
	}
	if t := p.Thickness; t < thinPiece(job.Settings.Units) && (f.thin == 0 || t < f.thin) {
		f.thin = t
	}
}

func (f *planed) texts(show func(model.Length) string) (out []string) {
	if f.short > 0 {
		out = append(out, fmt.Sprintf("Planing short pieces (down to %s): what does not reach "+
			"from roller to roller tips and is thrown back. Plane and joint them as part of a "+
			"longer piece, by the machine's manual.", show(f.short)))
	}
	if f.thin > 0 {
		out = append(out, fmt.Sprintf("Planing thin pieces (down to %s): the cutters can break "+
			"them up. Plane them on a carrier board, by the machine's manual.", show(f.thin)))
	}
	return out
}

// alternative is a way or a cover that a part may come about by; one of both.
type alternative struct {
	way   *makeup.Way
	cover *makeup.Cover
}

// alternatives are those of a part, the cheapest by area first; without a price last.
func alternatives(c *makeup.Choice) (out []alternative) {
	for n := range c.Ways {
		out = append(out, alternative{way: &c.Ways[n]})
	}
	for n := range c.Covers {
		out = append(out, alternative{cover: &c.Covers[n]})
	}
	slices.SortStableFunc(out, func(a, b alternative) int {
		x, known := a.cost(c.Part.Qty)
		y, both := b.cost(c.Part.Qty)
		switch {
		case known && both:
			return cmp.Compare(x, y)
		case known:
			return -1
		case both:
			return 1
		}
		return 0
	})
	return out
}

// cost is that of the wood of so many copies, by area; false where no yard sells it.
func (a *alternative) cost(copies int64) (model.Money, bool) {
	price, sets := (*makeup.Price)(nil), copies
	if a.way != nil {
		price, sets = a.way.Price, (copies+a.way.Copies-1)/a.way.Copies
	} else {
		price = a.cover.Price
	}
	if price == nil || sets > 0 && price.Cost > model.MaxMoney/model.Money(sets) {
		return 0, false
	}
	return price.Cost * model.Money(sets), true
}
