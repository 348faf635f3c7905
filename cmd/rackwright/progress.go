package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"

	"rackwright/cmd/rackwright/screen"
	"rackwright/io/report"
	"rackwright/io/table"
	"rackwright/model"
	"rackwright/nest"
)

// progress shows on stderr how a plan comes about: one line written over on a terminal, plain lines
// in a pipe, nothing when quiet. The first comes within a second, and one at least every two.
type progress struct {
	mu       sync.Mutex
	w        io.Writer // nil: nothing is shown, or no more
	terminal bool
	width    int
	stage    string       // what is done before there are groups
	groups   []nest.Event // the last of each
	last     time.Time
	started  time.Time
	shown    bool
	ended    chan struct{}
}

// When lines come of themselves: the first, and then every so often.
const (
	firstLine = 800 * time.Millisecond
	nextLine  = 2 * time.Second
)

// newProgress shows what is done from now on, at first a stage.
func newProgress(e *env, stage string) *progress {
	p := &progress{started: time.Now(), stage: stage, ended: make(chan struct{})}
	if e.Quiet {
		return p
	}
	p.w = e.Stderr
	if f, ok := screen.Terminal(e.Stderr); ok && os.Getenv("TERM") != "dumb" {
		p.w, p.terminal = f, true // its line is written over by a control character
		if p.width, _, _ = term.GetSize(int(f.Fd())); p.width < 20 {
			p.width = 80
		}
	}
	go p.run(p.ended)
	return p
}

// run shows lines of itself until the end.
func (p *progress) run(ended <-chan struct{}) {
	for wait := firstLine; ; wait = nextLine {
		select {
		case <-ended:
			return
		case <-time.After(wait):
			p.mu.Lock()
			p.show()
			p.mu.Unlock()
		}
	}
}

// show shows the line as it is now.
func (p *progress) show() {
	switch {
	case p.w == nil:
	case p.terminal:
		p.over(p.line())
	default:
		fmt.Fprintln(p.w, p.line())
	}
}

// enter says what is done now. Without a progress it does nothing, as end does.
func (p *progress) enter(stage string) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.stage, p.groups = stage, nil
}

func (p *progress) observe(ev nest.Event) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.w == nil {
		return
	}
	if len(p.groups) != ev.Groups {
		p.groups = make([]nest.Event, ev.Groups)
	}
	told := p.groups[ev.Group].Done
	p.groups[ev.Group] = ev
	if p.terminal {
		if now := time.Now(); ev.Done || now.Sub(p.last) > 100*time.Millisecond {
			p.last = now
			p.show()
		}
		return
	}
	if ev.Done && !told {
		fmt.Fprintf(p.w, "%s: net wood cost %s, %s\n", ev.Name, report.Money(ev.Value),
			proven(&ev))
	}
}

// line sums up what is done and what is known so far.
func (p *progress) line() string {
	seconds := int(time.Since(p.started).Seconds())
	if p.groups == nil {
		return fmt.Sprintf("%s, %d s", p.stage, seconds)
	}
	var all nest.Event
	done, doing := 0, ""
	all.Proven = true
	planned := true
	for _, g := range p.groups {
		planned = planned && g.Name != "" && g.Phase != nest.FirstRule
		all.Proven = all.Proven && g.Proven
		if all.Value += g.Value; g.Proven {
			all.Bound += g.Bound
		}
		switch {
		case g.Done:
			if done++; g.Phase == nest.Judging {
				doing = g.Phase
			}
		case doing == "":
			doing = g.Phase
		}
	}
	text := fmt.Sprintf("%d of %d groups done, %d s", done, len(p.groups), seconds)
	if doing != "" {
		text += ", " + doing
	}
	if planned {
		text += fmt.Sprintf(": net wood cost %s, %s", report.Money(all.Value), proven(&all))
	}
	return text
}

// proven is the bound of a net wood cost with its gap, where it tells anything.
func proven(ev *nest.Event) string {
	value, bound := ev.Value, ev.Bound
	gap := report.Percent(value-bound, value)
	switch {
	case !ev.Proven || !report.Useful(bound, value):
		return report.NoUsefulBound
	case value <= 0:
		gap = report.Money(value - bound)
	}
	return fmt.Sprintf("bound %s, gap %s", report.Bound(bound, value), gap)
}

// over writes a text over the line that is shown. What has no room is cut off.
func (p *progress) over(text string) {
	text = table.Break(model.Visible(text), p.width-1)[0]
	fmt.Fprint(p.w, "\r"+text+strings.Repeat(" ", p.width-1-table.Width(text)))
	p.shown = true
}

// end clears the line; nothing is shown any more.
func (p *progress) end() {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.ended == nil {
		return
	}
	close(p.ended)
	p.ended = nil
	if p.shown {
		p.over("")
		fmt.Fprint(p.w, "\r")
	}
	p.w = nil
}
