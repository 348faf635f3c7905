package across

import "fmt"

// Where pieces, lengths and strips start on a board: doc.go has why no other places are needed.

// The limits of a board. The package comment says what they are for.
const (
	maxAlong    = 1 << 23 // steps of the grid along a board
	maxAcross   = 1 << 19 // and across it
	maxPlaces   = 1 << 19 // places along
	maxCells    = 1 << 20 // widths x places across
	maxPatches  = 1 << 7  // defects
	maxSteps    = 1 << 31 // of one look at all lengths and strips
	tooManyWays = "has too many places, blanks or defects to be worked out: %d %s, over %d,"
)

// findPlaces finds the places along and across the board; it says why where they are too many.
func (r *boardSearch) findPlaces() string {
	if len(r.spots) > maxPatches {
		return fmt.Sprintf(tooManyWays, len(r.spots), "defects", maxPatches)
	}
	r.reachLengths()
	r.reachBlanks()
	r.ofColumn.reach(r.m+r.rip, r.anchorsAcross(false), r.partsAcross(), nil)
	r.ofBoard.reach(r.m+r.rip, r.anchorsAcross(r.trimming), r.partsAcross(), nil)
	along := max(r.ofLengths.n, r.ofBlanks.n, r.ofClear.n)
	across := max(r.ofColumn.n, r.ofBoard.n)
	steps := (len(r.spots) + 1) * len(r.blanks) * (len(r.lengths)*across + len(r.widths)*along)
	switch {
	case along > maxPlaces:
		return fmt.Sprintf(tooManyWays, along, "places along", maxPlaces)
	case across*len(r.widths) > maxCells:
		return fmt.Sprintf(tooManyWays, across*len(r.widths), "widths at places across", maxCells)
	case steps > maxSteps:
		return fmt.Sprintf(tooManyWays, steps, "steps", maxSteps)
	}
	return ""
}

// reachLengths finds the places of lengths. Without defects all gaps are best merged into one, at
// the far end.
func (r *boardSearch) reachLengths() {
	r.parts = withKerf(r.parts[:0], r.lengths, r.kerf)
	r.anchors = append(r.anchors[:0], 0)
	if len(r.spots) > 0 {
		r.anchors = append(r.anchors, r.n+r.kerf)
		r.anchorSpots(r.trimming)
	}
	r.ofLengths.reach(r.n+r.kerf, r.anchors, r.parts, nil)
}

// reachBlanks finds the places of blanks along strips, on the board or on a span of its own. In
// clear strips all gaps are best merged into one, at the near end. There also are the places where
// a clear strip as short as a span begins.
func (r *boardSearch) reachBlanks() {
	r.parts = r.partsOfBlanks(r.parts[:0])
	end := r.n + r.kerf
	also := []int{0}
	r.ownSpans = r.spans()
	for _, s := range r.ownSpans {
		also = append(also, r.n-(s.to-s.from))
	}
	r.ofClear.reach(end, []int{end}, r.parts, also)
	r.reachSpan()
}

// reachSpan finds the places of blanks along strips that may meet defects.
func (r *boardSearch) reachSpan() {
	r.parts = r.partsOfBlanks(r.parts[:0])
	r.anchors = append(r.anchors[:0], 0, r.n+r.kerf)
	r.anchorSpots(false)
	r.ofBlanks.reach(r.n+r.kerf, r.anchors, r.parts, nil)
}

// withKerf adds sizes to parts, each with a kerf.
func withKerf(parts, sizes []int, kerf int) []int {
	for _, size := range sizes {
		parts = append(parts, size+kerf)
	}
	return parts
}

// partsOfBlanks adds the lengths of the blanks that may be sawn to a width, each with a kerf.
func (r *boardSearch) partsOfBlanks(parts []int) []int {
	for k := range r.blanks {
		if i := &r.blanks[k]; i.width >= 0 {
			if part := r.lengths[i.length] + r.kerf; len(parts) == 0 ||
				parts[len(parts)-1] != part { // blanks stand by length
				parts = append(parts, part)
			}
		}
	}
	return parts
}

// anchorSpots adds the anchors along at defects; trimmed says whether a blank may be shorter than
// its length.
func (r *boardSearch) anchorSpots(trimmed bool) {
	from := len(r.anchors)
	for k := range r.spots {
		r.anchors = append(r.anchors, r.spots[k].to, r.spots[k].from+r.kerf)
	}
	if trimmed {
		r.anchorTrimmed(from, r.partsOfBlanks(nil))
	}
}

// anchorTrimmed adds the anchors of trimmed blanks to those that stand from an index on.
func (r *boardSearch) anchorTrimmed(from int, parts []int) {
	for _, a := range r.anchors[from:] {
		for _, part := range parts {
			r.anchors = append(r.anchors, a-part, a+part)
		}
	}
}

// partsAcross are the widths, each with a rip kerf, and the least gap that is worth anything.
func (r *boardSearch) partsAcross() []int {
	r.parts = withKerf(r.parts[:0], r.widths, r.rip)
	if r.narrow > 0 && r.narrow <= r.m {
		r.parts = append(r.parts, r.narrow+r.rip)
	}
	return r.parts
}

// anchorsAcross are the anchors across; trimmed says whether a blank may be narrower than its
// strip.
func (r *boardSearch) anchorsAcross(trimmed bool) []int {
	r.anchors = append(r.anchors[:0], r.edge, r.m-r.edge+r.rip)
	if r.narrow > 0 && r.narrow <= r.m {
		r.anchors = append(r.anchors, r.narrow+r.rip, r.m-r.narrow)
	}
	from := len(r.anchors)
	for k := range r.spots {
		s := &r.spots[k]
		r.anchors = append(r.anchors, s.right, s.left+r.rip)
		if s.weak {
			r.anchors = append(r.anchors, s.left, s.right+r.rip)
		}
	}
	if trimmed {
		r.anchorTrimmed(from, withKerf(nil, r.widths, r.rip))
	}
	return r.anchors
}
