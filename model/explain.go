package model

import (
	"cmp"
	"fmt"
	"slices"
)

// Why a blank is as big as it is, what can give it, and what its wood is worth: every step as data,
// for a text that can be followed with a pencil. Nothing here decides anything; see trade.go and
// worth.go for what does.

// Term is a length taken so many times. Key is the setting that it is, below allowance; empty for a
// size of the part or the board.
type Term struct {
	Times  int64
	Length Length
	Key    string
}

// Sum is a length and how it comes about; one term is a length as it is.
type Sum []Term

// Total adds the terms up.
func (s Sum) Total() (t Length) {
	for _, term := range s {
		t += Length(term.Times) * term.Length
	}
	return t
}

// Woods are boards of the rack and lines of the yard.
type Woods struct {
	Rack []*Board
	Yard []*Offer
}

// Fit is one way in which boards of a section hold a part: in each, the width comes as it is or is
// sawn, and so is the thickness or planed.
type Fit struct {
	Section Section
	Surface Surface // as the boards come
	Finish
	Width     Sum    // of the blank
	Thickness Sum    // of the blank
	Usable    Sum    // width of the narrowest board that a sawn blank may take
	Thickest  Length // of the boards
	Woods
}

// Refusal is a reason why woods do not hold a part. Where they are [TooNarrow] or [TooThin], Needs
// is what the blank needs of these, and Has what the largest of them has for it.
type Refusal struct {
	Reason string
	Needs  Sum
	Has    Sum
	Woods
}

// Basis is how wood is priced by its length: Share x Price for each Per of it, in boards as wide as
// Wide.
type Basis struct {
	Share Fraction
	Price Money
	Per   Length
	// of the boards that this is the price of; those of any other width have it in proportion
	Wide  Length
	From  BasisFrom
	Offer *Offer // of the yard: the line that sets the price
	Board *Board // with a value of its own
}

// BasisFrom says what a price per length goes by.
type BasisFrom int

// What prices go by.
const (
	ByPrice    BasisFrom = iota // what the yard asks, with tax
	ByYard                      // a share of the lowest price of the yard
	ByOwnValue                  // the maker's own worth of this board
	ByValues                    // those of all boards of the kind
	ByGuess                     // nothing is known
)

// Choice is the cheapest wood of one section, of the rack or of the yard. Cost is that of one blank
// and its kerf, in the whole width of the board:
//
//	floor( Share x Price x Width x (blank + kerf) / (Per x Wide) )
type Choice struct {
	Section Section
	Origin  Origin
	Width   Length // of the board
	Basis
	Cost Money
}

// Rate is the price per length of the choice's board.
func (c *Choice) Rate() Rate {
	return ratio([]int64{c.Share.Num, int64(c.Price), int64(c.Width)},
		[]int64{c.Share.Den, int64(c.Per), int64(c.Wide)})
}

// Explanation is all of one part.
type Explanation struct {
	Part      *Part
	Length    Sum // of the blank, in any wood
	Kerf      Length
	Allowance Allowance
	Fits      []Fit
	Refused   []Refusal // in the order in which Holds looks
	Choices   []Choice  // the cheapest first
	Worthless []*Board  // that hold it, and are worth nothing as they stand
	// that hold it, and are charged at their own value whatever is cut from them
	Whole []*Board
}

// Explain says how one part comes to its blank, and that to its wood.
func (j *Job) Explain(p *Part, v *Valuation) *Explanation {
	a := j.Settings.AllowanceFor(p.Material)
	e := &Explanation{Part: p, Length: Sum{{1, p.Length, ""}, {1, a.Length, "length"}},
		Kerf: j.Settings.CrosscutKerf, Allowance: a}
	for i := range j.Rack {
		b := &j.Rack[i]
		ok, reason := j.Holds(p, b, FromRack)
		if ok && !j.HasRun(p, b, FromRack) {
			ok, reason = false, fmt.Sprintf("no clear run is long enough for a %v face", p.Face)
		}
		if !ok {
			w := e.refuse(reason, &b.Wood)
			w.Rack = append(w.Rack, b)
			continue
		}
		f := e.fit(&b.Wood)
		f.Rack = append(f.Rack, b)
		e.chargeBoard(j, v, b)
	}
	for i := range j.Yard {
		o := &j.Yard[i]
		ok, reason := j.Holds(p, &Board{Wood: o.Wood}, FromYard)
		if ok && o.Available != nil && *o.Available == 0 {
			ok, reason = false, "none is for sale"
		} else if ok && !j.Carried(o) {
			ok, reason = false, "longer than the longest_load of its yard"
		}
		if !ok {
			w := e.refuse(reason, &o.Wood)
			w.Yard = append(w.Yard, o)
			continue
		}
		f := e.fit(&o.Wood)
		f.Yard = append(f.Yard, o)
		e.choose(Choice{Section: o.Section, Origin: FromYard, Width: o.Width,
			Basis: Basis{Fraction{1, 1}, j.PaidFor(o), o.Length, o.Width, ByPrice, o, nil}})
	}
	slices.SortStableFunc(e.Refused, func(a, b Refusal) int {
		return cmp.Compare(hindrance(a.Reason), hindrance(b.Reason))
	})
	met := map[Section]int{} // in what order
	for _, f := range e.Fits {
		if _, again := met[f.Section]; !again {
			met[f.Section] = len(met)
		}
	}
	slices.SortStableFunc(e.Fits, func(a, b Fit) int {
		return cmp.Compare(met[a.Section], met[b.Section])
	})
	slices.SortStableFunc(e.Choices, func(a, b Choice) int { return cmp.Compare(a.Cost, b.Cost) })
	return e
}

