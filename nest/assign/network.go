package assign

import (
	"cmp"

	"rackwright/nest/internal/queue"
)

// arc is one direction of an edge of the network; the other one is beside it, at its number ^ 1.
type arc struct {
	to         int
	room, cost int64
}

// net is the network: left vertices, right ones, and the sink.
type net struct {
	arcs      []arc
	from      [][]int // arcs by the vertex that they leave
	potential []int64
	sink      int
}

func network(p *Problem) *net {
	sink := len(p.Left) + len(p.Right)
	n := &net{from: make([][]int, sink+1), potential: make([]int64, sink+1), sink: sink}
	var saved int64
	for _, e := range p.Edges {
		n.link(e.Left, len(p.Left)+e.Right, most, e.Cost)
	}
	for l, v := range p.Left {
		n.link(l, sink, v.Copies, v.Alone)
	}
	for r, v := range p.Right {
		n.link(len(p.Left)+r, sink, v.Copies, -v.Alone)
		saved = max(saved, v.Alone)
	}
	n.potential[sink] = -saved
	return n
}

func (n *net) link(from, to int, room, cost int64) {
	n.from[from] = append(n.from[from], len(n.arcs))
	n.from[to] = append(n.from[to], len(n.arcs)+1)
	n.arcs = append(n.arcs, arc{to, room, cost}, arc{from, 0, -cost})
}

// reduced is the reduced cost of an arc.
func (n *net) reduced(a int) int64 {
	return n.arcs[a].cost + n.potential[n.arcs[a^1].to] - n.potential[n.arcs[a].to]
}

// augment sends as many copies as may go, of so many, along a shortest path to the sink.
func (n *net) augment(left int, copies int64) int64 {
	distance, by := map[int]int64{left: 0}, map[int]int{}
	settled := map[int]bool{}
	next := queue.New(nearest, reached{0, left})
	for {
		at := next.Pop() // the sink is reached in any case: a copy may stay alone
		if settled[at.vertex] {
			continue
		}
		if settled[at.vertex] = true; at.vertex == n.sink {
			break
		}
		for _, a := range n.from[at.vertex] {
			to := n.arcs[a].to
			if n.arcs[a].room == 0 || settled[to] {
				continue
			}
			d := at.distance + n.reduced(a)
			if old, seen := distance[to]; !seen || d < old {
				distance[to], by[to] = d, a
				next.Push(reached{d, to})
			}
		}
	}
	for v := range settled {
		n.potential[v] += distance[v] - distance[n.sink]
	}
	for v := n.sink; v != left; v = n.arcs[by[v]^1].to {
		copies = min(copies, n.arcs[by[v]].room)
	}
	for v := n.sink; v != left; v = n.arcs[by[v]^1].to {
		n.arcs[by[v]].room -= copies
		n.arcs[by[v]^1].room += copies
	}
	return copies
}

// plan reads the plan off the arcs.
func (n *net) plan(p *Problem) *Plan {
	out := &Plan{}
	varies := n.varying()
	take := func(a int, counts *[]int64, vary *[]bool) int64 {
		*counts = append(*counts, n.arcs[2*a+1].room)
		*vary = append(*vary, varies[a])
		return n.arcs[2*a+1].room
	}
	for a, e := range p.Edges {
		out.Cost += e.Cost * take(a, &out.Matched, &out.Varies)
	}
	for l, v := range p.Left {
		out.Cost += v.Alone * take(len(p.Edges)+l, &out.LeftAlone, &out.LeftVaries)
	}
	for r, v := range p.Right {
		reached := take(len(p.Edges)+len(p.Left)+r, &out.RightAlone, &out.RightVaries)
		out.RightAlone[r] = v.Copies - reached
		out.Cost += v.Alone * (v.Copies - reached)
	}
	return out
}

// reached is a vertex that a path of some length leads to.
type reached struct {
	distance int64
	vertex   int
}

// nearest gives the nearest first; of those as near, the one with the lowest number.
func nearest(a, b reached) bool {
	return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.vertex, b.vertex)) < 0
}
