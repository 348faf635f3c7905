package drawing

import "rackwright/model"

// scale says where a place of a board stands. The board fills from x on so many micrometres, and
// its left edge is at y = 0 until the drawing is moved down below what stands on top.
type scale struct {
	x, wide, high int
	size          model.Rect
	times         int // how many times too wide the board is drawn; 1: to scale
}

func (s *scale) along(l model.Length) int {
	return s.x + int(int64(l)*int64(s.wide)/int64(s.size.To))
}

func (s *scale) across(l model.Length) int {
	return int(int64(l) * int64(s.high) / int64(s.size.Right))
}

// rect is where a rectangle of the board stands.
func (s *scale) rect(r model.Rect) Rect {
	x, y := s.along(r.From), s.across(r.Left)
	return Rect{X: x, Y: y, Wide: s.along(r.To) - x, High: s.across(r.Right) - y}
}

// newScale draws a board to scale, as long as there is room for; shorter where it would be higher
// than a quarter of that. Where it or its narrowest piece is too low for a line of text, the width
// is drawn some whole number of times too wide.
func newScale(size model.Rect, narrowest model.Length, x, room, text int) scale {
	long, broad := int64(size.To), int64(size.Right)
	s := scale{x: x, wide: room, size: size}
	most := int64(max(room/4, 4*text))
	if int64(room)*broad/long > most {
		s.wide = int(max(1, most*long/broad))
	}
	need := max(4*int64(text), int64(text)*broad*3/2/int64(narrowest))
	exact := int64(s.wide) * broad // the true height, times long
	times := (min(need, most)*long + exact - 1) / exact
	times = max(1, min(times, most*long/exact))
	s.times, s.high = int(times), int(max(1, exact*times/long))
	return s
}
