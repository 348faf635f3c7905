package openstacks_test

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/openstacks"
)

// random is a matrix in which a customer needs each product once in some number of times.
func random(rng *rand.Rand, customers, products, in int) (needs [][]bool) {
	for range customers {
		row := make([]bool, products)
		for p := range row {
			row[p] = rng.IntN(in) == 0
		}
		needs = append(needs, row)
	}
	return needs
}

// judge fails unless a result is a permutation of all products, and at most as many are open as it
// says, in whatever way blocks are permuted; just as many, if it is exact.
func judge(t *testing.T, rng *rand.Rand, needs [][]bool, r openstacks.Result) {
	t.Helper()
	sorted := slices.Sorted(slices.Values(r.Order()))
	for i, p := range sorted {
		if i != p {
			t.Fatalf("no permutation: %v", r.Blocks)
		}
	}
	if len(sorted) != len(needs[0]) {
		t.Fatalf("%d products, not %d: %v", len(sorted), len(needs[0]), r.Blocks)
	}
	for range 4 {
		if got := openstacks.Open(needs, r.Order()); got > r.Open || r.Exact && got < r.Open {
			t.Fatalf("%d open, said %d: %v %v", got, r.Open, needs, r.Blocks)
		}
		for _, b := range r.Blocks {
			rng.Shuffle(len(b), func(i, j int) { b[i], b[j] = b[j], b[i] })
		}
	}
}

// ranks are few numbers, so that some are equal.
func ranks(rng *rand.Rand, customers int) (out []int64) {
	for range customers {
		out = append(out, rng.Int64N(int64(customers)))
	}
	return out
}

// Whatever the matrix, also with more customers than fit in a word, a result keeps what it says.
// A second run, and one without ranks, give the same number.
func TestResultsAreSequences(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 13))
	for range 100 {
		needs := random(rng, 1+rng.IntN(90), rng.IntN(30), 1+rng.IntN(20))
		rank := ranks(rng, len(needs))
		r := openstacks.Sequence(t.Context(), needs, rank)
		again := openstacks.Sequence(t.Context(), needs, rank)
		if fmt.Sprint(r) != fmt.Sprint(again) {
			t.Fatalf("%v, then %v", r, again)
		}
		judge(t, rng, needs, r)
		if plain := openstacks.Sequence(t.Context(), needs, nil); plain.Open != r.Open {
			t.Fatalf("%d open without ranks, %d with", plain.Open, r.Open)
		}
	}
}

// least goes through all sequences of products, and counts by the words of the definition.
func least(needs [][]bool, made []int) (best int) {
	if len(made) == len(needs[0]) {
		for at := range made {
			open := 0
			for _, row := range needs {
				begun := slices.ContainsFunc(made[:at+1], func(p int) bool { return row[p] })
				waits := slices.ContainsFunc(made[at:], func(p int) bool { return row[p] })
				if begun && waits {
					open++
				}
			}
			best = max(best, open)
		}
		return best
	}
	best = len(needs)
	for p := range needs[0] {
		if !slices.Contains(made, p) {
			best = min(best, least(needs, append(made[:len(made):len(made)], p)))
		}
	}
	return best
}

// On tiny matrices the value is the least over all sequences there are.
func TestAllSequencesOfFewProducts(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 13))
	for range 400 {
		needs := random(rng, 1+rng.IntN(9), 1+rng.IntN(7), 2+rng.IntN(3))
		rank := ranks(rng, len(needs))
		r := openstacks.Sequence(t.Context(), needs, rank)
		if want := least(needs, nil); r.Open != want || !r.Exact {
			t.Fatalf("%d open, exact %t; the least is %d: %v", r.Open, r.Exact, want, needs)
		}
		judge(t, rng, needs, r)
	}
}

// byRank closes customers in all ways that keep a limit, lowest rank first, and gives the first
// such way to the end. What is open during a block are all that wait for something before it, and
// of whom something has been made after it. So no permutation of a block matters.
func byRank(needs [][]bool, rank []int64, limit int, made []bool, blocks [][]int) [][]int {
	waits := func(row []bool, made []bool) (products []int) {
		for p, needed := range row {
			if needed && !made[p] {
				products = append(products, p)
			}
		}
		return products
	}
	var left []int
	for c, row := range needs {
		if waits(row, made) != nil {
			left = append(left, c)
		}
	}
	if left == nil {
		return blocks
	}
	slices.SortFunc(left, func(c, d int) int { return cmp.Compare(rank[c], rank[d]) })
	for _, c := range left {
		block := waits(needs[c], made)
		after := slices.Clone(made)
		for _, p := range block {
			after[p] = true
		}
		open := 0
		for _, d := range left {
			if begun(needs[d], after) {
				open++
			}
		}
		if open > limit {
			continue
		}
		way := byRank(needs, rank, limit, after, append(blocks[:len(blocks):len(blocks)], block))
		if way != nil {
			return way
		}
	}
	return nil
}

