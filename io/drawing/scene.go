package drawing

// Scene is a drawing. All measures are whole micrometres; y runs down from the top left corner.
type Scene struct {
	Width, Height int
	Shapes        []Shape   // in the order in which they are painted
	Key           []KeyLine // what has no room in the drawing
	Title, Desc   string    // for who cannot see it: what it is, and all that it shows
}

// KeyLine says what stands behind a letter of the drawing, or behind the number of a cut.
type KeyLine struct{ Letter, Text string }

// Shape is a [Rect], [Lines] or a [Text].
type Shape interface{ move(dy int) }

// Ink is what a shape is painted with.
type Ink string

// The inks. Paper is the background, under texts, too.
const (
	None  Ink = ""
	Black Ink = "ink"
	Pale  Ink = "pale"
	Paper Ink = "paper"
)

// Rect is a rectangle, filled or outlined, its outline Line wide on both sides of its edge.
type Rect struct {
	X, Y, Wide, High int
	Fill             Ink
	Stroke           Ink
	Line             int
}

// Segment is a straight line between two points.
type Segment struct{ X1, Y1, X2, Y2 int }

// Lines are straight lines of one ink and width. They end where they end, without caps.
type Lines struct {
	Segments []Segment
	Ink      Ink
	Line     int
}

// Text is one line of text. It begins at X, Y on its baseline and is Wide long, as measured by
// [TextWidth]. Up says that it is turned, to be read from the bottom to the top.
type Text struct {
	X, Y, Wide, Size int
	Bold, Up         bool
	Text             string
}

// A line of text takes, in hundredths of its size: above its baseline, and below.
const (
	above = 78
	below = 22
)

// Box is the room that a text takes.
func (t *Text) Box() Rect {
	up, down := t.Size*above/100, t.Size*below/100
	if t.Up {
		return Rect{X: t.X - up, Y: t.Y - t.Wide, Wide: up + down, High: t.Wide}
	}
	return Rect{X: t.X, Y: t.Y - up, Wide: t.Wide, High: up + down}
}

func (r *Rect) move(dy int) { r.Y += dy }
func (t *Text) move(dy int) { t.Y += dy }

func (l *Lines) move(dy int) {
	for i := range l.Segments {
		l.Segments[i].Y1 += dy
		l.Segments[i].Y2 += dy
	}
}

// overlaps says whether two rectangles come nearer to each other than gap.
func (r Rect) overlaps(o Rect, gap int) bool {
	return r.X < o.X+o.Wide+gap && o.X < r.X+r.Wide+gap && r.Y < o.Y+o.High+gap &&
		o.Y < r.Y+r.High+gap
}

// inside says whether a rectangle lies in another.
func (r Rect) inside(o Rect) bool {
	return o.X <= r.X && r.X+r.Wide <= o.X+o.Wide && o.Y <= r.Y && r.Y+r.High <= o.Y+o.High
}
