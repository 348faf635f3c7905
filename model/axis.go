package model

// Axis is one of the two directions on a board.
type Axis int

// The directions.
const (
	Along  Axis = iota // x, from the marked end
	Across             // y, from the left edge
)

// Other is the direction square to a.
func (a Axis) Other() Axis { return Across - a }

// On is what the rectangle spans in one direction.
func (r Rect) On(a Axis) Span {
	if a == Along {
		return Span{r.From, r.To}
	}
	return Span{r.Left, r.Right}
}

// With is the rectangle with another span in one direction.
func (r Rect) With(a Axis, s Span) Rect {
	if a == Along {
		r.From, r.To = s.From, s.To
	} else {
		r.Left, r.Right = s.From, s.To
	}
	return r
}
