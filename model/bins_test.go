package model

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// binned are bins as "name longest most", and boards of the rack by their bins.
func binned(rack string, bins ...BinFacts) *Bins {
	s := DefaultSettings()
	s.Bins = map[string]BinFacts{}
	for i, b := range bins {
		s.Bins[fmt.Sprintf("b%d", i+1)] = b
	}
	var boards []Board
	for _, r := range rack {
		boards = append(boards, Board{Bin: " B" + string(r)})
	}
	return s.BinsOf(boards)
}

// The rules of the file's head, one by one; b1 takes 48 in, b2 24 in, b3 anything.
func TestPutAway(t *testing.T) {
	short, long := inch("24"), inch("48")
	two := new(int64(2))
	bins := []BinFacts{{&long, two}, {&short, two}, {nil, nil}}
	for _, c := range []struct{ what, rack, length, named, want string }{
		{"the least that takes it", "", "20", "", "b2"},
		{"just as long", "", "24", "", "b2"},
		{"too long for one", "", "24 1/64", "", "b1"},
		{"too long for two", "", "48 1/64", "", "b3"},
		{"one more has room", "2", "20", "", "b2"},
		{"full, spelled otherwise", "22", "20", "", "b1"},
		{"too full, and the next full", "22211", "20", "", "b3"},
		{"the one that is named", "", "20", "b1", "b1"},
		{"the one that is named, full", "11", "20", "b1", "b2"},
		{"the one that is named is too short", "", "30", "b2", "b1"},
		{"one that is none of these is named", "", "20", "floor", "b2"},
	} {
		if got := binned(c.rack, bins...).PutAway(inch(c.length), c.named, "x"); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
	full := []BinFacts{{&short, new(int64(0))}, {&long, new(int64(1))}}
	b := binned("", full...)
	if got := b.PutAway(inch("20"), "", "x") + b.PutAway(inch("20"), "", "x"); got != "b2x" {
		t.Errorf("the second goes to its board's bin: %s", got)
	}
	b.TakeFrom("B2")
	if got := b.PutAway(inch("20"), "", "x"); got != "b2" {
		t.Errorf("what is taken out makes room: %s", got)
	}
	if got := binned("").PutAway(inch("20"), "", "x"); got != "x" {
		t.Errorf("a shop without bins: %s", got)
	}
}

// No board goes where it is too long or there is no room, unless back to its board's bin, and no
// bin that takes less would have taken it.
func TestNoBinIsOverfilled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bins := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) BinFacts {
			var b BinFacts
			if rapid.Bool().Draw(t, "any length") {
				b.Longest = new(Length(rapid.IntRange(1, 9).Draw(t, "longest")))
			}
			if rapid.Bool().Draw(t, "any number") {
				b.Most = new(int64(rapid.IntRange(0, 3).Draw(t, "most")))
			}
			return b
		}), 0, 4).Draw(t, "bins")
		b, in := binned("", bins...), map[string]int64{}
		fits := func(i int, l Length) bool {
			return (bins[i].Longest == nil || l <= *bins[i].Longest) &&
				(bins[i].Most == nil || in[fmt.Sprintf("b%d", i+1)] < *bins[i].Most)
		}
		for _, n := range rapid.SliceOfN(rapid.IntRange(1, 9), 0, 12).Draw(t, "lengths") {
			got, l := b.PutAway(Length(n), "", "x"), Length(n)
			at := slices.Index([]string{"b1", "b2", "b3", "b4"}, got)
			if at >= 0 && !fits(at, l) {
				t.Fatalf("%s has no room for %d", got, l)
			}
			for i := range bins {
				if fits(i, l) && (at < 0 || bins[i].Longest != nil &&
					(bins[at].Longest == nil || *bins[i].Longest < *bins[at].Longest)) {
					t.Fatalf("%d goes to %s, and b%d takes it", l, got, i+1)
				}
			}
			in[got]++
		}
	})
}
