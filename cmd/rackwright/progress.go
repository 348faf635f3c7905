package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"

	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

// progress shows on stderr how the search goes on: one line written over on a terminal, plain lines
// in a pipe, nothing when quiet.
type progress struct {
	mu       sync.Mutex
	w        io.Writer
	terminal bool
	width    int
	groups   []nest.Event
	last     time.Time
	started  time.Time
	shown    bool
}

func newProgress(e *env) *progress {
	p := &progress{started: time.Now()}
	if e.quiet {
		return p
	}
	p.w = e.stderr
	if f, ok := terminal(e.stderr); ok && os.Getenv("TERM") != "dumb" {
		p.w, p.terminal = f, true // its line is written over by a control character
		if p.width, _, _ = term.GetSize(int(f.Fd())); p.width < 20 {
			p.width = 80
		}
	}
	return p
}

func (p *progress) observe(ev nest.Event) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.w == nil {
		return
	}
	if p.groups == nil {
		p.groups = make([]nest.Event, ev.Groups)
	}
	p.groups[ev.Group] = ev
	if p.terminal {
		if now := time.Now(); ev.Done || now.Sub(p.last) > 100*time.Millisecond {
			p.last = now
			p.over(p.line())
		}
		return
	}
	if ev.Done {
		fmt.Fprintf(p.w, "%s: net wood cost %s, %s\n", ev.Name, report.Money(ev.Value),
			proven(ev.Value, ev.Bound))
	}
}

// line sums up the groups begun so far.
func (p *progress) line() string {
	var value, bound model.Money
	done, bounded := 0, true
	for _, g := range p.groups {
		value += g.Value
		bound += g.Bound
		bounded = bounded && (g.Proven || g.Name == "")
		if g.Done {
			done++
		}
	}
	text := fmt.Sprintf("%d of %d groups done, %d s: net wood cost %s", done, len(p.groups),
		int(time.Since(p.started).Seconds()), report.Money(value))
	if bounded {
		text += ", " + proven(value, bound)
	}
	return text
}

// proven is the bound of a net wood cost with its gap, where it tells anything.
func proven(value, bound model.Money) string {
	gap := report.Percent(value-bound, value)
	switch {
	case !report.Useful(bound, value):
		return report.NoUsefulBound
	case value <= 0:
		gap = report.Money(value - bound)
	}
	return fmt.Sprintf("bound %s, gap %s", report.Bound(bound, value), gap)
}

func (p *progress) over(text string) {
	if len(text) > p.width-1 {
		text = text[:p.width-1]
	}
	fmt.Fprint(p.w, "\r"+text+strings.Repeat(" ", p.width-1-len(text)))
	p.shown = true
}

// end clears the line.
func (p *progress) end() {
	if p.shown {
		p.over("")
		fmt.Fprint(p.w, "\r")
	}
}
