package nest

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"testing"
)

// spread is for how many boards and parts, and for how many boards and commissions, a deal has
// pieces.
func spread(dealt [][]copyOf, commission func(int) int) (parts, commissions int) {
	for _, board := range dealt {
		p, c := map[int]bool{}, map[int]bool{}
		for _, k := range board {
			p[k.part], c[commission(k.part)] = true, true
		}
		parts, commissions = parts+len(p), commissions+len(c)
	}
	return parts, commissions
}

// randomDeal is a group of a few items and boards; some copies go short.
func randomDeal(r *rand.Rand) (g *group, boards [][]int, met []int, commission func(int) int) {
	g = &group{}
	parts := 0
	boards = make([][]int, 2+r.IntN(3))
	for range 1 + r.IntN(3) {
		var it item
		for range 1 + r.IntN(3) {
			for c := range 1 + r.IntN(4) {
				it.copies = append(it.copies, copyOf{parts, int64(c + 1)})
			}
			parts++
		}
		met = append(met, len(it.copies)-r.IntN(5)/4)
		for range met[len(g.items)] {
			b := r.IntN(len(boards))
			boards[b] = append(boards[b], len(g.items))
		}
		g.items = append(g.items, it) // the items of a board stand in order
	}
	few := 1 + r.IntN(3)
	whose := make([]int, parts)
	for p := range whose {
		whose[p] = r.IntN(few)
	}
	return g, boards, met, func(p int) int { return whose[p] }
}

// allDeals gives the least spread of all deals, by trying each.
func allDeals(g *group, boards [][]int, met []int, commission func(int) int) (best [2]int) {
	best = [2]int{1 << 30, 0}
	left := make([]map[int]int, len(g.items)) // copies of each part still to be dealt
	for n := range g.items {
		left[n] = map[int]int{}
		for _, c := range g.items[n].copies[:met[n]] {
			left[n][c.part]++
		}
	}
	seen := map[string]bool{}
	var rest func(b, place, last int, parts, whose map[int]bool, sum [2]int)
	rest = func(b, place, last int, parts, whose map[int]bool, sum [2]int) {
		if b == len(boards) {
			if cmp.Or(cmp.Compare(sum[0], best[0]), cmp.Compare(sum[1], best[1])) < 0 {
				best = sum
			}
			return
		}
		if place == len(boards[b]) {
			sum = [2]int{sum[0] + len(parts), sum[1] + len(whose)}
			if state := fmt.Sprint(b, left, sum); !seen[state] {
				seen[state] = true
				rest(b+1, 0, 0, map[int]bool{}, map[int]bool{}, sum)
			}
			return
		}
		n := boards[b][place]
		for p, k := range left[n] {
			if k == 0 || place > 0 && boards[b][place-1] == n && p < last {
				continue // blanks of one item on one board go to its parts in their order
			}
			c := commission(p)
			newPart, newWhose := !parts[p], !whose[c]
			left[n][p]--
			parts[p], whose[c] = true, true
			rest(b, place+1, p, parts, whose, sum)
			if left[n][p]++; newPart {
				delete(parts, p)
			}
			if newWhose {
				delete(whose, c)
			}
		}
	}
	rest(0, 0, 0, map[int]bool{}, map[int]bool{}, [2]int{})
	return best
}

// A deal gives every blank to a copy of its item, of the copies that are served first each to one,
// and of 1000 small deals all but a few are spread over as few boards as any deal can be.
func TestDealAgainstAllDeals(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	const deals = 1000
	parts, both := 0, 0
	for n := range deals {
		g, boards, met, commission := randomDeal(r)
		dealt := deal(boards, g.copiesBut(nil), met, commission, dealWork)
		served := map[copyOf]int{}
		for i := range g.items {
			for _, c := range g.items[i].copies[:met[i]] {
				served[c] = i
			}
		}
		for b, items := range boards {
			for k, i := range items {
				if of, left := served[dealt[b][k]]; !left || of != i {
					t.Fatalf("deal %d: board %d gives a blank of item %d to %v", n, b, i,
						dealt[b][k])
				}
				delete(served, dealt[b][k])
			}
		}
		best := allDeals(g, boards, met, commission)
		p, c := spread(dealt, commission)
		if p < best[0] || p == best[0] && c < best[1] {
			t.Fatalf("deal %d: %d, %d is better than the best of all, %v", n, p, c, best)
		}
		if p == best[0] {
			parts++
			both += btoi(c == best[1])
		}
	}
	t.Logf("of %d deals %d are the best by parts, %d also by commissions", deals, parts, both)
	if parts < deals*99/100 || both < deals*98/100 {
		t.Errorf("of %d deals only %d are the best by parts, %d also by commissions", deals, parts,
			both)
	}
}

// A deal of very many boards comes to an end.
func TestDealOfManyBoards(t *testing.T) {
	g, boards := &group{items: make([]item, 1)}, make([][]int, 20_000)
	for b := range boards {
		boards[b] = []int{0, 0, 0}
	}
	for p := range 7 * len(boards) {
		g.items[0].copies = append(g.items[0].copies, copyOf{p % 50, int64(p/50 + 1)})
	}
	met := 3 * len(boards)
	dealt := deal(boards, g.copiesBut(nil), []int{met}, func(p int) int { return p % 5 },
		dealWork)
	p, _ := spread(dealt, func(p int) int {
		return p % 5
	})
	if p > len(boards)+100 {
		t.Errorf("%d pairs of a board and a part, of boards that give three blanks each", p)
	}
}

// Where there are too many parts and boards to look at each pair, every copy is dealt once all the
// same, and most parts come from few boards.
func TestLargeDealsAreWhole(t *testing.T) {
	const many = 1100
	g := &group{items: []item{{}}}
	var boards [][]int
	for n := range many {
		for c := range 2 + n%3 {
			g.items[0].copies = append(g.items[0].copies, copyOf{n, int64(c + 1)})
		}
		boards = append(boards, make([]int, 2+n%3))
	}
	met := []int{len(g.items[0].copies)}
	if len(boards)*many <= mostPairs {
		t.Fatalf("%d pairs are not many", len(boards)*many)
	}
	dealt := deal(boards, g.copiesBut(nil), met, func(p int) int { return p % 7 },
		dealWork)
	seen := map[copyOf]bool{}
	for b, copies := range dealt {
		if len(copies) != len(boards[b]) {
			t.Fatalf("board %d has %d blanks and %d copies", b, len(boards[b]), len(copies))
		}
		for _, c := range copies {
			if seen[c] {
				t.Fatalf("%v is dealt twice", c)
			}
			seen[c] = true
		}
	}
	if parts, _ := spread(dealt, func(p int) int { return p % 7 }); len(seen) != met[0] ||
		parts > 2*many {
		t.Errorf("%d of %d copies dealt, %d pairs of boards and parts", len(seen), met[0], parts)
	}
}
