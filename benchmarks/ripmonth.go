package benchmarks

import (
	"cmp"
	"fmt"
	"slices"
)

const (
	narrowPercent     = 40 // of the pieces of a group: those less than half as wide as a board
	measuredPercent   = 25 // of the boards of a section: those whose width is measured
	boardsOfRipGroup  = 24 // where there are as many pieces as in
	piecesOfRipMonth  = 400
	mostBoardsOfGroup = 40 // where it is not said how many
)

// ripMonth is a month with rips being made.
type ripMonth struct {
	*month
	RipSize
	woods  []ripWood
	parts  []ripPart
	boards []ripBoard
}

type ripPart struct {
	part
	width int
}

type ripBoard struct{ wood, length, width int } // width 0: that of its section

type ripDefect struct {
	board, from, to, left, right int // right 0: from edge to edge
	kind                         string
}

// RipSize says how large a month with rips is; the zero value: 400 pieces, as in [RipMonth].
type RipSize struct {
	Pieces int
	Boards int // on the rack; 0: 24 a group for 400 pieces, never above 40
	Sizes  int // how many times as many lengths and rows of the cut list there are; 0: once
}

// Fault says what of it cannot be made, or nil.
func (s RipSize) Fault() error {
	switch {
	case s.Pieces < 100 || s.Pieces > 20_000:
		return fmt.Errorf("%d pieces: write 100 to 20000, such as 400 or 1000", s.Pieces)
	case s.Boards != 0 && (s.Boards < groups || s.Boards > mostBoards):
		return fmt.Errorf("%d boards: write %d to %d", s.Boards, groups, mostBoards)
	case s.Sizes < 0 || s.Sizes > mostSizes:
		return fmt.Errorf("%d times as many sizes: write 1 to %d", s.Sizes, mostSizes)
	}
	return nil
}

// mostSizes is how many times as many lengths a month may have.
const mostSizes = 5

// RipMonth gives the files of a month in which ripping matters:
//
//   - that many pieces in 5 groups, one of them hardwood of random widths;
//   - 40 % of the pieces of each group are narrower than half of what is usable of a board;
//   - 24 boards a group on the rack for 400 pieces, never above 40, some with a width as measured,
//     together at most 45 % of the area wanted, and none longer than 40 ft or 12 m;
//   - half of the boards have 1 to 4 defects, and half of the defects a span of the width: knots
//     and wane at an edge, checks in the middle.
//
// Units, kerfs, trims, margin and the rest vary as in [Month]; in many the rip kerf is not the
// crosscut kerf.
func RipMonth(seed int64, pieces int, kerfs Kerfs) map[string][]byte {
	return SizedRipMonth(seed, RipSize{Pieces: pieces}, kerfs)
}

// SizedRipMonth gives those of a month of another size.
func SizedRipMonth(seed int64, size RipSize, kerfs Kerfs) map[string][]byte {
	m := newRipMonth(seed, 1, groups, kerfs)
	m.RipSize = size
	m.Pieces, m.Sizes = cmp.Or(size.Pieces, piecesOfRipMonth), max(1, size.Sizes)
	n := min(mostBoardsOfGroup, max(4, boardsOfRipGroup*m.Pieces/piecesOfRipMonth))
	if size.Boards > 0 {
		n = size.Boards / groups
	}
	return m.files(m.partsOf, func(wood int, of []ripPart) []ripBoard {
		boards := m.boardsOf(wood, n, of)
		for i := range boards {
			boards[i].length = min(boards[i].length, m.size(40*12*32, 12_000))
		}
		return boards
	}, m.someDefects)
}

// newRipMonth draws the woods: of [groups] the last is of random widths.
func newRipMonth(seed int64, stream uint64, woods int, kerfs Kerfs) *ripMonth {
	m := &ripMonth{month: newMonth(seed, stream)}
	m.rips, m.kerfs = true, kerfs
	sized, random := inchSized, inchRandom
	if m.metric {
		sized, random = metricSized, metricRandom
	}
	for _, i := range m.rng.Perm(len(sized))[:min(woods, groups-1)] {
		m.woods = append(m.woods, sized[i])
	}
	if woods == groups {
		m.woods = append(m.woods, random[m.rng.IntN(len(random))])
	}
	return m
}

