package along

import "rackwright/model"

// What the tests look at that no other package needs.

type Table = table

func (t *table) Best(b *Board, items []Item, kerf model.Length, scale int64) int64 {
	return t.best(b, items, kerf, scale)
}

func (m *Most) Of(b *Board, items []Item, kerf, longest model.Length, scale int64) int64 {
	return m.mostOf(b, items, kerf, longest, scale)
}

func (b *Board) Linked(items []Item, kerf model.Length) bool { return b.isLinked(items, kerf) }

func (b *Board) Step(items []Item, kerf model.Length) int64 { return b.gridStep(items, kerf) }
