package across

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/counts"
)

// rowsInLength lists what length j may hold where no spot is: one piece over the whole width, or a
// row across; best first.
func (s *lister) rowsInLength(r *pricer, j int, least int64) ([]rows.Row, bool) {
	t := r.clear
	var out []rows.Row
	if t.lens[j] >= t.across.ShortestRip && len(t.widths) > 0 && t.freeAcross() >= 0 {
		line := t.p.RipCost * t.lens[j]
		kinds := t.piecesInLength(s.ask, j)
		free := t.freeAcross()
		search := rows.Pieces{Form: s.form, Kinds: kinds.kinds, Tails: kinds.tails, Need: least,
			Limit: &s.limit, End: func(room int64) int64 {
				v, _ := t.besideRow(free-room, line, t.lens[j])
				return v
			}}
		var ok bool
		if out, ok = search.List(free); !ok {
			return nil, false
		}
	}
	out = s.addPlain(out, r, j, least, nil, cutting.Span{})
	bestFirst(out)
	return out, true
}

// addPlain adds to the ripped rows of length j each item that may take all of it, which is a span
// along the stock, among spots.
func (s *lister) addPlain(ripped []rows.Row, r *pricer, j int, least int64, among offcuts.Spots,
	along cutting.Span) []rows.Row {
	out := ripped
	for n, i := range r.clear.holds {
		value := s.ask.Duals[i]
		if r.clear.lenOf[n] != j || s.form.Most(i) == 0 || value < least ||
			!among.Allow(r.p.Items[i].Class, along, r.allAcross()) {
			continue
		}
		plain := s.form.One(i)
		same := func(o rows.Row) bool { return slices.Equal(o.Counts, plain) }
		if at := slices.IndexFunc(ripped, same); at >= 0 {
			out[at].Value = max(out[at].Value, value)
		} else {
			out = append(out, rows.Row{Counts: plain, Pieces: 1, Value: value})
		}
	}
	return out
}

// rowsInStrip lists what a strip of width k may hold where no spot is, best first.
func (s *lister) rowsInStrip(r *pricer, k int, least int64) ([]rows.Row, bool) {
	t := r.clear
	kinds, slope := t.piecesInStrip(s.ask, k), t.slope(t.widths[k])
	search := rows.Pieces{Form: s.form, Kinds: kinds.kinds, Tails: kinds.tails, Need: least,
		Limit: &s.limit, End: func(room int64) int64 {
			return slope * t.beyondKeep(room-t.p.Kerf)
		}}
	out, ok := search.List(r.extent + t.p.Kerf)
	bestFirst(out)
	return out, ok
}

func bestFirst(list []rows.Row) {
	slices.SortStableFunc(list, func(a, b rows.Row) int { return cmp.Compare(b.Value, a.Value) })
}

// clearList is the list of a stock, or of a span that is ripped first, without spots.
type clearList struct {
	*rows.Stages
	s     *lister
	r     *pricer
	sizes []int                        // by stage: the index of its length, or width
	rip   *ripper                      // nil: it is crosscut first
	laid  map[rows.Put][]cutting.Place // as if nothing came before
}

// clearLengths lists the lengths of a stock without spots.
func (s *lister) clearLengths(r *pricer) bool {
	t, room := r.clear, r.extent+r.p.Kerf
	c := &clearList{s: s, r: r, Stages: &rows.Stages{Form: s.form, Tails: t.lists(s.ask).lengths,
		Need: s.need, Most: s.most, Limit: &s.limit, End: func(room int64) int64 {
			return r.stockSlope() * t.beyondKeep(room-t.p.Kerf)
		}}}
	for g := range t.lens {
		j := len(t.lens) - 1 - g
		stage := rows.Stage{Size: t.lens[j] + t.p.Kerf}
		if stage.Size <= room {
			least, ok := s.need-c.Tails.Most(0, room-stage.Size), true
			if stage.Rows, ok = s.rowsInLength(r, j, least); !ok {
				return false
			}
		}
		c.All, c.sizes = append(c.All, stage), append(c.sizes, j)
	}
	return c.list(room)
}

