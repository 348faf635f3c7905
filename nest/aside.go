package nest

import (
	"fmt"
	"runtime/debug"
)

// outcome is what something done aside has come to.
type outcome[T any] struct {
	value    T
	panicked any // nil: it did not
}

// aside does something in a goroutine of its own, whether or not somebody waits for it to end.
func aside[T any](do func() T) <-chan outcome[T] {
	out := make(chan outcome[T], 1)
	go func() {
		defer func() {
			if r := recover(); r != nil {
				out <- outcome[T]{panicked: fmt.Sprintf("%v\n%s", r, debug.Stack())}
			}
		}()
		out <- outcome[T]{value: do()}
	}()
	return out
}

// get gives its value; where it panicked, so does get.
func (o outcome[T]) get() T {
	if o.panicked != nil {
		panic(o.panicked)
	}
	return o.value
}
