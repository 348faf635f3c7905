package beside

import (
	"strings"
	"sync/atomic"
	"testing"
)

// Each thing is done once, and never more at a time than asked.
func TestEachDoesAll(t *testing.T) {
	for _, c := range []struct{ n, atATime int }{{0, 0}, {1, 3}, {100, 0}, {100, 1}, {100, 3}} {
		done := make([]atomic.Int64, c.n)
		var now, most atomic.Int64
		Each(c.n, c.atATime, func(i int) {
			for k := now.Add(1); ; {
				if m := most.Load(); k <= m || most.CompareAndSwap(m, k) {
					break
				}
			}
			done[i].Add(1)
			now.Add(-1)
		})
		for i := range done {
			if done[i].Load() != 1 {
				t.Errorf("%+v: thing %d was done %d times", c, i, done[i].Load())
			}
		}
		if c.atATime > 0 && most.Load() > int64(c.atATime) {
			t.Errorf("%+v: %d at a time", c, most.Load())
		}
	}
}

// A panic reaches who waits, with what it said, after the things that were under way.
func TestEachPanics(t *testing.T) {
	var under atomic.Int64
	defer func() {
		if r, _ := recover().(string); !strings.Contains(r, "the third") ||
			!strings.Contains(r, "beside_test.go") {
			t.Errorf("it panics with %q", r)
		}
		if under.Load() != 0 {
			t.Errorf("%d go on", under.Load())
		}
	}()
	Each(1000, 2, func(i int) {
		under.Add(1)
		defer under.Add(-1)
		if i == 2 {
			panic("the third")
		}
	})
	t.Error("it did not panic")
}