// clearStrips lists the strips of a span without spots.
func (s *lister) clearStrips(rip *ripper) bool {
	r, t := rip.pricer, rip.clear
	free, line := t.freeAcross(), r.p.RipCost*r.extent
	if free < 0 {
		return true
	}
	c := &clearList{s: s, r: r, rip: rip, Stages: &rows.Stages{Form: s.form,
		Need: s.need - rip.ends, Edge: line, Most: s.most, Limit: &s.limit,
		End: func(room int64) int64 {
			v, _ := t.besideRow(free-room, line, r.extent)
			return v
		}}}
	var kinds []rows.Kind
	for k := len(t.widths) - 1; k >= 0; k-- {
		best, _ := t.bestAlong(t.alongStrip[k].f1, t.slope(t.widths[k]), r.extent)
		if !price.None(best) {
			best = min(best, t.piecesInStrip(s.ask, k).tails.Most(0, r.extent+r.p.Kerf)) - line
		}
		kind := rows.Kind{Size: t.widths[k] + t.p.Rip, Value: best}
		for m := range t.sawn {
			if t.sawn[m].k == k && t.sawn[m].size <= r.extent {
				kind.Most += s.ask.Demand[t.sawn[m].item]
			}
		}
		kinds = append(kinds, kind)
	}
	c.Tails = rows.NewTails(kinds, free, t.step, t.besideMost(line, r.extent))
	for g, kind := range kinds {
		k := len(t.widths) - 1 - g
		stage := rows.Stage{Size: kind.Size}
		if kind.Size <= free && !price.None(kind.Value) {
			least := c.Need - c.Tails.Most(0, free-kind.Size) + line
			var ok bool
			if stage.Rows, ok = s.rowsInStrip(r, k, least); !ok {
				return false
			}
			for n := range stage.Rows {
				stage.Rows[n].Value -= line
			}
		}
		c.All, c.sizes = append(c.All, stage), append(c.sizes, k)
	}
	return c.list(free)
}

// list lists the stages.
func (c *clearList) list(room int64) bool {
	if !c.List(room) {
		return false
	}
	c.laid = map[rows.Put][]cutting.Place{}
	return c.s.takeAll(c.Each, c.rip, c)
}

func (c *clearList) layout(at int) *cutting.Pattern {
	puts, room := c.Puts(at)
	first, over, axis, from := cutting.CrosscutFirst, cutting.Span{}, cutting.Along, int64(0)
	if c.rip != nil {
		t := c.r.clear
		first, over, axis = cutting.RipFirst, c.rip.over, cutting.Crosswise
		_, from = t.besideRow(t.freeAcross()-room, c.r.p.RipCost*c.r.extent, c.r.extent)
	}
	pieces := 0
	for _, put := range puts {
		pieces += c.All[put.Stage].Rows[put.Row].Pieces
	}
	places := make([]cutting.Place, 0, pieces)
	for _, put := range puts {
		for _, pl := range c.laidOut(put) {
			if axis == cutting.Along {
				pl.At += from
			} else {
				pl.Left, pl.Right = pl.Left+from, pl.Right+from
			}
			places = append(places, pl)
		}
		from += c.All[put.Stage].Size
	}
	return patternOf(first, over, places)
}

// laidOut is what was put, as if at the start of the stock, or at its left edge.
func (c *clearList) laidOut(put rows.Put) []cutting.Place {
	if c.laid[put] == nil {
		lay := c.s.layLength
		if c.rip != nil {
			lay = c.s.layStrip
		}
		c.laid[put] = lay(c.r, c.sizes[put.Stage], 0, c.All[put.Stage].Rows[put.Row].Counts)
	}
	return c.laid[put]
}

// layLength lays out a row in length j at x, where no spot is.
func (s *lister) layLength(r *pricer, j int, x int64, row counts.Counts) (places []cutting.Place) {
	t, length := r.clear, r.clear.lens[j]
	line, value, total := t.p.RipCost*length, int64(0), int64(0)
	var pieces []int
	for n := len(t.holds) - 1; n >= 0; n-- {
		i := t.holds[n]
		for range s.form.Of(row, i) {
			pieces = append(pieces, i)
		}
	}
	plain := len(pieces) == 1 && t.p.Items[pieces[0]].Size == length
	rip := length >= t.across.ShortestRip
	for _, i := range pieces {
		m := t.sawnIndex(i)
		if m < 0 {
			rip = false
			break
		}
		value += s.ask.Duals[i] + t.worthBehind(&t.sawn[m], length) - line
		total += t.sawn[m].width + t.p.Rip
	}
	beside, y := t.besideRow(total, line, length)
	if plain && (!rip || price.None(beside) || s.ask.Duals[pieces[0]] >= value+beside) {
		return append(places, r.placed(pieces[0], x, 0, t.across.Width))
	}
	for _, i := range pieces {
		width := t.p.Items[i].Width
		places = append(places, r.placed(i, x, y, y+width))
		y += width + t.p.Rip
	}
	return places
}

// layStrip lays out a row in a strip at y, whatever its width, where no spot is.
func (s *lister) layStrip(r *pricer, _ int, y int64, row counts.Counts) (places []cutting.Place) {
	t, x := r.clear, int64(0)
	for n := len(t.holds) - 1; n >= 0; n-- {
		i := t.holds[n]
		for range s.form.Of(row, i) {
			places = append(places, r.placed(i, x, y, y+t.p.Items[i].Width))
			x += t.p.Items[i].Size + t.p.Kerf
		}
	}
	return places
}
