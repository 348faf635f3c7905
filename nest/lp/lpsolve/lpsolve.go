//go:build lpsolve

package lpsolve

/*
#cgo CFLAGS: -I/usr/include/lpsolve
#cgo LDFLAGS: -llpsolve55 -lcolamd -ldl -lm
#include <lp_lib.h>
*/
import "C"

import (
	"fmt"
	"math"
)

// Status tells how Solve ended, in lp_solve's numbers.
type Status int

// What Solve may find; other numbers are failures of lp_solve.
const (
	Optimal    Status = C.OPTIMAL
	Infeasible Status = C.INFEASIBLE
	Unbounded  Status = C.UNBOUNDED
)

func (s Status) String() string {
	switch s {
	case Optimal:
		return "optimal"
	case Infeasible:
		return "infeasible"
	case Unbounded:
		return "unbounded"
	}
	return fmt.Sprintf("lp_solve's status %d", int(s))
}

// Problem is a program to minimise. Make one with New and Free it.
type Problem struct{ lp *C.lprec }

// New returns a program without rows and columns.
func New() Problem {
	p := Problem{C.make_lp(0, 0)}
	if p.lp == nil {
		panic("lpsolve: no memory")
	}
	C.set_verbose(p.lp, C.CRITICAL)
	C.set_minim(p.lp)
	C.set_presolve(p.lp, C.PRESOLVE_SENSDUALS, 0) // nothing is removed, duals are kept
	C.set_mip_gap(p.lp, C.TRUE, 0)
	C.set_mip_gap(p.lp, C.FALSE, 0)
	return p
}

// Free gives the memory back.
func (p Problem) Free() { C.delete_lp(p.lp) }

// AddRow adds a row with bounds lo <= activity <= hi, either possibly infinite, and returns its
// number. Rows come before columns.
func (p Problem) AddRow(lo, hi float64) int {
	kind, side := C.int(C.GE), lo
	switch {
	case lo > hi:
		panic("lpsolve: AddRow: bounds cross")
	case lo == hi:
		kind = C.EQ
	case math.IsInf(lo, -1):
		kind, side = C.LE, hi
	}
	var at C.int // no entries yet, but lp_solve looks at the pointers
	var value C.REAL
	must(C.add_constraintex(p.lp, 0, &value, &at, kind, number(side)))
	if kind == C.GE && !math.IsInf(hi, 1) {
		must(C.set_rh_range(p.lp, C.get_Nrows(p.lp), number(hi-lo)))
	}
	return int(C.get_Nrows(p.lp)) - 1
}

// AddColumn adds a column with the given cost and bounds, and coefs[k] in row rows[k], each row
// named once, and returns its number.
func (p Problem) AddColumn(cost, lo, hi float64, whole bool, rows []int, coefs []float64) int {
	if lo > hi {
		panic("lpsolve: AddColumn: bounds cross")
	}
	at, values := []C.int{0}, []C.REAL{C.REAL(cost)} // row 0 is the objective
	for k, i := range rows {
		at, values = append(at, C.int(i+1)), append(values, C.REAL(coefs[k]))
	}
	must(C.add_columnex(p.lp, C.int(len(at)), &values[0], &at[0]))
	j := C.get_Ncolumns(p.lp)
	must(C.set_bounds(p.lp, j, number(lo), number(hi)))
	if whole {
		must(C.set_int(p.lp, j, C.TRUE))
	}
	return int(j) - 1
}

// Solve looks for a cheapest point.
func (p Problem) Solve() Status {
	s := Status(C.solve(p.lp))
	if s == Optimal && math.Abs(p.Value()) > 1e24 {
		// lp_solve puts a column without entries at its infinity of 1e30 and calls that optimal
		return Unbounded
	}
	return s
}

// Value is the cost of the point that Solve found.
func (p Problem) Value() float64 { return float64(C.get_objective(p.lp)) }

// X is the value of column j at that point.
func (p Problem) X(j int) float64 {
	return float64(C.get_var_primalresult(p.lp, C.get_Nrows(p.lp)+1+C.int(j)))
}

// Duals are the rates at which the value grows with the side of each row.
func (p Problem) Duals() []float64 {
	all := make([]C.REAL, 1+C.get_Nrows(p.lp)+C.get_Ncolumns(p.lp)) // the objective, rows, columns
	must(C.get_dual_solution(p.lp, &all[0]))
	duals := make([]float64, C.get_Nrows(p.lp))
	for i := range duals {
		duals[i] = float64(all[1+i])
	}
	return duals
}

// number is v in lp_solve's terms, where 1e30 is infinite.
func number(v float64) C.REAL { return C.REAL(math.Max(-1e30, math.Min(1e30, v))) }

func must(ok C.uchar) {
	if ok != C.TRUE {
		panic("lpsolve: call refused")
	}
}
