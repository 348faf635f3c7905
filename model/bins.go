package model

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// Where offcuts go. An offcut goes into that one of the bins which takes its length and has room
// for one more board; of several into the one that takes the least length, of those into the first
// by name. Where there is none it goes back to the bin of its board. Boards are cut one after the
// other: a board leaves its bin before its own offcuts are put away.

// BinFacts are what [bins."name"] says of one bin.
type BinFacts struct {
	Longest *Length `json:"longest,omitempty"` // board that it takes; nil: any
	Most    *int64  `json:"most,omitempty"`    // boards that it has room for; nil: any number
}

// Bins are the bins of a shop, with how many boards lie in each. Make them with [Settings.BinsOf].
type Bins struct {
	list []bin          // as they are to be tried
	at   map[string]int // by what is the same in all spellings of a name
}

type bin struct {
	name    string
	longest Length
	room    int64 // for so many more boards; below 0 where too many are in it
}

// BinsOf are the bins that the settings name, with the boards of a rack in them.
func (s *Settings) BinsOf(rack []Board) *Bins {
	if len(s.Bins) == 0 {
		return &Bins{}
	}
	b := &Bins{at: map[string]int{}}
	for _, name := range slices.Sorted(maps.Keys(s.Bins)) {
		one := bin{name, LongestLength, MostBoards}
		setWhereGiven(&one.longest, s.Bins[name].Longest)
		setWhereGiven(&one.room, s.Bins[name].Most)
		b.list = append(b.list, one)
	}
	slices.SortStableFunc(b.list, func(a, b bin) int { return cmp.Compare(a.longest, b.longest) })
	for i := range b.list {
		b.at[FoldName(b.list[i].name)] = i
	}
	for i := range rack {
		b.put(rack[i].Bin, 1)
	}
	return b
}

// put notes that so many more boards lie in a bin, if it is one of these.
func (b *Bins) put(name string, boards int64) {
	if len(b.list) == 0 {
		return
	}
	if i, ok := b.at[FoldName(name)]; ok {
		b.list[i].room -= boards
	}
}

// TakeFrom takes a board out of a bin.
func (b *Bins) TakeFrom(name string) { b.put(name, -1) }

// PutAway puts a board of a length away and says into which bin: the one named where that has room
// for it, else one by the rule above, else that of the board that it came off.
func (b *Bins) PutAway(l Length, named, board string) string {
	into := board
	if i, ok := b.at[FoldName(named)]; ok && b.list[i].takes(l) {
		into = named
	} else if i := slices.IndexFunc(b.list, func(one bin) bool { return one.takes(l) }); i >= 0 {
		into = b.list[i].name
	}
	b.put(into, 1)
	return into
}

func (b *bin) takes(l Length) bool { return l <= b.longest && b.room > 0 }

// bin judges what is said of one bin.
func (r row) bin(prefix string, b BinFacts) {
	switch l := b.Longest; {
	case l == nil:
	case *l <= 0:
		r.wrong(CodeSetting, prefix+"longest",
			"no board is as short as "+showLength(*l, r.unit)+", so nothing could be put there",
			"write the longest board that the bin takes, or leave the key out")
	default:
		r.setting(prefix+"longest", *l)
	}
	if n := b.Most; n != nil && (*n < 0 || *n > MostBoards) {
		r.wrong(CodeSetting, prefix+"most",
			fmt.Sprintf("%d is not between 0 and %d", *n, MostBoards),
			"write how many boards the bin has room for, or leave the key out")
	}
}

// Count is what was found in a count of the bins.
type Count struct {
	Found []Found
	Bins  []string // those that were counted; nil: all
}

// In says whether a bin is one of some, or whether all are meant, where there are none.
func In(bins []string, bin string) bool {
	return bins == nil || slices.ContainsFunc(bins, func(b string) bool {
		return FoldName(b) == FoldName(bin)
	})
}

// BinNames are the bins that the settings name or in which a board lies, each once, by name. The
// empty name is among them if a board lies in none.
func (s *Settings) BinNames(rack []Board) (names []string) {
	all := slices.Sorted(maps.Keys(s.Bins))
	for i := range rack {
		all = append(all, rack[i].Bin)
	}
	seen := map[string]bool{}
	for _, name := range all { // as the settings write it, where they do
		if !seen[FoldName(name)] {
			seen[FoldName(name)] = true
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// BinByBin are the boards in some bins, or in all where bins is nil, in the order of a sheet to
// count by: bin by bin, those of one kind of wood together, the longest first.
func BinByBin(rack []Board, bins []string) (in []Board) {
	for i := range rack {
		if In(bins, rack[i].Bin) {
			in = append(in, rack[i])
		}
	}
	slices.SortStableFunc(in, func(a, b Board) int {
		return cmp.Or(cmp.Compare(a.Bin, b.Bin), cmp.Compare(a.Material, b.Material),
			cmp.Compare(a.Section, b.Section), cmp.Compare(b.Length, a.Length))
	})
	return in
}
