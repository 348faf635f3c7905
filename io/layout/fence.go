package layout

import "rackwright/model"

// Fence is how wide is what passes between fence and blade in a rip: what is to have its width. It
// is 0 where the saw takes all of the piece.
func (b *Board) Fence(c *Cut) model.Length {
	off, rest := b.InHand(c.Near), b.InHand(c.Far)
	near, far := c.Near.Right-c.Near.Left, c.Far.Right-c.Far.Left
	done := rest.Last && rest.Kept
	switch {
	case near == 0:
		return far
	case far == 0:
		return near
	case off.Kept && (off.Parts || !done):
		return near
	}
	return far
}
