package benchmarks

import (
	"fmt"
	"slices"
	"strconv"
)

// part is a row of parts.csv on its way.
type part struct {
	commission, wood, length, qty int
	face                          string
	narrow                        bool
}

// parts draws the cut list, and with it the boards of the rack, whose length depends on what is
// wanted.
func (m *month) parts(names []string) []byte {
	var all []part
	for w := range m.woods {
		of := m.partsOf(w)
		all = append(all, of...)
		m.rack = append(m.rack, m.boards(w, of)...)
	}
	m.rng.Shuffle(len(m.rack), func(i, j int) { m.rack[i], m.rack[j] = m.rack[j], m.rack[i] })
	slices.SortStableFunc(all, func(a, b part) int { return a.commission - b.commission })
	var rows [][]string
	seen := map[string]int{}
	for _, p := range all {
		name, w := partNames[m.rng.IntN(len(partNames))], m.woods[p.wood]
		key := names[p.commission] + "/" + name
		if seen[key]++; seen[key] > 1 {
			name += " " + strconv.Itoa(seen[key])
		}
		width := w.full
		if p.narrow {
			width = w.narrow
		}
		rows = append(rows, []string{names[p.commission], name, strconv.Itoa(p.qty), w.material,
			m.write(p.length), width, w.thickness, w.section, p.face})
	}
	return table([]string{"commission", "part", "qty", "material", "length", "width", "thickness",
		"section", "face"}, rows)
}

// partsOf draws the parts of one group: first one of each length, then others of the same lengths
// until the pieces are enough. Each commission uses two of the five woods, and each wood serves
// four or five commissions.
func (m *month) partsOf(w int) []part {
	var users []int
	for c := range commissions {
		if (2*c+w)%5 < 2 {
			users = append(users, c)
		}
	}
	var lengths []int
	n := fewLengths
	if m.few {
		n += m.rng.IntN(4)
	} else {
		n = lengthsOfGroup + m.rng.IntN(8)
	}
	for len(lengths) < n {
		u := m.rng.IntN(1000)
		step := []int{m.step, m.size(8, 5), m.size(16, 10)}[m.rng.IntN(3)]
		l := (m.size(14*32, 360) + m.size(64*32, 1640)*u/1000*u/1000) / step * step
		if !slices.Contains(lengths, l) {
			lengths = append(lengths, l)
		}
	}
	var parts []part
	for left := piecesOfGroup + m.rng.IntN(9); left > 0; {
		p := part{wood: w, commission: users[len(parts)%len(users)], narrow: m.rng.IntN(6) == 0}
		p.qty = min(left, []int{1, 2, 2, 2, 3, 4, 4, 6}[m.rng.IntN(8)])
		p.face = []string{"show", "show", "show", "sound", "sound", "hidden"}[m.rng.IntN(6)]
		if n := len(parts); n < len(lengths) {
			p.length = lengths[n]
			p.qty = min(p.qty, left-(len(lengths)-1-n))
		} else {
			p.length = lengths[m.rng.IntN(len(lengths))]
		}
		left -= p.qty
		parts = append(parts, p)
	}
	return parts
}

// boards draws the rack boards of one wood: many short, few long, all together a share of the
// blanks wanted.
func (m *month) boards(w int, parts []part) []rackBoard {
	wanted := 0
	for _, p := range parts {
		wanted += p.qty * (p.length + m.length)
	}
	least := m.size(14*32, 360)
	extra := wanted*(rackPercent+m.rng.IntN(7))/100 - boardsOfGroup*least
	var weights [boardsOfGroup]int
	sum := 0
	for i := range weights {
		u := m.rng.IntN(1000)
		weights[i] = u * u / 1000
		sum += weights[i]
	}
	var boards []rackBoard
	for _, weight := range weights {
		boards = append(boards, rackBoard{w, (least + extra*weight/sum) / m.step * m.step})
	}
	return boards
}

func boardID(n int) string { return fmt.Sprintf("B%03d", n+1) }

func (m *month) rackRows() []byte {
	var rows [][]string
	for n, b := range m.rack {
		w := m.woods[b.wood]
		bin := fmt.Sprintf("%c%d", 'A'+b.wood, 1+m.rng.IntN(6))
		since := fmt.Sprintf("2026-%02d-%02d", 1+m.rng.IntN(12), 1+m.rng.IntN(28))
		rows = append(rows, []string{boardID(n), w.material, w.section, m.write(b.length), bin,
			since})
	}
	return table([]string{"board", "material", "section", "length", "bin", "since"}, rows)
}

// defects gives half the boards 1 to 4 defects each, none longer than a third of its board.
func (m *month) defects() []byte {
	var rows [][]string
	step := m.size(4, 1)
	with := m.rng.Perm(len(m.rack))[:len(m.rack)/2]
	slices.Sort(with)
	for _, n := range with {
		length := m.rack[n].length
		for range 1 + m.rng.IntN(4) {
			k := defectKinds[m.rng.IntN(len(defectKinds))]
			span := m.between(m.size(k.inch[0], k.mm[0]), min(m.size(k.inch[1], k.mm[1]), length/3),
				step)
			from := m.between(0, length-span, step)
			if k.atBoardEnd {
				from = (length - span) * m.rng.IntN(2)
			}
			rows = append(rows, []string{boardID(n), m.write(from), m.write(from + span), k.kind})
		}
	}
	return table([]string{"board", "from", "to", "kind"}, rows)
}

// yard offers five lengths of each wood; the price per length varies by 10 % up and down, and one
// length of each may run short.
func (m *month) yard() []byte {
	var rows [][]string
	for _, w := range m.woods {
		short := m.rng.IntN(2 * groups)
		for n := range 5 {
			length, cents := (8+2*n)*12*32, w.price*(8+2*n)*100
			if m.metric {
				length, cents = 2400+600*n, w.price*(24+6*n)*10
			}
			cents = cents * (900 + m.rng.IntN(201)) / 1000 / 100
			available := ""
			if n == short {
				available = strconv.Itoa(2 + m.rng.IntN(5))
			}
			rows = append(rows,
				[]string{w.material, w.section, m.write(length),
					fmt.Sprintf("%d.%02d", cents/100, cents%100), available})
		}
	}
	return table([]string{"material", "section", "length", "price", "available"}, rows)
}
