package across

import "encoding/binary"

// What a length or a strip gives hangs on where it lies only by the defects that it meets. So what
// is worked out of one is kept for all those of its size that meet the same defects, in the same
// place of it.

// known is what is known of some lengths, or strips, that are alike.
type known struct {
	worked, listed bool
	value          int64 // the most that one gives, where that is worked out
	need           int64 // all contents are listed that reach it
	list           []content
}

// alike finds what is known of a thing [lo, hi) of some kind, on an axis on which spot gives where
// a defect lies, and whether it meets no defect.
func (l *Lister) alike(kind, lo, hi int, spot func(p *gridPatch) (from, to int)) (k *known,
	clear bool) {
	key := binary.AppendVarint(l.key[:0], int64(kind))
	clear = true
	for n := range l.search.spots {
		from, to := spot(&l.search.spots[n])
		if from >= hi || to <= lo {
			continue
		}
		clear = false
		for _, v := range [3]int{n, max(from, lo) - lo, min(to, hi) - lo} {
			key = binary.AppendVarint(key, int64(v))
		}
	}
	l.key = key
	if k = l.known[string(key)]; k == nil {
		k = &known{}
		l.known[string(key)] = k
	}
	return k, clear
}

// length is what is known of a length at a place.
func (l *Lister) length(index, x int) (k *known, clear bool) {
	return l.alike(index, x, x+l.search.lengths[index], func(p *gridPatch) (from, to int) {
		return p.from, p.to
	})
}

// strip is what is known of a strip at a place. The kerf of a rip that trims a blank may lie beside
// the strip.
func (l *Lister) strip(index, y int) (k *known, clear bool) {
	r := &l.search
	return l.alike(index, y-r.rip, y+r.widths[index]+r.rip, func(p *gridPatch) (from, to int) {
		return p.left, p.right
	})
}

// most is the most that one gives, where it is not known yet as work finds it.
func (k *known) most(work func() int64) int64 {
	if !k.worked {
		k.worked, k.value = true, work()
	}
	return k.value
}

// contents gives what one can have in it, as far as it reaches the need. Where a list of it was not
// long enough, the next one goes as far again.
func (k *known) contents(need int64, work func(need int64) []content) []content {
	if k.listed && k.need <= need {
		return k.list
	}
	if k.listed {
		need -= min(k.need-need, 1<<60)
	}
	k.listed, k.need = true, max(need, -1<<61)
	k.list = work(k.need)
	sortContents(k.list)
	return k.list
}
