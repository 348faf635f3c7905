package across

import "slices"

// The outer search with guesses. The places where a length or strip may start are cut into ranges,
// so that it meets the same defects all over each range. At first it is taken to give in a range
// what it gives where it meets no defect, which is no less. The best layout by these values is no
// worse than the best layout there is.
//
// Of each length or strip in that layout whose value is a guess the range is worked out. Where that
// was done already, the range is cut into smaller ones, which are worked out. Where no value of the
// best layout is a guess, it is as good as was thought, and none is better. Every round makes some
// guess better or some range smaller, so the rounds end.

// cutInto is into how many parts a range is cut at most.
const cutInto = 8

// roundsPerGuess is after how many rounds one more guess on either side is worked out with those of
// the layout.
const roundsPerGuess = 16

// guess is what is known of one size that starts anywhere from a to b.
type guess struct {
	a, b  int
	value int64
	known knowledge
}

// knowledge is how far a guess is worked out.
type knowledge int

const (
	guessed knowledge = iota // the value is what the size gives with no defect
	atMost                   // worked out: no less than the size gives anywhere there
	exactly                  // worked out: what the size gives everywhere there
)

// guesses are those of all sizes of one direction.
type guesses struct {
	bySize [][]guess // in the order of their places
	places *places   // where they may start
	values [][]int64 // by size and place, where they are wanted so; else nil
	// what the size of an index gives that starts anywhere from a to b; a -1: where it meets no
	// defect
	give   func(index, a, b int) int64
	events []gridSpan // where each defect begins and ends
	sizes  []int
	rounds int
	eager  bool // every range is worked out at once, as that costs less than another round
	rough  bool // what give says where a size meets no defect may be more than it gives
}

// meets looks at a size that starts anywhere from a to b:
//
//	some     there is a start from which it meets a defect
//	apart    one of these defects leaves some of it clear from some start
func (g *guesses) meets(a, b, size int) (some, apart bool) {
	for _, e := range g.events {
		if e.from < b+size && e.to > a {
			some, apart = true, apart || e.from > a || e.to < b+size
		}
	}
	return some, apart
}

// start guesses for all sizes, which lie in [lo, hi].
func (g *guesses) start(sizes []int, lo, hi int) {
	for len(g.bySize) < len(sizes) {
		g.bySize = append(g.bySize, nil)
	}
	g.sizes, g.rounds = sizes, 0
	for k, size := range sizes {
		list := g.bySize[k][:0]
		if lo+size <= hi {
			free := g.give(k, -1, -1)
			cuts := g.cuts(size, lo, hi-size+1)
			for c := 1; c < len(cuts); c++ {
				one := guess{value: free, known: guessed}
				if !g.narrow(&one, cuts[c-1], cuts[c]-1) {
					continue
				}
				if some, _ := g.meets(one.a, one.b, size); !some && !g.rough {
					one.known = exactly
				} else if g.eager {
					g.workOut(k, &one)
				}
				list = append(list, one)
			}
		}
		if g.bySize[k] = list; g.values != nil {
			g.fillValues(k)
		}
	}
}

// narrow makes a guess one for the places from a to b; false where there is none.
func (g *guesses) narrow(one *guess, a, b int) bool {
	first, end := g.places.within(a, b)
	if first >= end {
		return false
	}
	one.a, one.b = int(g.places.at[first]), int(g.places.at[end-1])
	return true
}

// cuts are the points from lo to hi where a size begins or ceases to meet a defect, these two
// included.
func (g *guesses) cuts(size, lo, hi int) []int {
	cuts := []int{lo, hi}
	for _, e := range g.events {
		for _, x := range []int{e.from - size + 1, e.to} {
			if x > lo && x < hi {
				cuts = append(cuts, x)
			}
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// fillValues fills in the values of one size.
func (g *guesses) fillValues(k int) {
	for n := range g.values[k] {
		g.values[k][n] = impossible
	}
	for _, one := range g.bySize[k] {
		g.setValues(k, one)
	}
}

// setValues fills in the value of one guess.
func (g *guesses) setValues(k int, one guess) {
	if g.values == nil {
		return
	}
	for n, end := g.places.within(one.a, one.b); n < end; n++ {
		g.values[k][n] = one.value
	}
}

// learn works out the guesses of a layout. It says up to which place anything changed, -1 where all
// was known. Where the steps of the grid are many, the best layout of the next round often differs
// from this one by a step. So the more rounds there were, the more guesses beside those are worked
// out.
func (g *guesses) learn(layout []placedAt) int {
	top, beside := -1, g.rounds/roundsPerGuess
	g.rounds++
	for _, p := range layout {
		list := g.bySize[p.kind]
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

// refine works out a guess, or cuts its range where that was done.
func (g *guesses) refine(k, n int) {
	one := g.bySize[k][n]
	if one.known == guessed {
		g.workOut(k, &g.bySize[k][n])
		return
	}
	var smaller []guess
	first, end := g.places.within(one.a, one.b)
	for at := range slices.Chunk(g.places.at[first:end], (end-first+cutInto-1)/cutInto) {
		s := guess{int(at[0]), int(at[len(at)-1]), one.value, guessed}
		g.workOut(k, &s)
		smaller = append(smaller, s)
	}
	g.bySize[k] = slices.Replace(g.bySize[k], n, n+1, smaller...)
}

// workOut works one guess out.
func (g *guesses) workOut(k int, one *guess) {
	one.value, one.known = min(one.value, g.give(k, one.a, one.b)), atMost
	if _, apart := g.meets(one.a, one.b, g.sizes[k]); one.a == one.b || !apart {
		one.known = exactly
	}
	g.setValues(k, *one)
}
