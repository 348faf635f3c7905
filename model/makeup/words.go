package makeup

import (
	"fmt"
	"strings"

	"rackwright/model"
)

// Made says what a way makes a part of: 7 staves of 5 1/8" net from 2x6. No length is rounded.
func (w *Way) Made(u model.Unit) string {
	from := " from " + WoodOf(&w.Wood)
	staves := fmt.Sprintf("%d staves of %s net", w.Across.Times, w.Across.Net.Exact(u))
	switch layers := fmt.Sprintf("%d layers", w.Through.Times); {
	case w.Pieces == 1 && w.Copies == 1:
		return "one piece" + from
	case w.Copies > 1:
		return fmt.Sprintf("%d in one blank", w.Copies) + from
	case w.Through.Times == 1:
		return staves + from
	case w.Across.Times == 1:
		return layers + from
	default:
		return layers + " of " + staves + from
	}
}

// Made says likewise what a cover makes a part of.
func (c *Cover) Made() string {
	staves := fmt.Sprintf("%d to %d staves", c.Fewest, c.Most)
	if c.Fewest == c.Most {
		staves = fmt.Sprintf("%d staves", c.Fewest)
	}
	if staves += " of random widths from " + WoodOf(&c.Wood); c.Through.Times > 1 {
		return fmt.Sprintf("%d layers of ", c.Through.Times) + staves
	}
	return staves
}

// Enter says what to enter for so many sets of the pieces: how many, their section and sizes.
func (w *Way) Enter(sets int64, u model.Unit) string {
	q := &w.Piece
	return fmt.Sprintf("enter %d of section %s, %s by %s by %s", sets*w.Pieces, q.Section,
		q.Length.Exact(u), q.Width.Exact(u), q.Thickness.Exact(u))
}

// WoodOf names the section of a wood, and its surface where that is not finished.
func WoodOf(w *model.Wood) string {
	return strings.TrimSpace(string(w.Section) + " " + string(w.Surface))
}
