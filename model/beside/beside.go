// Package beside does things beside each other, on all cores.
package beside

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Each does something for each of n things, begun in their order, at most so many at a time; 0
// means one for each core. Where one panics, so does Each, once no other goes on; those that were
// not begun by then are left.
func Each(n, atATime int, do func(i int)) {
	if atATime == 0 {
		atATime = runtime.GOMAXPROCS(0)
	}
	var all sync.WaitGroup
	var begun atomic.Int64
	var panicked atomic.Pointer[string]
	for range min(n, atATime) {
		all.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					what := fmt.Sprintf("%v\n%s", r, debug.Stack())
					panicked.CompareAndSwap(nil, &what)
				}
			}()
			for i := int(begun.Add(1)); i <= n && panicked.Load() == nil; i = int(begun.Add(1)) {
				do(i - 1)
			}
		})
	}
	all.Wait()
	if what := panicked.Load(); what != nil {
		panic(*what)
	}
}
