package book

import (
	"fmt"

	"rackwright/model"
)

// What is cut neither grows nor shrinks. Of each board
//
//	area before = parts + spoiled + kerf + trim + waste + offcuts + what is left under its id
//
// all in units of length, squared. So over any events the wood that came is what was cut into
// parts, spoiled, dust, trims and waste, what lies on the rack, and what left it otherwise.

// cutAdds says whether what a cut event says of its boards adds up.
func (e *Event) cutAdds() error {
	changed := map[string]*Change{}
	for i := range e.Changes {
		c := &e.Changes[i]
		if changed[c.ID()] != nil {
			return fmt.Errorf("board %s changes twice", c.ID())
		}
		changed[c.ID()] = c
	}
	for i := range e.Done {
		d := &e.Done[i]
		c := changed[d.Board]
		if c == nil || c.Was == nil {
			return fmt.Errorf("board %s is cut, and was not there", d.Board)
		}
		delete(changed, d.Board)
		left, err := d.left(c, changed)
		if err != nil {
			return err
		}
		if made := d.Parts + d.Spoiled + d.Kerf + d.Trim + d.Waste + left; made != area(c.Was) {
			return fmt.Errorf("board %s has an area of %d, and what became of it of %d", d.Board,
				area(c.Was), made)
		}
		if d.Parts < 0 || d.Spoiled < 0 || d.Kerf < 0 || d.Trim < 0 {
			return fmt.Errorf("of board %s less than nothing was cut", d.Board)
		}
	}
	for i := range e.Changes {
		c := &e.Changes[i]
		if changed[c.ID()] != nil && !onlySeen(c) {
			return fmt.Errorf("board %s is neither cut nor an offcut of one that is", c.ID())
		}
	}
	return nil
}

// left is the area of the offcuts of a board, and of what is left of it under its own id. The
// offcuts are taken out of the changes.
func (d *BoardCut) left(c *Change, changed map[string]*Change) (sum int64, err error) {
	was := c.Was
	if c.Is != nil {
		if !sameWood(was, c.Is) || c.Is.Length > was.Length || c.Is.Width > was.Width ||
			area(c.Is) == area(was) {
			return 0, fmt.Errorf("what is left of board %s is no piece of it", d.Board)
		}
		sum = area(c.Is)
	}
	for _, id := range d.Offcuts {
		o := changed[id]
		if o == nil || o.Was != nil || !sameWood(was, o.Is) {
			return 0, fmt.Errorf("offcut %s did not come from board %s", id, d.Board)
		}
		delete(changed, id)
		sum += area(o.Is)
	}
	return sum, nil
}

// onlySeen says whether a board is as it was, but for what was seen of it: such as a defect that
// was found before it was cut.
func onlySeen(c *Change) bool {
	return c.Was != nil && c.Is != nil && sameWood(c.Was, c.Is) && c.Was.Length == c.Is.Length &&
		c.Was.Width == c.Is.Width
}

func sameWood(a, b *model.Board) bool {
	return a.Material == b.Material && a.Section == b.Section
}

// area is that of a board's face, in units of length, squared. Boards have limits far below where
// it would leave 64 bits.
func area(b *model.Board) int64 { return int64(b.Length) * int64(b.Width) }
