package patterns

// Pattern is what one board can be used for: how many of which items, and the greatest worth of all
// else of a layout that has these: its offcuts, less its rips. In ticks.
type Pattern struct {
	Takes []Take
	Worth int64
}

// Take is how many copies of an item a pattern has, at least one.
type Take struct {
	Item   int
	Copies int64
}

// Item is an item that a board holds: its number, its dual, and how many copies one board may give.
type Item struct {
	Number       int
	Dual, Demand int64
}

// Found keeps what layouts were found, by their vectors. Its zero value is ready for [Found.Start].
type Found struct {
	Vectors
	items   []Item
	best    []int64 // by vector the greatest value; never where none is found
	n, most int
}

const never = -1 << 63

// Start forgets all: then there may be so many patterns, of these items.
func (f *Found) Start(items []Item, most int) {
	f.items, f.best, f.n, f.most = items, f.best[:0], 0, most
	f.start(items)
}

// Add notes a layout of a vector, and its value: its pieces at their duals and all else. It is
// false where there are too many patterns.
func (f *Found) Add(vec int32, value int64) bool {
	if vec == 0 { // it has no piece
		return true
	}
	for int(vec) >= len(f.best) {
		f.best = append(f.best, never)
	}
	if f.best[vec] == never {
		f.n++
	}
	f.best[vec] = max(f.best[vec], value)
	return f.n <= f.most
}

// Patterns are those found.
func (f *Found) Patterns() []Pattern {
	out := make([]Pattern, 0, f.n)
	var takes []Take // of all of them
	for vec, value := range f.best {
		if value == never {
			continue
		}
		p, from := Pattern{Worth: value}, len(takes)
		for k, i := range f.items {
			if n := f.Count(int32(vec), k); n > 0 {
				takes = append(takes, Take{i.Number, n})
				p.Worth -= n * i.Dual
			}
		}
		p.Takes = takes[from:len(takes):len(takes)]
		out = append(out, p)
	}
	return out
}
