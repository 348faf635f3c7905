package benchmarks

import (
	"cmp"
	"fmt"

	"rackwright/model"
)

// Sizes say how large a job of many sizes is.
type Sizes struct {
	Rows    int // of the cut list, each of a size of its own
	Qty     int // of each row; 0: 3 to 7 pieces
	Boards  int // on the rack
	Defects int // of each board on the rack
	Woods   int // materials and sections, 1 to 5; of five the last is hardwood of random widths
}

// The most of each that ManySizes makes: what a month of a very large shop has, and some more. Of
// all rows together there are no more pieces than a job may have, nor more rows beside the boards.
const (
	mostRows    = 2000
	mostBoards  = model.MostBoards
	mostDefects = 20
)

// Fault says what of it cannot be made, or nil.
func (s Sizes) Fault() error {
	for _, n := range []struct {
		what             string
		n, least, atMost int
	}{{"rows", s.Rows, 1, mostRows},
		{"pieces a row", s.Qty, 0, model.MostCopies / max(1, s.Rows)},
		{"boards", s.Boards, 0, min(mostBoards, model.MostPairs/max(1, s.Rows))},
		{"defects", s.Defects, 0, mostDefects},
		{"woods", s.Woods, 1, groups}} {
		if n.n < n.least || n.n > n.atMost {
			return fmt.Errorf("%d %s: write %d to %d", n.n, n.what, n.least, n.atMost)
		}
	}
	return nil
}

// ManySizes gives the files of a job with rips in which hardly two parts are alike. All else is as
// in a month of [RipMonth]: units, kerfs and the shop's other settings, how long the boards are,
// which defects they have, and the yard. No board on the rack is longer than 16 ft or 4.8 m.
func ManySizes(seed int64, s Sizes, kerfs Kerfs) map[string][]byte {
	m := newRipMonth(seed, 3, s.Woods, kerfs)
	share := func(all, wood int) int { return all*(wood+1)/s.Woods - all*wood/s.Woods }
	return m.files(
		func(wood int) []ripPart { return m.unlike(wood, share(s.Rows, wood), s.Qty) },
		func(wood int, of []ripPart) []ripBoard {
			boards := m.boardsOf(wood, share(s.Boards, wood), of)
			for i := range boards {
				boards[i].length = min(boards[i].length, m.size(16*12*32, 4800))
			}
			return boards
		},
		func() (all []ripDefect) {
			for n := range m.boards {
				for range s.Defects {
					all = append(all, m.defectOf(n))
				}
			}
			return all
		})
}

// WriteManySizes writes a job of many sizes as a job folder.
func WriteManySizes(dir string, seed int64, s Sizes, kerfs Kerfs) error {
	return writeFiles(dir, ManySizes(seed, s, kerfs))
}

// unlike draws that many parts of one wood, no two of one length and width. One in six is as wide
// as the wood comes.
func (m *ripMonth) unlike(w, rows, qty int) (parts []ripPart) {
	wood := &m.woods[w]
	narrowest, widest := wood.narrow[len(wood.narrow)-1], wood.wide[0]
	met := map[[2]int]bool{}
	for len(parts) < rows {
		p := ripPart{part: part{wood: w, commission: m.rng.IntN(commissions),
			qty: cmp.Or(qty, 3+m.rng.IntN(5))}}
		u := m.rng.IntN(1000)
		p.length = (m.size(14*32, 360) + m.between(0, m.size(58*32, 1480), m.step)*u/1000) /
			m.step * m.step
		p.width = m.between(narrowest, widest, m.size(4, 1))
		if wood.full > 0 && m.rng.IntN(6) == 0 {
			p.width = wood.full
		}
		p.narrow = 2*p.width < wood.widths[0]
		p.face = []string{"show", "show", "show", "sound", "sound", "hidden"}[m.rng.IntN(6)]
		if size := [2]int{p.length, p.width}; !met[size] {
			met[size] = true
			parts = append(parts, p)
		}
	}
	return parts
}
