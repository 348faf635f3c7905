package model

import (
	"fmt"
	"maps"
	"slices"
)

// What a row of the yard, the facts of a yard and the usable share may be.

// price judges what is asked for an offer, and what one board of it then costs.
func (r row) price(j *Job, o *Offer) {
	r.money("price", o.Price, 1)
	mm := j.Settings.Units == Millimetre
	switch {
	case o.Per == PerBoardFoot && mm:
		r.wrong(CodeWord, "per",
			"this shop counts in millimetres, where wood is tallied in cubic metres",
			"write the price per cubic metre, length or piece")
		return
	case o.Per == PerCubicMetre && !mm:
		r.wrong(CodeWord, "per", "this shop counts in inches, where wood is tallied in board feet",
			"write the price per board foot, length or piece")
		return
	case !slices.Contains([]Per{PerPiece, PerLength, PerBoardFoot, PerCubicMetre}, o.Per):
		r.wrong(CodeWord, "per", fmt.Sprintf("%.40q is not known here", string(o.Per)),
			"write piece, length, board foot or cubic metre")
		return
	case o.Price < 1 || o.Price > DearestBoard || o.Length <= 0 || o.Width <= 0 ||
		o.Thickness <= 0 || o.Section == "":
		return // said already
	}
	if one := j.PriceOf(o); one < 1 {
		r.wrong(CodeRange, "price", "one board of this row comes to 0 at this price",
			"check price and per, or write the price of one board")
	} else if one := j.PaidFor(o); one > DearestBoard {
		r.wrong(CodeRange, "price",
			fmt.Sprintf("one board of this row costs %s with tax, more than %s", one, DearestBoard),
			"check price, per and tax_percent")
	}
}

// usable judges the share of bought wood that is clear: 0.01 to 1, so that no reserve is out of all
// bounds.
func (r row) usable(key string, f Fraction) {
	if !f.decimal(1_000_000) || f.Num > f.Den || 100*f.Num < f.Den {
		r.wrong(CodeSetting, key, "it is not between 0.01 and 1 in at most six decimals",
			"write the share of bought wood that you expect to be clear, such as 0.9")
	}
}

// yard judges what is said of one yard.
func (r row) yard(prefix string, y YardFacts) {
	if f := y.TaxPercent; f != nil && (!f.decimal(10_000) || f.Num > 100*f.Den) {
		r.wrong(CodeSetting, prefix+"tax_percent",
			"it is not between 0 and 100 in at most four decimals",
			"write percent of the price, such as 8.25")
	}
	if l := y.LongestLoad; l != nil && *l <= 0 {
		r.wrong(CodeSetting, prefix+"longest_load",
			"no board is as short as "+showLength(*l, r.unit)+", so nothing could be bought there",
			"write the longest board that you can carry, or take the yard's rows out of yard.csv")
	} else if l != nil {
		r.setting(prefix+"longest_load", *l)
	}
}

// validateYards finds facts of yards that sell nothing, or whose name is spelled otherwise in
// yard.csv.
func (j *Job) validateYards(at func(Where) row, sold named,
	same func(seen named, column, name string, w Where)) {
	var known []string
	for i := range j.Yard {
		if j.Yard[i].Yard != "" {
			known = append(known, j.Yard[i].Yard)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(j.Settings.Yards)) {
		w, key := j.Settings.Yards[name].Where, fmt.Sprintf("yards.%q", name)
		if _, met := sold[FoldName(name)]; met && name != "" {
			same(sold, key, name, w)
			continue
		}
		remedy := "name the yards in a column yard of yard.csv"
		if len(known) > 0 {
			remedy = fmt.Sprintf("write a yard of yard.csv, the nearest is %q",
				Nearest(name, known))
		}
		at(w).wrong(CodeUnknownYard, key, "no row of yard.csv is of this yard", remedy)
	}
}
