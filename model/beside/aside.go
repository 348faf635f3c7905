package beside

import (
	"fmt"
	"runtime/debug"
)

// Outcome is what something done aside has come to.
type Outcome[T any] struct {
	value    T
	panicked string // empty: it did not
}

// Aside does something in a goroutine of its own, whether or not somebody waits for it to end.
func Aside[T any](do func() T) <-chan Outcome[T] {
	out := make(chan Outcome[T], 1)
	go func() {
		defer func() {
			if r := recover(); r != nil {
				out <- Outcome[T]{panicked: fmt.Sprintf("%v\n%s", r, debug.Stack())}
			}
		}()
		out <- Outcome[T]{value: do()}
	}()
	return out
}

// Get gives its value; where it panicked, so does Get.
func (o Outcome[T]) Get() T {
	if o.panicked != "" {
		panic(o.panicked)
	}
	return o.value
}
