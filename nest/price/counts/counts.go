// Package counts keeps sets of counts, so many copies of each item, packed into words.
//
// A [Form] says where in the words the count of each item stands. Above each count is a guard bit.
// So the counts of many items are added, and set against their limits, a word at a time. A [Set]
// numbers those that were met, each once.
package counts

import "math/bits"

// Counts are copies of items, packed by a form.
type Counts []uint64

// Empty says whether there is no copy of any item.
func (c Counts) Empty() bool {
	for _, w := range c {
		if w != 0 {
			return false
		}
	}
	return true
}

// Form says how counts are packed, and how many copies of each item there may be.
type Form struct {
	fields []field // by item
	items  []int32 // those with a field
	words  int
	most   Counts // the limits
	guard  Counts // the guard bits
}

// field is where the count of an item stands; no bits: it is always 0.
type field struct {
	word, shift, bits int
	most              int64
}

// NewForm makes a form of so many copies of each item at most.
func NewForm(most []int64) *Form {
	f := &Form{fields: make([]field, len(most))}
	at := 64
	for i, n := range most {
		if n <= 0 {
			continue
		}
		width := bits.Len64(uint64(n))
		if at+width+1 > 64 {
			f.words++
			at = 0
		}
		f.items = append(f.items, int32(i))
		f.fields[i] = field{f.words - 1, at, width, n}
		at += width + 1
	}
	f.most, f.guard = f.None(), f.None()
	for _, e := range f.fields {
		if e.bits > 0 {
			f.most[e.word] |= uint64(e.most) << e.shift
			f.guard[e.word] |= 1 << (e.shift + e.bits)
		}
	}
	return f
}

// None is no copy of any item.
func (f *Form) None() Counts { return make(Counts, f.words) }

// Limits are as many copies of each item as there may be.
func (f *Form) Limits() Counts { return f.most }

// Most is how many copies of an item there may be.
func (f *Form) Most(item int) int64 { return f.fields[item].most }

// Of is how many copies of an item there are.
func (f *Form) Of(c Counts, item int) int64 {
	e := &f.fields[item]
	if e.bits == 0 {
		return 0
	}
	return int64(c[e.word] >> e.shift & (1<<e.bits - 1))
}

// One is one copy of an item of which there may be one.
func (f *Form) One(item int) Counts {
	c := f.None()
	c[f.fields[item].word] = 1 << f.fields[item].shift
	return c
}

// Add adds so many copies of an item, or takes them away: neither beyond its limit nor below 0.
func (f *Form) Add(c Counts, item int, n int64) {
	if e := &f.fields[item]; n != 0 {
		c[e.word] += uint64(n) << e.shift
	}
}

// Sum puts the sum of two into out, and says whether it is within the limits.
func (f *Form) Sum(out, a, b Counts) bool {
	var over uint64
	for w := range out {
		out[w] = a[w] + b[w]
		over |= f.guard[w] &^ (f.most[w] + f.guard[w] - out[w])
	}
	return over == 0
}

// Less puts a less b into out, and says whether a has all of b.
func (f *Form) Less(out, a, b Counts) bool {
	var under uint64
	for w := range out {
		d := a[w] + f.guard[w] - b[w]
		under |= f.guard[w] &^ d
		out[w] = d &^ f.guard[w]
	}
	return under == 0
}

// AppendTally appends the items of which there is a copy, ascending, and how many there are.
func (f *Form) AppendTally(items, copies []int32, c Counts) ([]int32, []int32) {
	for _, i := range f.items {
		if n := f.Of(c, int(i)); n > 0 {
			items, copies = append(items, i), append(copies, int32(n))
		}
	}
	return items, copies
}

// Value is what the copies are worth at a price of each item.
func (f *Form) Value(c Counts, prices []int64) (sum int64) {
	for _, i := range f.items {
		sum += f.Of(c, int(i)) * prices[i]
	}
	return sum
}

// All gives the copies of each item, by item.
func (f *Form) All(c Counts) []int64 {
	out := make([]int64, len(f.fields))
	for i := range out {
		out[i] = f.Of(c, i)
	}
	return out
}
