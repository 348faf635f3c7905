// Package cutting is a cutting-stock program in engine words: items, stocks, patterns, what a
// layout is worth, and the normal form of a layout.
//
// A [Problem] asks for so many copies of each [Item]; a [Stock] gives pieces and returns offcuts. A
// [Pattern] is one stock laid out. Most stocks have one dimension: pieces follow each other along
// the stock, a kerf apart. A stock with [Across] has two: it is cut into lengths that are sawn into
// pieces beside each other, or into strips that are cut into pieces behind each other; a [Slab] is
// one of these lengths or strips, and [Axis] tells the two directions apart.
//
// All lengths are whole units, all costs and worths whole units of money. Indices: i item, s stock,
// t pattern, n anything else.
package cutting
