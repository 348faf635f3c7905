package main

import (
	"bufio"
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/table"
	"rackwright/model"
	"rackwright/nest"
)

// What is said of a search is what it does and its net wood cost, with a bound only where that
// tells anything.
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
		{nest.Event{Name: "oak 4/4", Groups: 1, Value: 200_0000, Proven: true, Done: true},
			"oak 4/4: net wood cost 200.00, no useful bound yet\n",
			"1 of 1 groups done, 0 s: net wood cost 200.00, no useful bound yet"},
		{nest.Event{Name: "oak 4/4", Groups: 1, Proven: true, Done: true},
			"oak 4/4: net wood cost 0.00, bound 0.00, gap 0.00\n",
			"1 of 1 groups done, 0 s: net wood cost 0.00, bound 0.00, gap 0.00"},
		{nest.Event{Name: "oak 4/4", Groups: 1, Value: 200_0000, Phase: "dives"}, "",
			"0 of 1 groups done, 0 s, dives: net wood cost 200.00, no useful bound yet"},
		{nest.Event{Name: "oak 4/4", Groups: 1, Phase: nest.FirstRule}, "",
			"0 of 1 groups done, 0 s, first simple rule"},
		{nest.Event{Name: "oak 4/4", Groups: 2, Value: 200_0000, Phase: "dives"}, "",
			"0 of 2 groups done, 0 s, dives"},
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

// Lines come of themselves, also in a pipe, also before anything is told, until the end; when quiet
// there are none.
func TestProgressGoesOn(t *testing.T) {
	for _, quiet := range []bool{false, true} {
		r, w := io.Pipe()
		lines := make(chan string, 100)
		go func() {
			for s := bufio.NewScanner(r); s.Scan(); {
				lines <- s.Text()
			}
		}()
		p := newProgress(&env{command.Env{Stderr: w, Quiet: quiet}}, "reading march")
		select {
		case got := <-lines:
			if quiet || !strings.HasPrefix(got, "reading march, ") {
				t.Errorf("quiet %v: %q", quiet, got)
			}
		case <-time.After(3 * firstLine):
			if !quiet {
				t.Error("no line")
			}
		}
		p.observe(nest.Event{Name: "oak 4/4", Groups: 1, Value: 200_0000, Phase: "dives"})
		if !quiet {
			select {
			case got := <-lines:
				if !strings.Contains(got, "dives: net wood cost 200.00, no useful bound yet") {
					t.Errorf("then %q", got)
				}
			case <-time.After(5 * nextLine):
				t.Error("no second line")
			}
		}
		p.end()
		p.observe(nest.Event{Name: "oak 4/4", Groups: 1, Value: 200_0000, Done: true})
		p.end()
		select {
		case got := <-lines:
			t.Errorf("quiet %v: after the end %q", quiet, got)
		case <-time.After(firstLine / 8):
		}
	}
}

// The line on a terminal never goes on to the next one, nor does a name in it steer the terminal.
func TestProgressLine(t *testing.T) {
	for _, stage := range []string{"", "reading march", "reading a\x1b[31m\r\u202eb",
		"reading " + strings.Repeat("x", 300), "reading " + strings.Repeat("楢の厚板", 40)} {
		var b bytes.Buffer
		p := &progress{w: &b, width: 60}
		p.over(stage)
		line := strings.TrimPrefix(b.String(), "\r")
		if table.Width(line) != 59 || line != model.Visible(line) || !p.shown {
			t.Errorf("%q is shown as %d columns, %q", stage, table.Width(line), line)
		}
	}
}