// files draws what is wanted of each wood and is on the rack, and then the boards' defects.
func (m *ripMonth) files(parts func(wood int) []ripPart,
	boards func(wood int, of []ripPart) []ripBoard,
	defects func() []ripDefect) map[string][]byte {
	names := m.names()
	files := map[string][]byte{"shop.toml": m.shop()} // first: it sets the allowance
	for w := range m.woods {
		of := parts(w)
		m.parts = append(m.parts, of...)
		m.boards = append(m.boards, boards(w, of)...)
	}
	m.rng.Shuffle(len(m.boards), func(i, j int) {
		m.boards[i], m.boards[j] = m.boards[j], m.boards[i]
	})
	files["commissions.csv"] = m.commissions(names)
	files["parts.csv"] = m.partRows(names)
	files["rack.csv"] = m.boardRows()
	files["defects.csv"] = m.defectRows(defects())
	files["yard.csv"] = m.yardRows()
	return files
}

// WriteRipMonth writes a month with rips as a job folder.
func WriteRipMonth(dir string, seed int64, pieces int, kerfs Kerfs) error {
	return WriteSizedRipMonth(dir, seed, RipSize{Pieces: pieces}, kerfs)
}

// WriteSizedRipMonth writes one of another size.
func WriteSizedRipMonth(dir string, seed int64, size RipSize, kerfs Kerfs) error {
	return writeFiles(dir, SizedRipMonth(seed, size, kerfs))
}

// partsOf draws the parts of one group: of few lengths, as many pieces as are its share, the narrow
// ones among them.
func (m *ripMonth) partsOf(w int) []ripPart {
	var users []int
	for c := range commissions {
		if (2*c+w)%5 < 2 {
			users = append(users, c)
		}
	}
	var lengths []int
	for n := (fewLengths + m.rng.IntN(6)) * m.Sizes; len(lengths) < n; {
		u := m.rng.IntN(1000)
		step := []int{m.size(8, 5), m.size(16, 10)}[m.rng.IntN(2)]
		if l := (m.size(14*32, 360) +
			m.size(58*32, 1480)*u/1000*u/1000) / step * step; !slices.Contains(lengths, l) {
			lengths = append(lengths, l)
		}
	}
	var parts []ripPart
	share := m.Pieces*(w+1)/groups - m.Pieces*w/groups
	for left := share; left > 0; {
		qty := []int{1, 2, 2, 2, 3, 4, 4, 6}[m.rng.IntN(8)] * m.Pieces / piecesOfRipMonth / m.Sizes
		p := part{wood: w, commission: users[len(parts)%len(users)],
			length: lengths[m.rng.IntN(len(lengths))], qty: min(left, max(1, qty))}
		p.face = []string{"show", "show", "show", "sound", "sound", "hidden"}[m.rng.IntN(6)]
		left -= p.qty
		parts = append(parts, ripPart{part: p})
	}
	narrow := 0
	for _, i := range m.rng.Perm(len(parts)) {
		if p := &parts[i]; 100*(narrow+p.qty) <= narrowPercent*share+100 {
			p.narrow = true
			narrow += p.qty
		}
	}
	for i := range parts {
		parts[i].width = m.widthOf(w, parts[i].narrow)
	}
	return parts
}

// widthOf draws the finished width of a part: a third of the wide ones of a sized wood are as wide
// as it comes.
func (m *ripMonth) widthOf(w int, narrow bool) int {
	wood := &m.woods[w]
	switch {
	case narrow:
		return wood.narrow[m.rng.IntN(len(wood.narrow))]
	case wood.full > 0 && m.rng.IntN(3) == 0:
		return wood.full
	}
	return wood.wide[m.rng.IntN(len(wood.wide))]
}

// boardsOf draws the n rack boards of one wood: many short, few long, all together a share of the
// area wanted.
func (m *ripMonth) boardsOf(w, n int, parts []ripPart) []ripBoard {
	wood, wanted := &m.woods[w], 0
	for _, p := range parts {
		wanted += p.qty * (p.length + m.length) * p.width
	}
	boards, weights, sum, across := make([]ripBoard, n), make([]int, n), 0, 0
	for i := range boards {
		boards[i] = ripBoard{wood: w, width: m.measured(wood)}
		u := m.rng.IntN(1000)
		weights[i] = 1 + u*u/1000
		width := cmp.Or(boards[i].width, wood.full)
		sum, across = sum+weights[i]*width, across+width
	}
	least := m.size(14*32, 360)
	extra := max(0, wanted*(rackPercent+m.rng.IntN(7))/100-least*across)
	for i, weight := range weights {
		boards[i].length = (least + extra*weight/sum) / m.step * m.step
	}
	return boards
}

// measured draws the width of a rack board: one of its own where its wood is of random widths;
// else, of some boards, a little less than its section's.
func (m *ripMonth) measured(w *ripWood) int {
	if w.full == 0 {
		return m.between(m.size(in(4, 16), 115), m.size(in(9, 0), 230), m.size(4, 5))
	}
	if m.rng.IntN(100) >= measuredPercent {
		return 0
	}
	return w.full - m.between(m.size(2, 1), m.size(12, 8), m.size(2, 1))
}
