// Package drawing draws a board as it lies at the saw, to scale, once for all who show it.
//
// Start at [Board], which lays out a [Scene]: rectangles, lines and texts, in whole micrometres.
// [Scene.SVG], [Scene.PDF] and [Scene.PNG] write it, each with the same geometry.
//
//	scene.go   what a drawing is made of
//	fonts.go   the fonts, and how wide a text is
//	board.go   one board: the order in which its drawing is laid out
//	scale.go   where a place of the board stands
//	pieces.go  what becomes of each place, and the faces
//	fit.go     a text in its piece, cut or turned where there is little room
//	spots.go   defects
//	labels.go  labels beside the board that do not overlap
//	beside.go  which labels there are: the tape, the cuts, the fence
//	key.go     what has no room, in lines
//	hatch.go   hatches and dashes, clipped as they are made
//	signs.go   the signs with their meaning
//	tape.go    the tape, and labels as they are written
//	svg.go     a scene as SVG
//	inline.go  a scene as short SVG within a page, which has the styles
//	pdf.go     a scene on a page of a PDF
//	png.go     a scene as a picture in greys; its texts are in glyphs.go
//
// Decided: every text is measured before it is placed, so that nothing overflows or overlaps. What
// has no room stands in the key, which names it by its letter or by the number of its cut. Nothing
// is told by colour: faces and defects by hatch, offcuts by a dashed frame, all else by words.
package drawing
