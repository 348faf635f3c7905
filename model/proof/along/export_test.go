package along

import "rackwright/model"

// What the tests look at that no other package needs.

type Table = table

func (t *table) Best(b *Board, items []Item, kerf model.Length) int64 {
	return t.best(b, items, kerf)
}

func (m *Most) Of(b *Board, items []Item, kerf, longest model.Length) int64 {
	return m.mostOf(b, items, kerf, longest)
}

func (b *Board) Linked(items []Item, kerf model.Length) bool { return b.isLinked(items, kerf) }
