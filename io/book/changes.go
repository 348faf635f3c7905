package book

import (
	"reflect"

	"rackwright/model"
)

// Same says whether two boards are the same in all that the book has of them.
func Same(a, b model.Board) bool {
	a, b = Plain(a), Plain(b)
	return reflect.DeepEqual(a, b)
}

// Changes are what makes one rack of another: first those of boards that were there, in their
// order, then those that came, in theirs. Order alone is no change.
func Changes(from, to []model.Board) (changes []Change) {
	now := map[string]*model.Board{}
	for i := range to {
		now[to[i].ID] = &to[i]
	}
	for i := range from {
		was := &from[i]
		is := now[was.ID]
		delete(now, was.ID)
		if is == nil || !Same(*was, *is) {
			changes = append(changes, Change{was, is})
		}
	}
	for i := range to {
		if now[to[i].ID] != nil {
			changes = append(changes, Change{nil, &to[i]})
		}
	}
	return changes
}
