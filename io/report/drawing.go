package report

import (
	"math"
	"slices"
	"strings"

	"rackwright/model"
)

// A drawing of one board in plain characters: x runs to the right from the marked end, the left
// edge is on top. What is left of the board after the cuts stands in boxes; a kerf is the line
// between two of them. Edges stand where the scale says, moved no further than a box needs to show
// its letters; where there is no room for that, the scale wins and the small boxes stay without.

// box is what is drawn of one row that is no kerf: its span, the kerfs beyond its far sides
// included.
type box struct {
	model.Rect
	label string // in the middle, or empty
	fill  byte
}

// need asks that two edges of a scale stand at least cells apart.
type need struct {
	from, to model.Length
	cells    int
}

// scale says in which cell each edge stands.
type scale struct {
	edges []model.Length // sorted, from 0 to the size of the board
	cells []int
}

// newScale sets the edges to scale in cells 0 to most and then moves them apart where the needs ask
// for it; false where there is no room. They are moved from the one end and from the other, and
// stand in the middle: half of two that meet all needs meets them, too.
func newScale(edges []model.Length, most int, needs []need) (*scale, bool) {
	s := &scale{edges: edges}
	for _, e := range edges {
		s.cells = append(s.cells,
			int(math.Round(float64(e)*float64(most)/float64(edges[len(edges)-1]))))
	}
	apart := apartBy(edges, needs)
	up, down := slices.Clone(s.cells), slices.Clone(s.cells)
	push(up, apart)
	fits := pull(up, apart, most)
	pull(down, apart, most)
	push(down, apart)
	for i := range s.cells {
		if fits {
			s.cells[i] = (up[i] + down[i]) / 2
		}
	}
	return s, fits
}

// apartBy lists the needs by the index of the edge at their far side; from is an index, too.
func apartBy(edges []model.Length, needs []need) [][]need {
	apart := make([][]need, len(edges))
	for _, n := range needs {
		from, _ := slices.BinarySearch(edges, n.from)
		to, _ := slices.BinarySearch(edges, n.to)
		apart[to] = append(apart[to], need{model.Length(from), n.to, n.cells})
	}
	return apart
}

// sorted gives each edge once.
func sorted(edges []model.Length) []model.Length {
	slices.Sort(edges)
	return slices.Compact(edges)
}

// push moves edges away from the first, which is at 0 or above.
func push(cells []int, apart [][]need) {
	for i := range cells {
		cells[i] = max(cells[i], 0)
		if i > 0 {
			cells[i] = max(cells[i], cells[i-1])
		}
		for _, n := range apart[i] {
			cells[i] = max(cells[i], cells[n.from]+n.cells)
		}
	}
}

// pull moves edges towards the first so that the last is at most at most; it says whether the first
// had to stay at 0 or above.
func pull(cells []int, apart [][]need, most int) bool {
	for i := len(cells) - 1; i >= 0; i-- {
		cells[i] = min(cells[i], most)
		if i+1 < len(cells) {
			cells[i] = min(cells[i], cells[i+1])
		}
		for _, n := range apart[i] {
			cells[n.from] = min(cells[n.from], cells[i]-n.cells)
		}
	}
	return cells[0] >= 0
}

// at is the cell of a place between the edges, too.
func (s *scale) at(l model.Length) int {
	i, found := slices.BinarySearch(s.edges, l)
	if found || i == 0 {
		return s.cells[i]
	}
	if i == len(s.edges) {
		return s.cells[i-1]
	}
	passed := float64(l-s.edges[i-1]) / float64(s.edges[i]-s.edges[i-1])
	return s.cells[i-1] + int(passed*float64(s.cells[i]-s.cells[i-1]))
}

// within gives the cells of a span from first on and before end: at least one, where there is one.
func (s *scale) within(from, to model.Length, first, end int) (int, int) {
	first = max(first, s.at(from))
	return first, min(end, max(s.at(to), first+1))
}

