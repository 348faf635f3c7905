package benchmarks

import (
	"cmp"
	"slices"
)

// someDefects draws 1 to 4 defects on each of half the boards.
func (m *ripMonth) someDefects() (all []ripDefect) {
	with := m.rng.Perm(len(m.boards))[:len(m.boards)/2]
	slices.Sort(with)
	for _, n := range with {
		for range 1 + m.rng.IntN(4) {
			all = append(all, m.defectOf(n))
		}
	}
	return all
}

// defectRows writes defects, and gives half of all a span of the width.
func (m *ripMonth) defectRows(all []ripDefect) []byte {
	var narrower []int // indices of those that need not go from edge to edge
	for i := range all {
		if _, may := across[all[i].kind]; may {
			narrower = append(narrower, i)
		}
	}
	m.rng.Shuffle(len(narrower), func(i, j int) {
		narrower[i], narrower[j] = narrower[j], narrower[i]
	})
	for _, i := range narrower[:min(len(narrower), len(all)/2)] {
		m.span(&all[i])
	}
	var rows [][]string
	for _, d := range all {
		left, right := "", ""
		if d.right > 0 {
			left, right = m.write(d.left), m.write(d.right)
		}
		rows = append(rows, []string{boardID(d.board), m.write(d.from), m.write(d.to), d.kind, left,
			right})
	}
	return table([]string{"board", "from", "to", "kind", "left", "right"}, rows)
}

// defectOf draws a defect that goes from edge to edge and is no longer than a third of its board.
func (m *ripMonth) defectOf(board int) ripDefect {
	length, step := m.boards[board].length, m.size(4, 1)
	k := defectKinds[m.rng.IntN(len(defectKinds))]
	span := m.between(m.size(k.inch[0], k.mm[0]), min(m.size(k.inch[1], k.mm[1]), length/3), step)
	from := m.between(0, length-span, step)
	if k.atBoardEnd {
		from = (length - span) * m.rng.IntN(2)
	}
	return ripDefect{board: board, from: from, to: from + span, kind: k.kind}
}

// span draws where over the width a defect lies.
func (m *ripMonth) span(d *ripDefect) {
	b := m.boards[d.board]
	width := cmp.Or(b.width, m.woods[b.wood].full)
	step, k := m.size(4, 1), across[d.kind]
	wide := m.between(m.size(k.inch[0], k.mm[0]), m.size(k.inch[1], k.mm[1]), step)
	switch k.at {
	case "edge":
		d.left = (width - wide) * m.rng.IntN(2)
	case "middle": // within the middle third
		d.left = m.between(width/3, max(width/3, 2*width/3-wide), step)
	default:
		d.left = m.between(0, width-wide, step)
	}
	d.right = d.left + wide
}
