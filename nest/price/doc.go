// Package price says what a pricer is: it finds the layout of one stock that is worth most at given
// duals.
//
//	best = max over layouts with at least one piece of  sum of duals of its pieces + worth of its offcuts
//
// The rooms below make them: along for stocks where every piece takes the whole width, across for
// stocks where pieces lie beside each other. A search needs no more than [Pricer] and [Traits]. The
// work a pricer does it counts on the [Meter] it was made with.
package price