// hindrance counts the reasons in the order in which Holds looks; others come last.
func hindrance(reason string) int {
	if n := slices.Index(Hindrances, reason); n >= 0 {
		return n
	}
	return len(Hindrances)
}

// refuse finds the refusal of one wood for a reason.
func (e *Explanation) refuse(reason string, w *Wood) *Woods {
	r := Refusal{Reason: reason}
	width, thickness := e.sizes(w)
	switch reason {
	case TooNarrow:
		r.Needs, r.Has = width, e.usable(w)
	case TooThin:
		r.Needs, r.Has = thickness, Sum{{1, w.Thickness, ""}}
	}
	n := slices.IndexFunc(e.Refused, func(o Refusal) bool {
		return o.Reason == reason && slices.Equal(o.Needs, r.Needs)
	})
	if n < 0 {
		n, e.Refused = len(e.Refused), append(e.Refused, r)
	}
	if e.Refused[n].Has.Total() < r.Has.Total() {
		e.Refused[n].Has = r.Has
	}
	return &e.Refused[n].Woods
}

// sizes are width and thickness of the blank in one wood, by their terms.
func (e *Explanation) sizes(w *Wood) (width, thickness Sum) {
	f := e.Allowance.finish(e.Part, w)
	width, thickness = Sum{{1, e.Part.Width, ""}}, Sum{{1, e.Part.Thickness, ""}}
	if f.Sawn {
		width = append(width, Term{2, e.Allowance.Edge, "edge"})
	}
	if f.Planed {
		key := "thickness"
		if w.Surface == S2S {
			key = "thickness_s2s"
		}
		thickness = append(thickness, Term{1, f.Thickness, key})
	}
	return width, thickness
}

// fit finds the way in which one wood holds the part.
func (e *Explanation) fit(w *Wood) *Woods {
	finish := e.Allowance.finish(e.Part, w)
	n := slices.IndexFunc(e.Fits, func(f Fit) bool {
		return f.Section == w.Section && f.Surface == w.Surface && f.Finish == finish
	})
	if n < 0 {
		f := Fit{Section: w.Section, Surface: w.Surface, Finish: finish}
		f.Width, f.Thickness = e.sizes(w)
		n, e.Fits = len(e.Fits), append(e.Fits, f)
	}
	f := &e.Fits[n]
	f.Thickest = max(f.Thickest, w.Thickness)
	if f.Usable == nil || w.Width < f.Usable[0].Length {
		f.Usable = e.usable(w)
	}
	return &f.Woods
}

// usable is the width of a board that the blank may take.
func (e *Explanation) usable(w *Wood) Sum {
	s := Sum{{1, w.Width, ""}}
	if e.Allowance.finish(e.Part, w).Sawn && w.Section.Eased() &&
		e.Allowance.EasedEdge > e.Allowance.Edge {
		s = append(s, Term{-2, e.Allowance.EasedEdge, "eased_edge"},
			Term{2, e.Allowance.Edge, "edge"})
	}
	return s
}

// chargeBoard counts a board among the choices, by its worth per length. One that is worth nothing,
// or its own value whatever is cut from it, has none that a blank could be charged by.
func (e *Explanation) chargeBoard(j *Job, v *Valuation, b *Board) {
	if v.keptLength(b) == 0 {
		if b.Value == nil || *b.Value == 0 {
			e.Worthless = append(e.Worthless, b)
		} else {
			e.Whole = append(e.Whole, b)
		}
		return
	}
	e.choose(Choice{Section: b.Section, Origin: FromRack, Width: b.Width, Basis: v.BasisOfBoard(b)})
}

// choose keeps the cheapest choice of each section, of the rack and of the yard.
func (e *Explanation) choose(c Choice) {
	c.Cost = c.Rate().Of(e.Length.Total() + e.Kerf)
	n := slices.IndexFunc(e.Choices, func(o Choice) bool {
		return o.Section == c.Section && o.Origin == c.Origin
	})
	switch {
	case n < 0:
		e.Choices = append(e.Choices, c)
	case c.Cost < e.Choices[n].Cost:
		e.Choices[n] = c
	}
}

// RunnerUp is the cheapest choice of another section than the cheapest of all, else the next one of
// the same; nil where there is none.
func (e *Explanation) RunnerUp() *Choice {
	if len(e.Choices) < 2 {
		return nil
	}
	for i := range e.Choices {
		if e.Choices[i].Section != e.Choices[0].Section {
			return &e.Choices[i]
		}
	}
	return &e.Choices[1]
}

// FinalCut is what is cut from blanks at the end, with the stop at the finished length.
type FinalCut struct {
	Stop, Blank Length
	Part        *Part
}

// FinalCuts lists the last cuts of these parts, longest stop first, then in input order.
func (j *Job) FinalCuts(parts []*Part) (out []FinalCut) {
	for _, p := range parts {
		out = append(out, FinalCut{p.Length, j.BlankLength(p), p})
	}
	slices.SortStableFunc(out, func(a, b FinalCut) int { return cmp.Compare(b.Stop, a.Stop) })
	return out
}
