package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"rackwright/benchmarks/told"
	"rackwright/nest/lp"
)

// What came before a solve.
const (
	cold    = iota // no other solve
	columns        // columns were added
	bounds         // bounds or costs changed
	both
	nothing
	kinds
)

var names = [kinds]string{"first", "columns added", "bounds changed", "both", "nothing"}

// tally is what the solves of one kind took.
type tally struct {
	solves, pivots, work int64
	time                 time.Duration
}

type table struct {
	of     [kinds]tally
	clones tally
}

// program is one of a record, as far as it has been asked again.
type program struct {
	*lp.Problem
	solved, added, changed bool
}

func (p *program) kind() int {
	switch {
	case !p.solved:
		return cold
	case p.added && p.changed:
		return both
	case p.added:
		return columns
	case p.changed:
		return bounds
	}
	return nothing
}

// replay asks what is in a record again, and counts what each solve takes.
func replay(record []byte) (*table, error) {
	last := map[uint32]int{} // the last call of each program
	if err := calls(record, func(n int, c *call) error {
		last[c.program] = n
		return nil
	}); err != nil {
		return nil, err
	}
	t := &table{}
	programs := map[uint32]*program{}
	return t, calls(record, func(n int, c *call) error {
		p := programs[c.program]
		if p == nil {
			p = &program{Problem: lp.New()}
			programs[c.program] = p
		}
		if c.what == 'K' {
			programs[uint32(c.whole[0])] = t.clone(p)
		} else if err := t.ask(p, c); err != nil {
			return err
		}
		if last[c.program] == n {
			delete(programs, c.program)
		}
		return nil
	})
}

func (t *table) clone(p *program) *program {
	q := *p
	begun := told.CPUTime()
	q.Problem = p.Clone()
	t.clones.time += told.CPUTime() - begun
	t.clones.solves++
	return &q
}

func (t *table) ask(p *program, c *call) error {
	v := c.numbers
	switch c.what {
	case 'R':
		p.AddRow(v[0], v[1])
	case 'A':
		p.AddColumn(v[0], v[1], v[2], c.whole, v[3:])
		p.added = true
	case 'r':
		p.SetRow(c.whole[0], v[0], v[1])
		p.changed = true
	case 'c':
		p.SetColumn(c.whole[0], v[0], v[1])
		p.changed = true
	case 'o':
		p.SetCost(c.whole[0], v[0])
		p.changed = true
	case 'S':
		return t.solve(p, lp.Status(c.whole[0]), v[0])
	}
	return nil
}

// solve solves p and compares what comes out with what is recorded.
func (t *table) solve(p *program, status lp.Status, value float64) error {
	of := &t.of[p.kind()]
	work, pivots, begun := p.Work(), p.Pivots(), told.CPUTime()
	found := p.Solve()
	of.time += told.CPUTime() - begun
	of.work += p.Work() - work
	of.pivots += p.Pivots() - pivots
	of.solves++
	p.solved, p.added, p.changed = true, false, false
	const tolerance = 1e-6
	if status == lp.Stalled || found == status &&
		(status != lp.Optimal || math.Abs(p.Value()-value) <= tolerance*(1+math.Abs(value))) {
		return nil // one that was stopped may go on
	}
	return fmt.Errorf("found %v, %.12g; recorded is %v, %.12g", found, p.Value(), status, value)
}

func (t *table) print(out io.Writer) error {
	if _, err := fmt.Fprintf(out, "| before the solve | solves | pivots | work | CPU s |\n"+
		"| --- | --: | --: | --: | --: |\n"); err != nil {
		return err
	}
	row := func(name string, k tally) error {
		if k.solves == 0 {
			return nil
		}
		_, err := fmt.Fprintf(out, "| %s | %d | %d | %d | %.3f |\n", name, k.solves, k.pivots,
			k.work, k.time.Seconds())
		return err
	}
	all := t.clones
	all.solves = 0
	for k, of := range t.of {
		if err := row(names[k], of); err != nil {
			return err
		}
		all.solves, all.pivots = all.solves+of.solves, all.pivots+of.pivots
		all.work, all.time = all.work+of.work, all.time+of.time
	}
	if err := row("(clones)", t.clones); err != nil {
		return err
	}
	return row("all", all)
}
