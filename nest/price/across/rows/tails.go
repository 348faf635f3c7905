package rows

import "rackwright/nest/price"

// Tails bound what may follow in a row where so much room is left. By n, for things from the nth
// on,
//
//	t_n(room) = max of  end(room),  t_n+1(room),
//	                    value of thing n + t_n(room - size),  at most so many times
//
// Room is rounded up to steps, sizes are rounded down.
type Tails struct {
	step int64
	by   [][]int64
}

// mostTailSteps is how many steps of room tails tell apart.
const mostTailSteps = 4096

// Kind is a thing that a row may have a number of.
type Kind struct {
	Size  int64 // a kerf behind it included
	Value int64
	Most  int64 // how many a row may have
}

// NewTails makes the tails of kinds in so much room. All sizes are multiples of a grid. end is the
// most that a row is worth behind its last thing; it rises with the room.
func NewTails(kinds []Kind, room, grid int64, end func(room int64) int64) *Tails {
	step := max(1, grid)
	step *= (room/step + mostTailSteps) / mostTailSteps
	for n := range kinds {
		step = min(step, kinds[n].Size) // else it would be rounded down to nothing
	}
	t := &Tails{step: step, by: make([][]int64, len(kinds)+1)}
	last := int((room + step - 1) / step)
	f := make([]int64, last+1)
	for b := range f {
		f[b] = end(int64(b) * step)
	}
	t.by[len(kinds)] = f
	for n := len(kinds) - 1; n >= 0; n-- {
		k := &kinds[n]
		before, f := t.by[n+1], make([]int64, last+1)
		copy(f, before)
		add(f, before, int(k.Size/step), k)
		t.by[n] = f
	}
	return t
}

// add lets rows have a kind as well.
func add(f, before []int64, size int, k *Kind) {
	if price.None(k.Value) {
		return
	}
	for b := size; b < len(f); b++ {
		if k.Most >= int64(len(f)/size) {
			f[b] = max(f[b], f[b-size]+k.Value)
			continue
		}
		for c := 1; int64(c) <= k.Most && c*size <= b; c++ {
			f[b] = max(f[b], before[b-c*size]+int64(c)*k.Value)
		}
	}
}

// Most is the most that things from the nth on, and what is behind them, are worth in so much room.
func (t *Tails) Most(n int, room int64) int64 { return t.by[n][(room+t.step-1)/t.step] }

// Steps is about what it took to make them.
func (t *Tails) Steps() int64 { return int64(len(t.by) * len(t.by[0])) }
