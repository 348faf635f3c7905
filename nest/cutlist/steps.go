package cutlist

// The numbers of the cuts, level by level, each level in the order of the board. Each cut has a
// number of its own, but dust less than a kerf wide at an edge goes with the next cut of that
// piece.

// number numbers the cuts of a board, and lists them by what is in hand.
func (t *tiler) number(board line) {
	last, pass := 0, 0 // cut
	for level := []line{board}; len(level) > 0; {
		var next []line
		pass++
		for _, l := range level {
			if n := t.steps(l, last); n > 0 {
				t.units = append(t.units, t.unit(l, pass, last, n))
				last += n
			}
			for _, x := range l {
				if x.inside != nil {
					next = append(next, x.inside)
				}
			}
		}
		level = next
	}
	for n := range t.rows {
		t.rows[n].Step = max(1, t.rows[n].Step)
	}
}

// steps numbers the cuts of a line after those made before, and says how many they are:
//
//   - Each thing has the number of the cut that frees its far side.
//   - The last thing has the number of the last cut.
//   - A kerf goes with the thing before it.
func (t *tiler) steps(l line, before int) int {
	if len(l) == 1 && !l[0].kerf {
		return 0
	}
	step, steps := 0, make([]int, len(l))
	for n, x := range l {
		if !x.kerf || n > 0 && l[n-1].kerf {
			step++
		}
		steps[n] = max(1, step)
	}
	if !l[len(l)-1].kerf && step > 1 {
		step--
	}
	step = max(1, step)
	for n, x := range l {
		for i := x.rows[0]; i < x.rows[1]; i++ {
			t.rows[i].Step = before + min(steps[n], step)
		}
	}
	return step
}
