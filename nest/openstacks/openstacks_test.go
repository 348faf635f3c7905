package openstacks_test

import (
	"context"
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

// judge fails unless a result is a permutation of all products with as many open as it says, and
// permuting its blocks keeps that.
func judge(t *testing.T, rng *rand.Rand, needs [][]bool, r openstacks.Result) {
	t.Helper()
	order := r.Order()
	if s := slices.Sorted(slices.Values(order)); len(s) != len(needs[0]) ||
		len(s) > 0 && (s[0] != 0 || len(slices.Compact(s)) != len(needs[0])) {
		t.Fatalf("no permutation: %v", r.Blocks)
	}
	if got := openstacks.Open(needs, order); got != r.Open {
		t.Fatalf("open %d, said %d: %v %v", got, r.Open, needs, r.Blocks)
	}
	for range 3 {
		for _, b := range r.Blocks {
			rng.Shuffle(len(b), func(i, j int) { b[i], b[j] = b[j], b[i] })
		}
		if got := openstacks.Open(needs, r.Order()); got > r.Open {
			t.Fatalf("open %d once blocks are permuted, not %d: %v", got, r.Open, r.Blocks)
		}
	}
}

// Whatever the matrix, each product comes once, and the number open is that of the definition.
func TestResultsAreSequences(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 13))
	for range 300 {
		needs := random(rng, 1+rng.IntN(90), rng.IntN(60), 1+rng.IntN(40))
		judge(t, rng, needs, openstacks.Sequence(context.Background(), needs, nil))
	}
}
