package openstacks

// Only which customers share a product matters, and the order in which they close.
//
// Customers are neighbours where some product is for both; N(c) is c and all its neighbours, and
// N(S) all that is in N(c) of some c in S. Once all products for the customers of S are made, N(S)
// has been opened. To close c next, what c still waits for is made, in any order. During the last
// of it those are open that are in N(S + c) and not in S, and during the others no more. So
//
//	value of an order c1, c2 ... = the most of |N(c1 ... ci) - (c1 ... ci-1)| over i
//
// Each sequence of products closes the customers in some order, and no product for c comes after
// c closes. So N(S + c) - S has been opened by then and is not closed: the value of that order is
// no more than that of the sequence. The best order gives the best sequence.
//
// G. Chu, P. J. Stuckey, Minimizing the maximum number of open stacks by customer search, CP 2009.

// graph has the customers that need something as nodes.
type graph struct {
	n     int
	near  []set // N(c); empty if c needs nothing
	wants []set // products, by customer
	live  set   // those who need something
	// biggest is how many customers that product of c has which has most; 0 if c needs nothing.
	biggest []int
}

func newGraph(needs [][]bool) *graph {
	g := &graph{n: len(needs), live: newSet(len(needs)), biggest: make([]int, len(needs))}
	for _, row := range needs {
		g.near = append(g.near, newSet(g.n))
		g.wants = append(g.wants, newSet(len(row)))
	}
	if g.n == 0 {
		return g
	}
	for p := range needs[0] {
		clients := newSet(g.n)
		for c := range needs {
			if needs[c][p] {
				clients.add(c)
				g.wants[c].add(p)
			}
		}
		for c := range clients.all {
			g.near[c].unite(clients)
			g.biggest[c] = max(g.biggest[c], clients.size())
		}
		g.live.unite(clients)
	}
	return g
}

// value is the most customers open at once if they close in this order.
func (g *graph) value(order []int) (most int) {
	closed, opened := newSet(g.n), newSet(g.n)
	for _, c := range order {
		opened.unite(g.near[c])
		most = max(most, opened.without(closed))
		closed.add(c)
	}
	return most
}
