package drawing

import "slices"

// Labels beside the board. Each has a line to the place that it names. Where they would overlap
// they are moved apart, then stand in two rows, and then the most crowded go into the key. Lines
// never cross: all that stand at one height are in the order of their places.

// label is a text that belongs to a place.
type label struct {
	at   int // of its place, along the row
	on   int // where on the board its line ends
	text string
	bold bool
	wide int
	key  []KeyLine // where there is no room for it, unless they are there anyway
}

// standing says where a label stands: in which row, where its line passes the first, and where its
// middle is.
type standing struct{ row, pass, middle int }

// rows are where labels may stand.
type rows struct {
	from, end int // of a row
	gap       int // between texts
	far       int // how far a label may stand off its place
	most      int // of rows, 1 or 2
}

// stand places labels, sorted by their places; dropped are the indices of those without room.
func (r rows) stand(labels []label) (all map[int]standing, dropped []int) {
	var in []int
	for i := range labels {
		in = append(in, i)
	}
	for len(in) > 0 {
		for n := 1; n <= r.most; n++ {
			if all, ok := r.try(labels, in, n); ok {
				return all, dropped
			}
		}
		i := crowded(labels, in)
		dropped = append(dropped, in[i])
		in = slices.Delete(in, i, i+1)
	}
	slices.Sort(dropped)
	return nil, dropped
}

// crowded finds the label whose neighbours are nearest to each other, of equals the last.
func crowded(labels []label, in []int) int {
	best, least := len(in)-1, -1
	for i := 1; i+1 < len(in); i++ {
		if room := labels[in[i+1]].at - labels[in[i-1]].at; least < 0 || room <= least {
			best, least = i, room
		}
	}
	return best
}

// try places labels in n rows, turn by turn.
func (r rows) try(labels []label, in []int, n int) (map[int]standing, bool) {
	var want, wide []int
	for i, l := range in {
		w := labels[l].wide
		if i%n > 0 {
			w = 0 // only its line passes there
		}
		want, wide = append(want, labels[l].at), append(wide, w)
	}
	pass, ok := r.spread(want, wide)
	if !ok {
		return nil, false
	}
	out := map[int]standing{}
	for row := range n {
		var want, wide []int
		for i := row; i < len(in); i += n {
			want, wide = append(want, pass[i]), append(wide, labels[in[i]].wide)
		}
		middle, ok := r.spread(want, wide)
		if !ok {
			return nil, false
		}
		for i := row; i < len(in); i += n {
			out[in[i]] = standing{row, pass[i], middle[i/n]}
		}
	}
	return out, true
}

// spread moves middles apart so that texts keep their gap. They are moved from the one end and from
// the other, and stand in the middle: half of two that have room has room, too.
func (r rows) spread(want, wide []int) ([]int, bool) {
	apart := func(i int) int { return (wide[i]+wide[i-1])/2 + r.gap + 1 }
	least := func(i int) int { return r.from + (wide[i]+1)/2 }
	most := func(i int) int { return r.end - (wide[i]+1)/2 }
	push := func(x []int) {
		for i := range x {
			if x[i] = max(x[i], least(i)); i > 0 {
				x[i] = max(x[i], x[i-1]+apart(i))
			}
		}
	}
	pull := func(x []int) {
		for i := len(x) - 1; i >= 0; i-- {
			if x[i] = min(x[i], most(i)); i+1 < len(x) {
				x[i] = min(x[i], x[i+1]-apart(i+1))
			}
		}
	}
	up, down := slices.Clone(want), slices.Clone(want)
	push(up)
	pull(up)
	pull(down)
	push(down)
	for i := range up {
		if up[i] < least(i) || down[i] > most(i) {
			return nil, false
		}
		if up[i] = (up[i] + down[i]) / 2; up[i]-want[i] > r.far || want[i]-up[i] > r.far {
			return nil, false
		}
	}
	return up, true
}
