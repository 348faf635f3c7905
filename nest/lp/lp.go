// Package lp solves linear programs
//
//	minimise  sum c_j x_j   subject to   lo_i <= sum_j a_ij x_j <= hi_i   for each row i,
//	                                     lo_j <= x_j <= hi_j              for each column j,
//
// any bound possibly infinite, again and again while columns are added and bounds and costs change:
// the shape of column generation and of branching on it. Build a Problem, Solve it, read Value, X
// and Dual, change it, Solve again; each Solve starts from the basis where the last one ended.
//
// Same calls give the same results: no clock, no goroutine, and what looks random comes from a
// fixed start.
//
// Row i is an equation sum_j a_ij x_j - s_i = 0 with a variable s_i, its activity, that has the
// row's bounds. Variables are numbered activities first, then columns. A basis gives each row one
// variable; the others rest at a bound (a free one at zero), the basic ones follow from the
// equations. See solve.go for the method.
package lp

import (
	"fmt"
	"math"
	"slices"
)

// Status tells how Solve ended.
type Status int

// What Solve may find.
const (
	Optimal    Status = iota
	Infeasible        // no point obeys all rows and bounds
	Unbounded         // the value falls without end
	Stalled           // the limit of iterations came first, or Stop
)

func (s Status) String() string {
	if s < Optimal || s > Stalled {
		return fmt.Sprintf("Status(%d)", int(s))
	}
	return [...]string{"optimal", "infeasible", "unbounded", "stalled"}[s]
}

// Problem is a linear program and the basis it was last solved with. It is not safe for concurrent
// use; clones are independent of each other. Make one with New.
type Problem struct {
	// Stop is asked every few iterations of Solve: once it is true Solve ends as Stalled. Nil means
	// never. Clones have the same.
	Stop func() bool

	m, n  int
	start []int32 // column j has entries start[j] to start[j+1]
	cells []entry
	rows  [][]entry // the same numbers by rows
	// Powers of two, see scale.go; 1 before the first Solve.
	rowScale, colScale []float64

	// By variable: true data, and what the pivots work with (see solve.go).
	lo, hi, cost             []float64
	workLo, workHi, workCost []float64
	x, d                     []float64 // value; reduced cost, 0 for basic ones
	weight, dualWeight       []float64 // of edges (steepest.go), of nonbasic ones and of basic ones
	way                      []way
	place                    []int32 // position in the basis, or -1
	// variable at each basis position; nil before the first Solve
	head                        []int32
	factor                      factor
	factored                    bool
	costExponents, costsNonzero int     // for costScale
	largest                     float64 // magnitude of a coefficient

	// Of the pivot at hand.
	alpha, rho []float64 // column of B^-1 A; row of B^-1
	tau        []float64 // B^-1 rho
	nz, nzRow  []int32   // where alpha and rho are not zero
	row        []float64 // row of B^-1 A by variable, valid at rowAt
	rowAt      []int32
	stamp      []int32
	stamped    int32
	scratch    []float64
	candidates []candidate

	rng         uint64
	iterations  int
	bland       bool    // safe and slow rules
	calm        bool    // no more perturbing
	tolerance   float64 // feasTol, or more where the basis is too bad for it
	boundsMoved bool
	priced      bool // d holds for the true costs and the basis as it is
	steep       bool // dualWeight holds for the basis as it is
	value       float64
	work        int64
	pivots      int64

	recorder *recorder // nil as a rule
	number   uint32    // there
}

// way is the set of directions in which a nonbasic variable may go; 0 for basic and fixed ones.
type way uint8

const (
	up   way = 1
	down way = 2
)

// New returns a program without rows and columns.
func New() *Problem {
	p := &Problem{start: []int32{0}, rng: 0x9e3779b97f4a7c15}
	recording.Load().begin(p)
	return p
}

// AddRow adds a row with bounds lo <= activity <= hi, either possibly infinite, and returns its
// number. Rows come before the first Solve; later AddRow panics.
func (p *Problem) AddRow(lo, hi float64) int {
	if p.head != nil {
		panic("lp: AddRow after Solve")
	}
	p.recorder.call('R', p, nil, lo, hi)
	i := p.m
	p.lo, p.hi = slices.Insert(p.lo, i, number(lo)), slices.Insert(p.hi, i, number(hi))
	p.cost = slices.Insert(p.cost, i, 0)
	p.rows, p.rowScale = append(p.rows, nil), append(p.rowScale, 1)
	p.m++
	return i
}

