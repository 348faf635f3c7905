// Package queue holds things of which the least is the next.
package queue

import "container/heap"

// Queue is such a queue. Its zero value has no order: see [New].
type Queue[T any] struct{ heaped heaped[T] }

// New makes one with an order, that holds some things.
func New[T any](less func(a, b T) bool, some ...T) *Queue[T] {
	q := &Queue[T]{heaped[T]{some, less}}
	heap.Init(&q.heaped)
	return q
}

// Len is how many there are.
func (q *Queue[T]) Len() int { return len(q.heaped.all) }

// First is the next; there is one. Call [Queue.Moved] where it points to what has changed since.
func (q *Queue[T]) First() T { return q.heaped.all[0] }

// Moved puts what is first where it belongs now.
func (q *Queue[T]) Moved() { heap.Fix(&q.heaped, 0) }

// Push adds one.
func (q *Queue[T]) Push(one T) { heap.Push(&q.heaped, one) }

// Pop takes the next; there is one.
func (q *Queue[T]) Pop() T { return heap.Pop(&q.heaped).(T) }

// heaped is what package heap asks for.
type heaped[T any] struct {
	all  []T
	less func(a, b T) bool
}

func (h *heaped[T]) Len() int           { return len(h.all) }
func (h *heaped[T]) Less(i, j int) bool { return h.less(h.all[i], h.all[j]) }
func (h *heaped[T]) Swap(i, j int)      { h.all[i], h.all[j] = h.all[j], h.all[i] }
func (h *heaped[T]) Push(one any)       { h.all = append(h.all, one.(T)) }
func (h *heaped[T]) Pop() any {
	last := h.all[len(h.all)-1]
	h.all = h.all[:len(h.all)-1]
	return last
}