// begun says whether something that a customer needs has been made.
func begun(row, made []bool) bool {
	for p, needed := range row {
		if needed && made[p] {
			return true
		}
	}
	return false
}

// Of all orders in which customers can close with as few open, the one comes out that has lowest
// ranks first.
func TestLowRanksCloseFirst(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 13))
	moved := 0
	for range 1000 {
		needs := random(rng, 2+rng.IntN(6), 1+rng.IntN(9), 2+rng.IntN(4))
		for _, row := range needs {
			row[rng.IntN(len(row))] = true
		}
		var rank []int64
		for _, n := range rng.Perm(len(needs)) {
			rank = append(rank, int64(n))
		}
		r := openstacks.Sequence(t.Context(), needs, rank)
		want := byRank(needs, rank, r.Open, make([]bool, len(needs[0])), nil)
		var useless []int
		for p := range needs[0] {
			if !slices.ContainsFunc(needs, func(row []bool) bool { return row[p] }) {
				useless = append(useless, p)
			}
		}
		want[len(want)-1] = append(want[len(want)-1], useless...)
		if fmt.Sprint(r.Blocks) != fmt.Sprint(want) {
			t.Fatalf("%v, wanted %v: ranks %v, %v", r.Blocks, want, rank, needs)
		}
		plain := openstacks.Sequence(t.Context(), needs, nil)
		if fmt.Sprint(plain) != fmt.Sprint(r) {
			moved++
		}
	}
	if moved < 300 {
		t.Errorf("ranks changed %d sequences only", moved)
	}
}

// Customers that share nothing close by rank; equal ones as they come; the rest comes last.
func TestRankOfStrangers(t *testing.T) {
	needs := make([][]bool, 4)
	for c := range needs {
		needs[c] = make([]bool, 6)
		needs[c][c] = true
	}
	r := openstacks.Sequence(t.Context(), needs, []int64{3, 1, 4, 1})
	if fmt.Sprint(r) != "{[[1] [3] [0] [2 4 5]] 1 true}" {
		t.Error(r)
	}
}

// Work is enough for all of these matrices, whether hardly anybody shares a product or all do.
func TestMatricesOfManyCustomersAreProven(t *testing.T) {
	for _, customers := range []int{20, 30, 40, 50, 60} {
		for _, share := range []int{2, 3, 4, 6, 8} {
			rng := rand.New(rand.NewPCG(uint64(customers), uint64(share)))
			for _, products := range []int{customers / 2, customers, 2 * customers} {
				needs := make([][]bool, customers)
				for c := range needs {
					needs[c] = make([]bool, products)
				}
				for p := range products {
					for range 1 + rng.IntN(2*share-1) {
						needs[rng.IntN(customers)][p] = true
					}
				}
				r := openstacks.Sequence(t.Context(), needs, ranks(rng, customers))
				if !r.Exact {
					t.Errorf("%d customers, %d products for %d of them: %d is not proven",
						customers, products, share, r.Open)
				}
				judge(t, rng, needs, r)
			}
		}
	}
}

// Without time there still is a sequence, and it is proven where that needs no search.
func TestEndedContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	rng := rand.New(rand.NewPCG(4, 13))
	for range 100 {
		needs := random(rng, 1+rng.IntN(60), 1+rng.IntN(60), 1+rng.IntN(20))
		judge(t, rng, needs, openstacks.Sequence(ctx, needs, ranks(rng, len(needs))))
	}
}

func TestNothingToDo(t *testing.T) {
	for _, needs := range [][][]bool{nil, {}, {{}}, {{}, {}}, {{false, false}}} {
		r := openstacks.Sequence(t.Context(), needs, make([]int64, len(needs)))
		products := 0
		if len(needs) > 0 {
			products = len(needs[0])
		}
		if r.Open != 0 || !r.Exact || len(r.Order()) != products {
			t.Errorf("%v: %v", needs, r)
		}
	}
}
