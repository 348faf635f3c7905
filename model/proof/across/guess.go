package across

import "slices"

// The outer search with guesses. Where a length or strip may start is cut into pieces, so that it
// meets the same defects all over each. At first what it is taken to give there is what it gives
// where it meets none, which is no less. The best layout by these values is no worse than the best
// there is. Of each of its lengths or strips whose value is a guess the piece is worked out, and
// where that was done, cut into smaller ones that are. Where no value of the best layout is a
// guess, it is as good as was thought, and none is better. Every round makes some guess better or
// some piece smaller, so the rounds end.

// parts into which a piece is cut.
const cutInto = 8

// roundsApart is after how many rounds one more guess on either side is worked out.
const roundsApart = 16

// guess is what is known of one size that starts from a to b.
type guess struct {
	a, b  int
	value int64
	known knowledge
}

type knowledge int

const (
	guessed knowledge = iota // by what it gives with no defect
	atMost                   // no less than it gives anywhere there
	exactly
)

// guesses are those of all sizes of one direction.
type guesses struct {
	of     [][]guess // by size, in order
	values [][]int64 // by size and place, where they are wanted so
	give   func(index, a, b int) int64
	events []gridSpan // where each defect begins and ends
	sizes  []int
	rounds int
	eager  bool // every piece is worked out at once, as that costs less than another round
}

// meets says whether a size that starts from a to b meets some defect, and whether it meets one not
// all over wherever it starts.
func (g *guesses) meets(a, b, size int) (some, apart bool) {
	for _, e := range g.events {
		if e.from < b+size && e.to > a {
			some, apart = true, apart || e.from > a || e.to < b+size
		}
	}
	return some, apart
}

// start guesses for all sizes that start in [first, last - size].
func (g *guesses) start(sizes []int, first, last int) {
	for len(g.of) < len(sizes) {
		g.of = append(g.of, nil)
	}
	g.sizes, g.rounds = sizes, 0
	for k, size := range sizes {
		list := g.of[k][:0]
		if g.values != nil {
			for x := range g.values[k] {
				g.values[k][x] = impossible
			}
		}
		if first+size <= last {
			free := g.give(k, -1, -1)
			cuts := g.cuts(size, first, last-size+1)
			for c := 1; c < len(cuts); c++ {
				one := guess{cuts[c-1], cuts[c] - 1, free, guessed}
				if some, _ := g.meets(one.a, one.b, size); !some {
					one.known = exactly
				} else if g.eager {
					g.better(k, &one)
				}
				list = append(list, one)
				g.set(k, one)
			}
		}
		g.of[k] = list
	}
}

// cuts are the places from first to last where a size begins or ceases to meet a defect, these two
// included.
func (g *guesses) cuts(size, first, last int) []int {
	cuts := []int{first, last}
	for _, e := range g.events {
		for _, x := range []int{e.from - size + 1, e.to} {
			if x > first && x < last {
				cuts = append(cuts, x)
			}
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// set fills in the value of one guess.
func (g *guesses) set(k int, one guess) {
	if g.values == nil {
		return
	}
	values := g.values[k]
	for x := one.a; x <= one.b; x++ {
		values[x] = one.value
	}
}

// learn works the guesses of a layout out; it says up to which place anything changed, -1 where all
// was known. Where the steps of the grid are many, the best layouts of the next rounds often differ
// from this one by a step; so the more rounds there were, the more guesses beside those are worked
// out.
func (g *guesses) learn(layout []placed) int {
	top, beside := -1, g.rounds/roundsApart
	g.rounds++
	for _, p := range layout {
		list := g.of[p.kind]
		n := slices.IndexFunc(list, func(one guess) bool { return one.b >= p.at })
		if list[n].known == exactly {
			continue
		}
		for i := min(n+beside, len(list)-1); i >= max(0, n-beside); i-- {
			if one := list[i]; one.known != exactly && one.value > impossible {
				g.refine(p.kind, i)
				top = max(top, one.b)
			}
		}
	}
	return top
}

// refine works out a guess, or cuts it where that was done.
func (g *guesses) refine(k, n int) {
	one := g.of[k][n]
	if one.known == guessed {
		g.better(k, &g.of[k][n])
		return
	}
	var smaller []guess
	for part, size := range pieces(one.a, one.b) {
		s := guess{part, part + size - 1, one.value, guessed}
		g.better(k, &s)
		smaller = append(smaller, s)
	}
	g.of[k] = slices.Replace(g.of[k], n, n+1, smaller...)
}

// pieces cuts [a, b] into at most cutInto parts: start and size of each.
func pieces(a, b int) func(yield func(int, int) bool) {
	return func(yield func(int, int) bool) {
		size := (b - a + cutInto) / cutInto
		for x := a; x <= b; x += size {
			if !yield(x, min(size, b-x+1)) {
				return
			}
		}
	}
}

// better works one guess out.
func (g *guesses) better(k int, one *guess) {
	one.value, one.known = min(one.value, g.give(k, one.a, one.b)), atMost
	if _, apart := g.meets(one.a, one.b, g.sizes[k]); one.a == one.b || !apart {
		one.known = exactly
	}
	g.set(k, *one)
}
