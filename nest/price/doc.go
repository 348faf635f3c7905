// Package price says what a pricer is: it finds the layout of one stock that is worth most at given
// duals (prices of items).
//
//	best = max over layouts with at least one piece of
//	       sum of duals of its pieces + worth of its offcuts - cost of its rips
//
// A pattern's reduced cost is the cost of its stock less that sum. So best finds the pattern that a
// search should add. best also bounds what any pattern can gain.
//
// The rooms below make pricers: along for stocks where every piece takes the whole width, across
// for stocks where pieces lie beside each other. A search needs no more than [Pricer] and [Traits].
// A pricer counts its work on the [Meter] that it was made with.
package price
