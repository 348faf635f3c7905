package openstacks_test

import (
	"fmt"
	"math/bits"
	"strings"
	"testing"

	"rackwright/nest/openstacks"
)

// published are small instances with their optima, a line for each customer.
//
// The first three: E. Faggioli, C. A. Bentivoglio, Heuristic and exact methods for the cutting
// sequencing problem, European Journal of Operational Research 110(3) (1998) 564-575. The last is
// an order of a woodworking company: SCOOP consortium (sheet cutting and process optimization for
// furniture). Matrices and optima (benchmarks/instances; benchmarks/results/sweep_full.csv) are
// those of GitHub Alex-Linhares/MOSP_trough_SAT, commits 7988075 and b0f6fea, MIT licence,
// Copyright (c) 2026 Alexandre Linhares.
var published = []struct {
	name    string
	optimum int
	rows    string
}{
	{"p1010n1", 5, `
0010001000
1100100010
0001011010
0000001100
0011000100
0000000100
0010001001
0110010001
0101110011`},
	{"p1510n4", 7, `
110010000001101
011001001110010
111110000000000
000010110100000
001000010000011
000001110100000
011000001011100
000010010000001
000100100111111
000000000100000`},
	{"p1020n2", 8, `
0100010010
0010000000
0110000100
0000100010
0001101000
0000001000
0000001101
0000000101
1000000000
0000001000
0100000001
0110100000
0000000001
1000010100
0000001000
1001000000
1010100000
0011001010
0100000000
0010000000`},
	{"scoop-A_AP-9.d_3", 6, `
0001011000000000
0110000010000000
0011000000000000
0000110000000000
0000000100111000
0000000001100000
0000001010000000
0000000000000001
1000000000000000
1100000010000000
0000000010000000
0000000001111010
0000000000000001
0000000000000101
0110000000000000
0000000000000010
0000000000100110
0010100000000000
1000100000000000
0000001100000000`},
}

func TestPublishedOptima(t *testing.T) {
	for _, p := range published {
		var needs [][]bool
		for row := range strings.Lines(strings.TrimPrefix(p.rows, "\n")) {
			var wanted []bool
			for _, digit := range strings.TrimSpace(row) {
				wanted = append(wanted, digit == '1')
			}
			needs = append(needs, wanted)
		}
		exact(t, p.name, needs, p.optimum)
	}
}

// exact fails unless a sequence is proven to have so many open, and has.
func exact(t *testing.T, name string, needs [][]bool, optimum int) {
	t.Helper()
	r := openstacks.Sequence(t.Context(), needs, nil)
	if r.Open != optimum || !r.Exact || openstacks.Open(needs, r.Order()) != optimum {
		t.Errorf("%s: %d open, exact %t, counted %d; the optimum is %d", name, r.Open, r.Exact,
			openstacks.Open(needs, r.Order()), optimum)
	}
}

// graphOf has a product for each pair of customers that are neighbours.
func graphOf(customers int, near func(a, b int) bool) (needs [][]bool) {
	products := 0
	for b := range customers {
		for a := range b {
			if near(a, b) {
				products++
			}
		}
	}
	for range customers {
		needs = append(needs, make([]bool, products))
	}
	p := 0
	for b := range customers {
		for a := range b {
			if near(a, b) {
				needs[a][p], needs[b][p] = true, true
				p++
			}
		}
	}
	return needs
}

// As each graph is one of customers, of pathwidth w, w + 1 customers are open (bound.go). The
// widths are published ones.
//
//	hypercubes       the sum over m below d of m over m/2 rounded down: L. S. Chandran,
//	                 T. Kavitha, The treewidth and pathwidth of hypercubes, Discrete Mathematics
//	                 306 (2006) 359-365
//	square grids     the side: J. Ellis, R. Warren, Lower bounds on the pathwidth of some
//	                 grid-like graphs, Discrete Applied Mathematics 156 (2008) 545-555
//	complete, cycle, complete bipartite   n - 1, 2, the smaller side: textbook examples
func TestGraphsOfKnownPathwidth(t *testing.T) {
	for d, width := range []int{0, 1, 2, 4, 7, 13} {
		exact(t, fmt.Sprint("hypercube ", d), graphOf(1<<d, func(a, b int) bool {
			return bits.OnesCount(uint(a^b)) == 1
		}), width+min(d, 1))
	}
	for n := 2; n <= 6; n++ {
		exact(t, fmt.Sprint("grid ", n), graphOf(n*n, func(a, b int) bool {
			return b == a+n || b == a+1 && b%n != 0
		}), n+1)
	}
	for n := 3; n <= 30; n += 9 {
		exact(t, fmt.Sprint("complete ", n), graphOf(n, func(a, b int) bool { return true }), n)
		exact(t, fmt.Sprint("cycle ", n), graphOf(n, func(a, b int) bool {
			return b == a+1 || b-a == n-1
		}), 3)
		exact(t, fmt.Sprint("bipartite ", n), graphOf(n, func(a, b int) bool {
			return a%3 == 0 != (b%3 == 0)
		}), n/3+1)
	}
}
