// Package offcuts says what gaps and other areas of a stock are worth, between the spots that they
// meet. The symbols are those of package across, and so is what they mean: worth is linear.
//
// [Spots] part the width into bands. [Areas] gives the worth of all areas over one span of the
// length, [Table] that of all gaps along one part of the width. [Along] and [Across] are the gaps
// of a line of things: they find the best one from a start on, with what follows it.
package offcuts
