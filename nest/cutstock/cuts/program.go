package cuts

import (
	"rackwright/nest/lp"
	"rackwright/nest/price"
)

// Entry is a pattern on a list: how many of which items it has, and what a use costs.
type Entry struct {
	Index  int // the caller's own number of it
	Stock  int
	Cost   int64
	Items  []int // distinct, ascending
	Counts []int64
}

// Program is the integer program over a list: to meet the demands at the least cost, by whole
// numbers of uses of its patterns, within the limits of the stocks.
type Program struct {
	Demand      []int64 // by item
	Least, Most []int64 // uses by stock; cutting.Any: no limit
	List        []*Entry
	Near        []int64 // by entry: how far it is from being used; those nearest are tried first
	Target      int64   // what is to be proven: no plan costs less
	Unit        float64 // of the linear program
	Unmet       []int64 // by item, what leaving one piece unmet costs there
	Steps       int64   // that the rounds may take
	Searching   int64   // steps that the search for a plan after the rounds may take

	Meter *price.Meter
	Solve func(*lp.Problem) lp.Status
	Over  func() bool                                // the search must end
	Goal  func() int64                               // proving this is enough
	Offer func(e []*Entry, uses func(j int) float64) // takes a whole solution

	rows    []*inequality // the cuts so far
	cuts    []Cut
	resting []bool // cuts that the relaxation goes without
	struck  []Struck
	inside  []bool    // by entry: it is in the linear program
	cost    []float64 // by entry, its reduced cost in the last relaxation
	best    *Proof    // of the greatest bound so far, and that
	proven  int64
	making  int64 // steps to make all cuts
}

const (
	rounds      = 60
	cutsOfRound = 25 // at most, the most violated
	// mostNumbers is how many numbers all cuts may have. The checker's limit is above it.
	mostNumbers = 1 << 25
)

// Prove adds cuts round by round. It gives a proof and what it proves: the target, or what the
// rounds came to. Nil where they prove nothing.
func (p *Program) Prove() (*Proof, int64) {
	p.inside = make([]bool, len(p.List))
	p.begin()
	limit, stalled, last := p.Meter.Steps+p.Steps, 0, 0.0
	for round := 0; round < rounds && p.Meter.Steps < limit && !p.Over(); round++ {
		m := p.relax()
		if m == nil || m.prove() {
			break
		}
		if !p.better(m, &last, &stalled) {
			m.search()
			break
		}
		m.rest()
		found := m.violated()
		if len(found) == 0 { // all whole
			if !m.unmet() {
				p.Offer(p.List, m.x)
				m.prove()
			}
			break
		}
		m.strike()
		if !p.add(found) {
			break
		}
	}
	return p.best, p.proven
}

// Making is about what it takes to make all cuts once more.
func (p *Program) Making() int64 { return p.making }

// better says whether one of the last rounds gained something.
func (p *Program) better(m *relaxation, last *float64, stalled *int) bool {
	if v := m.lp.Value() * p.Unit; v > *last+float64(p.Target)*1e-6 {
		*last, *stalled = v, 0
	} else {
		*stalled++
	}
	return *stalled < stalledRounds
}

// add adds the rows of cuts; false where there are none, or they would be too many.
func (p *Program) add(found []*Cut) (added bool) {
	if int64(len(p.rows)+len(found)+8)*int64(len(p.List)) > mostNumbers {
		return false
	}
	for _, c := range found {
		p.making += int64(len(p.List)) * int64(8+len(c.Rows))
		if row := p.round(c); row != nil {
			p.cuts, p.rows = append(p.cuts, *c), append(p.rows, row)
			p.resting = append(p.resting, false)
			added = true
		}
	}
	return added
}

// stalledRounds is after how many rounds that gain nothing the rounds end.
const stalledRounds = 6
