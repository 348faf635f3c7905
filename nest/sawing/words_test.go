package sawing

import (
	"math/rand/v2"
	"testing"
)

// spelled makes words of letters A, B, C and so on, each a unit.
func spelled(setting, lift int64, list ...string) *words {
	w := &words{setting: setting, lift: lift, letters: make([]stand, 26)}
	for u, text := range list {
		var word []letter
		for _, r := range text {
			word = append(word, letter(r-'A'))
		}
		w.units, w.word = append(w.units, u), append(w.word, word)
	}
	return w
}

// longestCommon is the length of the longest common subsequence, by the usual table.
func longestCommon(a, b []letter) int {
	table := make([][]int, len(a)+1)
	table[0] = make([]int, len(b)+1)
	for i := range a {
		table[i+1] = make([]int, len(b)+1)
		for k := range b {
			table[i+1][k+1] = max(table[i][k+1], table[i+1][k])
			if a[i] == b[k] {
				table[i+1][k+1] = table[i][k] + 1
			}
		}
	}
	return table[len(a)][len(b)]
}

// Where lifts cost nothing, the settings of two units are their shortest common supersequence,
// which is as long as both less their longest common subsequence.
//
// ABCBDAB and BDCABA have one of four, BCBA: T. H. Cormen, C. E. Leiserson, R. L. Rivest, C. Stein,
// Introduction to Algorithms, section 15.4, figure 15.8. So 7 + 6 - 4 settings will do. The same
// holds of any two words, here random ones.
func TestTwoUnitsAreACommonSupersequence(t *testing.T) {
	w := spelled(1, 0, "ABCBDAB", "BDCABA")
	if got := w.exact(none)[0].cost; got != 9 {
		t.Errorf("ABCBDAB and BDCABA take %d settings, 9 will do", got)
	}
	r := rand.New(rand.NewPCG(4, 15))
	for range 200 {
		var list [2]string
		for n := range list {
			before := rune(0)
			for range 1 + r.IntN(9) {
				if l := 'A' + rune(r.IntN(5)); l != before {
					list[n], before = list[n]+string(l), l
				}
			}
		}
		w := spelled(1, 0, list[0], list[1])
		want := int64(len(list[0]) + len(list[1]) - longestCommon(w.word[0], w.word[1]))
		if got := w.exact(none)[0].cost; got != want {
			t.Errorf("%v take %d settings, %d will do", list, got, want)
		}
	}
}

// Where settings cost nothing, each unit is lifted once.
func TestUnitsAreLiftedOnce(t *testing.T) {
	w := spelled(0, 1, "ABC", "CBA", "BAB", "A")
	if got := w.exact(none)[0].cost; got != 4 {
		t.Errorf("%d lifts of 4 units", got)
	}
}

// By hand: A for both, then B for both with one carried over, and a setting that is there at the
// start saves one.
func TestCarrying(t *testing.T) {
	w := spelled(3, 1, "AB", "AB")
	for start, want := range map[letter]int64{none: 2*3 + 3, 0: 3 + 3, 1: 2*3 + 3, 25: 2*3 + 3} {
		if got := w.solve(t.Context(), start)[0].cost; got != want {
			t.Errorf("from %d on it takes %d, want %d", start, got, want)
		}
	}
	// three settings, a unit through all of them: ABC, with B waiting for both
	w = spelled(3, 1, "ABC", "B")
	if got := w.solve(t.Context(), none)[0].cost; got != 3*3+3 {
		t.Errorf("it takes %d, want 12", got)
	}
}
