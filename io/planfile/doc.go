// Package planfile is plan.json: the job that a plan was made for, and what of the plan stands in
// no table.
//
// Start at [Write] and [Read]. From top to bottom the file has
//
//	format, version, currency, date
//	value, bound                     of the whole plan
//	revision                         of a plan that takes the place of another: which, and how that
//	                                 has its boards laid out
//	shortages                        which copies are not cut, and why
//	groups                           value, bound, proof and certificate of each
//	job                              as it was read, with the hashes of its files
//	placements                       which piece lies where on which board
//	work                             which way order.csv follows, what each way takes
//
// Lengths are whole units of 1/320 mm. Money is in units of the currency with four decimals. Faces
// go by their names, and an empty list is []. The same plan gives the same bytes.
//
// Reading is strict: a field that is not known, one that stands twice, one that is missing at the
// top, or anything after the end is refused. Whether the plan is true is for the checker.
//
// A file of another version is refused by that alone. Raise [Version] where the form changes so
// that an old file would be read amiss.
package planfile
