// Package assign matches things on the left with things on the right at the least cost; what is
// matched with nothing has a cost of its own.
//
// Start at [Solve]. Alike things are one vertex with copies, so that whom of them is matched is no
// question. The answer is exact, and says where another one of the same cost would differ.
package assign

import "fmt"

// With x the copies matched along an edge, the plan has the least
//
//	sum of cost x  +  sum over the vertices of  alone (copies - sum of x at the vertex)
//
// This is a flow of least cost: each left vertex sends its copies along its edges, and from there
// on to a sink, or to the sink at its cost alone. That a right vertex is reached saves its cost
// alone. The flow grows by successive shortest paths, a left vertex at a time:
//
//	reduced cost of an arc u > v = cost + potential u - potential v,   never below 0
//
// so that Dijkstra's method finds each path. When it ends at distance D, the potential of each
// vertex at a distance d below D falls by D - d. Of all whole flows the one found is the cheapest.
// See Ahuja, Magnanti and Orlin, Network Flows (1993), sections 9.7 and 12.4.
//
// Two flows of least cost differ by cycles of arcs that have room and a reduced cost of 0. An arc
// there and back is no such cycle. So an edge differs between them just if it lies in a strongly
// connected part of these arcs and is no bridge of it, directions apart.

// Vertex is something to be matched: how many there are of it, and what each costs that is matched
// with nothing.
type Vertex struct{ Copies, Alone int64 }

// Edge says that two vertices may be matched, and what that costs for each copy.
type Edge struct {
	Left, Right int
	Cost        int64
}

// Problem is what is to be matched. No two edges are between the same vertices, and no number is
// below 0.
type Problem struct {
	Left, Right []Vertex
	Edges       []Edge
}

// Plan is an answer: the copies matched along each edge, and the copies of each vertex that are
// matched with nothing. Where it varies, another plan of the same cost has more or fewer.
type Plan struct {
	Cost                    int64
	Matched                 []int64
	LeftAlone, RightAlone   []int64
	Varies                  []bool
	LeftVaries, RightVaries []bool
}

// most is what any cost may be, and any count of copies: sums stay in 64 bits.
const most = 1 << 30

// Solve finds a plan of least cost, the same whenever the problem is the same. The error says what
// of the problem is out of its limits.
func Solve(p *Problem) (*Plan, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	n := network(p)
	for l := range p.Left {
		for left := p.Left[l].Copies; left > 0; {
			left -= n.augment(l, left)
		}
	}
	return n.plan(p), nil
}

func (p *Problem) check() error {
	var copies int64
	for _, side := range [][]Vertex{p.Left, p.Right} {
		for _, v := range side {
			if v.Copies < 0 || v.Copies > most || v.Alone < 0 || v.Alone > most {
				return fmt.Errorf("a vertex has %d copies at %d each, not 0 to %d", v.Copies,
					v.Alone, most)
			}
			copies += v.Copies
		}
	}
	if copies > most {
		return fmt.Errorf("there are %d copies in all, more than %d", copies, most)
	}
	seen := map[[2]int]bool{}
	for _, e := range p.Edges {
		at := [2]int{e.Left, e.Right}
		switch {
		case e.Left < 0 || e.Left >= len(p.Left) || e.Right < 0 || e.Right >= len(p.Right):
			return fmt.Errorf("an edge is between vertices %v, which are not there", at)
		case e.Cost < 0 || e.Cost > most:
			return fmt.Errorf("an edge costs %d, not 0 to %d", e.Cost, most)
		case seen[at]:
			return fmt.Errorf("two edges are between vertices %v", at)
		}
		seen[at] = true
	}
	return nil
}