// AddColumn adds a column with the given cost and bounds, and coefs[k] in row rows[k] (a row named
// twice gets the sum), and returns its number. It enters outside the basis, at its bound nearest
// zero. The slices are copied.
func (p *Problem) AddColumn(cost, lo, hi float64, rows []int, coefs []float64) int {
	if len(rows) != len(coefs) {
		panic("lp: AddColumn: rows and coefs differ in length")
	}
	if p.recorder != nil {
		p.recorder.call('A', p, append([]int{len(rows)}, rows...),
			append([]float64{cost, lo, hi}, coefs...)...)
	}
	j := p.n
	from := p.start[j]
	for k, i := range rows {
		p.addCell(from, int32(j), int32(i), finite(coefs[k])*p.rowScale[i])
	}
	p.start, p.colScale = append(p.start, int32(len(p.cells))), append(p.colScale, 1)
	p.n++
	p.lo, p.hi, p.cost = append(p.lo, 0), append(p.hi, 0), append(p.cost, 0)
	if p.head != nil {
		p.scaleNewest(j)
		p.extend(1)
	}
	p.scaleCost(p.m+j, finite(cost)*p.colScale[j])
	p.setBounds(int32(p.m+j), lo/p.colScale[j], hi/p.colScale[j])
	return j
}

// addCell puts a coefficient of the newest column, whose cells begin at from, into both forms.
func (p *Problem) addCell(from, j, i int32, v float64) {
	row := p.rows[i]
	if last := len(row) - 1; last >= 0 && row[last].at == j {
		row[last].val += v
		for c := range p.cells[from:] {
			if cell := &p.cells[int(from)+c]; cell.at == i {
				cell.val += v
				p.largest = max(p.largest, math.Abs(cell.val))
			}
		}
		return
	}
	if v != 0 {
		p.rows[i] = append(row, entry{j, v})
		p.cells = append(p.cells, entry{i, v})
		p.largest = max(p.largest, math.Abs(v))
	}
}

// SetRow changes the bounds of row i.
func (p *Problem) SetRow(i int, lo, hi float64) {
	if i < 0 || i >= p.m {
		panic("lp: SetRow: no such row")
	}
	p.recorder.call('r', p, []int{i}, lo, hi)
	p.setBounds(int32(i), lo*p.rowScale[i], hi*p.rowScale[i])
}

// SetColumn changes the bounds of column j.
func (p *Problem) SetColumn(j int, lo, hi float64) {
	v := p.variable(j)
	p.recorder.call('c', p, []int{j}, lo, hi)
	p.setBounds(v, lo/p.colScale[j], hi/p.colScale[j])
}

func (p *Problem) setBounds(v int32, lo, hi float64) {
	p.lo[v], p.hi[v] = number(lo), number(hi)
	if p.head != nil {
		had := p.way[v]
		p.settle(v)
		if p.priced && had == 0 && p.way[v] != 0 && int(v) >= p.m {
			p.d[v] = p.costs(int(v) - p.m)
		}
	}
}

// SetCost changes the cost of column j.
func (p *Problem) SetCost(j int, cost float64) {
	v := p.variable(j)
	p.recorder.call('o', p, []int{j}, cost)
	p.scaleCost(int(v), finite(cost)*p.colScale[j])
	p.priced = false
}

// Value returns the cost of the solution that the last Solve found.
func (p *Problem) Value() float64 { return p.value }

// X returns the value of column j in the solution that the last Solve found.
func (p *Problem) X(j int) float64 {
	if v := p.variable(j); p.head != nil {
		return p.x[v] * p.colScale[j]
	}
	return 0
}

// Dual returns the rate at which the value grows with the right-hand side of row i. It is at least
// 0 where the lower bound binds, at most 0 where the upper one does, and 0 where neither does;
// exactly so for rows with one bound.
func (p *Problem) Dual(i int) float64 {
	if i < 0 || i >= p.m {
		panic("lp: Dual: no such row")
	}
	if p.head == nil {
		return 0
	}
	return p.d[i] * p.rowScale[i]
}

// ReducedCost returns cost_j - sum_i a_ij Dual(i): at least 0 for a column at its lower bound, at
// most 0 at its upper bound, 0 in between.
func (p *Problem) ReducedCost(j int) float64 {
	v := p.variable(j)
	if p.head != nil && p.place[v] >= 0 {
		return 0
	}
	if p.head == nil {
		return p.cost[v] / p.colScale[j]
	}
	return p.costs(j) / p.colScale[j]
}

// costs is the reduced cost of a column by the duals of the last Solve, scaled.
func (p *Problem) costs(j int) float64 {
	return less(p.cost[p.m+j], p.column(j), p.d)
}

// Work returns a count of basic operations done so far, about one a number touched. It never falls,
// and the same calls give the same count, so it serves as a limit that does not depend on the
// machine.
func (p *Problem) Work() int64 { return p.work + p.factor.work }

// Pivots returns how often a variable has entered the basis or changed bound so far, in all Solves.
func (p *Problem) Pivots() int64 { return p.pivots + int64(p.iterations) }

func (p *Problem) column(j int) []entry { return p.cells[p.start[j]:p.start[j+1]] }

func (p *Problem) variable(j int) int32 {
	if j < 0 || j >= p.n {
		panic("lp: no such column")
	}
	return int32(p.m + j)
}

func number(v float64) float64 {
	if math.IsNaN(v) {
		panic("lp: not a number")
	}
	return v
}

func finite(v float64) float64 {
	if math.IsInf(number(v), 0) {
		panic("lp: infinite cost or coefficient")
	}
	return v
}
