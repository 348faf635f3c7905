package main

import (
	"bytes"
	"testing"
	"time"

	"rackwright/nest"
)

// What is said of a search is its net wood cost, with a bound only where that tells anything.
func TestProgressTells(t *testing.T) {
	for _, c := range []struct {
		ev         nest.Event
		said, line string
	}{
		{nest.Event{Name: "oak 4/4", Groups: 1, Value: 200_0000, Bound: 190_0000, Proven: true,
			Done: true},
			"oak 4/4: net wood cost 200.00, bound 190.00, gap 5.00 %\n",
			"1 of 1 groups done, 0 s: net wood cost 200.00, bound 190.00, gap 5.00 %"},
		{nest.Event{Name: "oak 4/4", Groups: 1, Value: 200_0000, Bound: -3_0000, Proven: true,
			Done: true},
			"oak 4/4: net wood cost 200.00, no useful bound yet\n",
			"1 of 1 groups done, 0 s: net wood cost 200.00, no useful bound yet"},
		{nest.Event{Name: "oak 4/4", Groups: 1, Proven: true, Done: true},
			"oak 4/4: net wood cost 0.00, bound 0.00, gap 0.00\n",
			"1 of 1 groups done, 0 s: net wood cost 0.00, bound 0.00, gap 0.00"},
		{nest.Event{Name: "oak 4/4", Groups: 2, Value: 200_0000}, "",
			"0 of 2 groups done, 0 s: net wood cost 200.00"},
	} {
		var b bytes.Buffer
		p := &progress{w: &b, started: time.Now()}
		p.observe(c.ev)
		if got := b.String(); got != c.said {
			t.Errorf("%+v is told as %q, want %q", c.ev, got, c.said)
		}
		if got := p.line(); got != c.line {
			t.Errorf("%+v on a terminal is %q, want %q", c.ev, got, c.line)
		}
	}
}
