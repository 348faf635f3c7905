package beside

import (
	"strings"
	"testing"
)

// What is done aside gives its value, and a panic of it reaches who asks for that.
func TestAside(t *testing.T) {
	if got := (<-Aside(func() int { return 7 })).Get(); got != 7 {
		t.Errorf("it gives %d", got)
	}
	out := <-Aside(func() int { panic("no seven") })
	defer func() {
		if r, _ := recover().(string); !strings.Contains(r, "no seven") ||
			!strings.Contains(r, "aside_test.go") {
			t.Errorf("it panics with %q", r)
		}
	}()
	t.Errorf("it gives %d", out.Get())
}
