package assign

// varying says of each pair of arcs whether another flow of the same cost differs in it.
func (n *net) varying() []bool {
	part, varies := n.parts(), make([]bool, len(n.arcs)/2)
	within := func(pair int) bool { // one of its arcs has room and costs nothing, in one part
		a := 2 * pair
		return part[n.arcs[a].to] == part[n.arcs[a^1].to] &&
			(n.free(a) || n.free(a^1))
	}
	// low is the earliest vertex that can be come to from those below, but over a pair in use
	seen, low := make([]int, len(n.from)), make([]int, len(n.from))
	count := 0
	var walk func(v, over int)
	walk = func(v, over int) {
		count++
		seen[v], low[v] = count, count
		for _, a := range n.from[v] {
			pair, to := a/2, n.arcs[a].to
			if pair == over || !within(pair) {
				continue
			}
			if seen[to] > 0 {
				varies[pair] = true // it closes a ring
				low[v] = min(low[v], seen[to])
				continue
			}
			walk(to, pair)
			varies[pair] = low[to] <= seen[v]
			low[v] = min(low[v], low[to])
		}
	}
	for v := range n.from {
		if seen[v] == 0 {
			walk(v, -1)
		}
	}
	return varies
}

// free says whether more may flow along an arc at no cost.
func (n *net) free(a int) bool { return n.arcs[a].room > 0 && n.reduced(a) == 0 }

// parts numbers the strongly connected parts of the arcs along which more may flow at no cost, by
// Tarjan's method (Depth-first search and linear graph algorithms, SIAM J. Comput. 1, 1972).
func (n *net) parts() []int {
	part, low := make([]int, len(n.from)), make([]int, len(n.from))
	seen := make([]int, len(n.from))
	var stack []int
	count, parts := 0, 0
	var walk func(v int)
	walk = func(v int) {
		count++
		seen[v], low[v] = count, count
		stack = append(stack, v)
		for _, a := range n.from[v] {
			to := n.arcs[a].to
			if !n.free(a) || part[to] > 0 {
				continue
			}
			if seen[to] == 0 {
				walk(to)
				low[v] = min(low[v], low[to])
			}
			low[v] = min(low[v], seen[to])
		}
		if low[v] < seen[v] {
			return
		}
		for parts++; part[v] == 0; stack = stack[:len(stack)-1] {
			part[stack[len(stack)-1]] = parts
		}
	}
	for v := range n.from {
		if seen[v] == 0 {
			walk(v)
		}
	}
	return part
}
