package drawing

// Hatches and dashes as single lines, each clipped to its rectangle in whole numbers. All hatches
// hang on one grid, so that they run on over neighbours.

// hatch is how a rectangle is filled: how far lines stand apart, and which ways they run.
type hatch struct {
	apart                    int
	rising, falling          bool // the two diagonals
	lengthwise, across, bold bool
}

// The hatches of what is neither part nor offcut, of faces and of defects.
var (
	trimHatch    = hatch{apart: 1200, rising: true}
	wasteHatch   = hatch{apart: 3000, falling: true}
	soundFace    = hatch{apart: 2000, rising: true}
	hiddenFace   = hatch{apart: 1500, rising: true, falling: true}
	mildSpot     = hatch{apart: 900, lengthwise: true}
	middlingSpot = hatch{apart: 900, across: true}
	badSpot      = hatch{apart: 900, lengthwise: true, across: true}
	weakSpot     = hatch{apart: 900, rising: true, falling: true, bold: true}
)

// lines fills a rectangle.
func (h hatch) lines(r Rect) (out []Segment) {
	x2, y2 := r.X+r.Wide, r.Y+r.High
	if h.rising { // x + y is the same along a line
		for c := ceil(r.X+r.Y+1, h.apart); c < x2+y2; c += h.apart {
			out = append(out, Segment{max(r.X, c-y2), min(y2, c-r.X), min(x2, c-r.Y),
				max(r.Y, c-x2)})
		}
	}
	if h.falling { // x - y is the same along a line
		for c := ceil(r.X-y2+1, h.apart); c < x2-r.Y; c += h.apart {
			out = append(out, Segment{max(r.X, c+r.Y), max(r.Y, r.X-c), min(x2, c+y2),
				min(y2, x2-c)})
		}
	}
	if h.lengthwise {
		for y := ceil(r.Y+1, h.apart); y < y2; y += h.apart {
			out = append(out, Segment{r.X, y, x2, y})
		}
	}
	if h.across {
		for x := ceil(r.X+1, h.apart); x < x2; x += h.apart {
			out = append(out, Segment{x, r.Y, x, y2})
		}
	}
	return out
}

// ceil is the least multiple of step that is not below n.
func ceil(n, step int) int {
	m := n % step
	if m < 0 {
		m += step
	}
	if m == 0 {
		return n
	}
	return n - m + step
}

// dashed is the outline of a rectangle in dashes.
func dashed(r Rect) (out []Segment) {
	const dash, gap = 1500, 900
	x2, y2 := r.X+r.Wide, r.Y+r.High
	for x := r.X; x < x2; x += dash + gap {
		out = append(out, Segment{x, r.Y, min(x+dash, x2), r.Y},
			Segment{x, y2, min(x+dash, x2), y2})
	}
	for y := r.Y; y < y2; y += dash + gap {
		out = append(out, Segment{r.X, y, r.X, min(y+dash, y2)},
			Segment{x2, y, x2, min(y+dash, y2)})
	}
	return out
}