// scales finds the scales of a board along and across: columns 0 to wide; a line for each unit of
// its width, and as many more as the boxes need.
func scales(boxes []box, board model.Rect, wide int, unit model.Length) (x, y *scale) {
	xs, ys := []model.Length{0, board.To}, []model.Length{0, board.Right}
	var labelled, all, down []need
	for _, b := range boxes {
		xs, ys = append(xs, b.From, b.To), append(ys, b.Left, b.Right)
		n := need{b.From, b.To, 1 + max(1, len(b.label))}
		if all = append(all, n); b.label != "" {
			labelled = append(labelled, n)
		}
		down = append(down, need{b.Left, b.Right, 2})
	}
	xs, ys = sorted(xs), sorted(ys)
	for _, needs := range [][]need{all, labelled, nil} {
		var fits bool
		if x, fits = newScale(xs, wide, needs); fits {
			break
		}
	}
	fewest := make([]int, len(ys)) // lines that the boxes need
	push(fewest, apartBy(ys, down))
	high := max(int(min(24, (board.Right+unit/2)/unit)), fewest[len(ys)-1]*3/2)
	y, _ = newScale(ys, high, down)
	return x, y
}

// canvas is lines of characters.
type canvas [][]byte

func newCanvas(wide, high int) canvas {
	c := make(canvas, high)
	for i := range c {
		c[i] = []byte(strings.Repeat(" ", wide))
	}
	return c
}

// line puts one character of a line; where lines of two directions meet stands a plus.
func (c canvas) line(row, column int, sign byte) {
	if at := &c[row][column]; *at == '+' || *at != ' ' && *at != sign {
		*at = '+'
	} else {
		*at = sign
	}
}

// frame draws the four sides of a box.
func (c canvas) frame(r0, r1, c0, c1 int) {
	for column := c0 + 1; column < c1; column++ {
		c.line(r0, column, '-')
		c.line(r1, column, '-')
	}
	for row := r0 + 1; row < r1; row++ {
		c.line(row, c0, '|')
		c.line(row, c1, '|')
	}
	for _, row := range []int{r0, r1} {
		c[row][c0], c[row][c1] = '+', '+'
	}
}

// fill puts one character in all places of some rows and columns, the last ones left out.
func (c canvas) fill(r0, r1, c0, c1 int, sign byte) {
	for row := r0; row < r1; row++ {
		for column := c0; column < c1; column++ {
			c[row][column] = sign
		}
	}
}

// draw draws the boxes of a board, with its defects over them, in lines of at most wide characters.
func draw(boxes []box, defects []model.Rect, board model.Rect, wide int,
	unit model.Length) []string {
	x, y := scales(boxes, board, wide-1, unit)
	c := newCanvas(x.at(board.To)+1, y.at(board.Right)+1)
	c.frame(0, len(c)-1, 0, len(c[0])-1)
	for _, b := range boxes {
		c.frame(y.at(b.Left), y.at(b.Right), x.at(b.From), x.at(b.To))
	}
	for _, b := range boxes {
		r0, r1, c0, c1 := y.at(b.Left), y.at(b.Right), x.at(b.From), x.at(b.To)
		c.fill(r0+1, r1, c0+1, c1, b.fill)
		for _, d := range defects {
			if d.From < b.To && b.From < d.To && d.Left < b.Right && b.Left < d.Right {
				top, bottom := y.within(d.Left, d.Right, r0+1, r1)
				left, right := x.within(d.From, d.To, c0+1, c1)
				c.fill(top, bottom, left, right, defectSign)
			}
		}
		if n := len(b.label); c1-c0-1 >= n && r1-r0 >= 2 {
			copy(c[(r0+r1)/2][c0+(c1-c0-n+1)/2:], b.label)
		}
	}
	var out []string
	for _, line := range c {
		out = append(out, strings.TrimRight(string(line), " "))
	}
	return out
}
