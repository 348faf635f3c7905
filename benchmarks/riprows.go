package benchmarks

import (
	"fmt"
	"slices"
	"strconv"
)

func (m *ripMonth) partRows(names []string) []byte {
	all := slices.Clone(m.parts)
	slices.SortStableFunc(all, func(a, b ripPart) int { return a.commission - b.commission })
	var rows [][]string
	seen := map[string]int{}
	for _, p := range all {
		list, w := wideNames, &m.woods[p.wood]
		if p.narrow {
			list = narrowNames
		}
		name := list[m.rng.IntN(len(list))]
		key := names[p.commission] + "/" + name
		if seen[key]++; seen[key] > 1 {
			name += " " + strconv.Itoa(seen[key])
		}
		rows = append(rows, []string{names[p.commission], name, strconv.Itoa(p.qty), w.material,
			m.write(p.length), m.write(p.width), w.thickness, w.section, p.face})
	}
	return table([]string{"commission", "part", "qty", "material", "length", "width", "thickness",
		"section", "face"}, rows)
}

func (m *ripMonth) boardRows() []byte {
	var rows [][]string
	for n, b := range m.boards {
		w, width := &m.woods[b.wood], ""
		if b.width > 0 {
			width = m.write(b.width)
		}
		bin := fmt.Sprintf("%c%d", 'A'+b.wood, 1+m.rng.IntN(6))
		since := fmt.Sprintf("2026-%02d-%02d", 1+m.rng.IntN(12), 1+m.rng.IntN(28))
		rows = append(rows, []string{boardID(n), w.material, w.section, m.write(b.length), width,
			bin, since})
	}
	return table([]string{"board", "material", "section", "length", "width", "bin", "since"}, rows)
}

// yardRows offers five lengths of each wood, those of random widths in two widths each; prices go
// by area and vary by 10 % up and down.
func (m *ripMonth) yardRows() []byte {
	var rows [][]string
	for _, w := range m.woods {
		for n := range 5 {
			length, cents := (8+2*n)*12*32, w.price*(8+2*n)
			if m.metric {
				length, cents = 2400+600*n, w.price*(24+6*n)/10
			}
			widths := []int{0}
			if w.full == 0 {
				// the narrowest of all is among the shortest
				first := min(n, m.rng.IntN(len(w.widths)-1))
				widths = []int{w.widths[first], w.widths[first+1+m.rng.IntN(len(w.widths)-1-first)]}
			}
			for _, width := range widths {
				cost, cell := cents, ""
				if width > 0 {
					cost, cell = cents*width/w.widths[0], m.write(width)
				}
				cost = cost * (900 + m.rng.IntN(201)) / 1000
				rows = append(rows,
					[]string{w.material, w.section, m.write(length),
						fmt.Sprintf("%d.%02d", cost/100, cost%100), cell})
			}
		}
	}
	return table([]string{"material", "section", "length", "price", "width"}, rows)
}
