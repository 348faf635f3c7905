// Package benchmarks makes the jobs that rackwright is measured on.
//
// All of them are invented, and a seed fixes every byte. They are months, here, with rips in
// [RipMonth], and with parts that are made up by [MakeUp]; jobs of many sizes in [ManySizes], and
// small jobs of extreme settings in [Extreme].
//
// A month is a job folder:
//
//   - 12 commissions;
//   - about 400 pieces in 5 groups, of one material and section each, with at least 12 blank
//     lengths in a group;
//   - 200 boards on the rack, half of them with defects, together at most 45 % of the length
//     wanted;
//   - a yard with 5 lengths a section.
//
// The last digit of the seed fixes the shop: 3, 6 and 9 are in millimetres, 7 measures to 1/32 in,
// the others to 1/16 in. The shops 2, 5 and 9 charge for handling. Seeds above 100 make months of
// fewer types of blank: 6 to 9 lengths in a group.
package benchmarks

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

const (
	commissions    = 12
	groups         = 5
	boardsOfGroup  = 40
	piecesOfGroup  = 76 // at least; up to 8 more
	lengthsOfGroup = 13 // at least; up to 7 more
	fewLengths     = 6  // at least, in a month of fewer types; up to 3 more
	rackPercent    = 38 // of the length wanted, at least; up to 6 more
)

// month is one being made. Lengths are whole millimetres, or whole 1/32 in.
type month struct {
	rng    *rand.Rand
	digit  int // 1 to 10: which of the shops
	few    bool
	rips   bool
	kerfs  Kerfs
	metric bool
	step   int // all lengths are multiples of it
	length int // allowance on a part's length
	woods  []wood
	rack   []rackBoard
}

type rackBoard struct{ wood, length int }

// newMonth fixes all that hangs on the seed's digits. Each stream of a seed has draws of its own.
func newMonth(seed int64, stream uint64) *month {
	m := &month{rng: rand.New(rand.NewPCG(uint64(seed), stream)),
		digit: int(((seed-1)%10+10)%10) + 1, few: seed > 100}
	m.metric = slices.Contains([]int{3, 6, 9}, m.digit)
	m.step = 2
	if m.metric || m.digit == 7 {
		m.step = 1
	}
	return m
}

// Month gives the files of a month by name: parts.csv, commissions.csv, rack.csv, defects.csv,
// yard.csv, shop.toml.
func Month(seed int64, kerfs Kerfs) map[string][]byte {
	m := newMonth(seed, 0)
	m.kerfs = kerfs
	all := inchWoods
	if m.metric {
		all = metricWoods
	}
	for _, i := range m.rng.Perm(len(all))[:groups] {
		m.woods = append(m.woods, all[i])
	}
	names := m.names()
	files := map[string][]byte{"shop.toml": m.shop()} // first: it sets the allowance
	files["commissions.csv"] = m.commissions(names)
	files["parts.csv"] = m.parts(names)
	files["rack.csv"] = m.rackRows()
	files["defects.csv"] = m.defects()
	files["yard.csv"] = m.yard()
	return files
}

// WriteMonth writes a month as a job folder.
func WriteMonth(dir string, seed int64, kerfs Kerfs) error {
	return writeFiles(dir, Month(seed, kerfs))
}

func writeFiles(dir string, files map[string][]byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, content := range files {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// size is a length given in both units: thirty-seconds of an inch and millimetres.
func (m *month) size(thirtySeconds, mm int) int {
	if m.metric {
		return mm
	}
	return thirtySeconds
}

// between draws a multiple of step from lo to hi.
func (m *month) between(lo, hi, step int) int {
	lo = (lo + step - 1) / step
	return step * (lo + m.rng.IntN(max(1, hi/step-lo+1)))
}

// write gives a length as it stands in a file: 35, 3/4, 35 1/4, or millimetres.
func (m *month) write(length int) string {
	if m.metric {
		return strconv.Itoa(length)
	}
	num, den := length%32, 32
	for num > 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return strconv.Itoa(length / 32)
	case length < 32:
		return fmt.Sprintf("%d/%d", num, den)
	}
	return fmt.Sprintf("%d %d/%d", length/32, num, den)
}

func table(header []string, rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.WriteAll(append([][]string{header}, rows...)) // a buffer takes everything
	return b.Bytes()
}

func (m *month) names() []string {
	names := slices.Clone(commissionNames)
	m.rng.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	return names[:commissions]
}

func (m *month) commissions(names []string) []byte {
	var rows [][]string
	for _, n := range names {
		rows = append(rows, []string{n, fmt.Sprintf("2027-%02d-%02d", m.digit, 3+m.rng.IntN(26)),
			""})
	}
	return table([]string{"commission", "due", "note"}, rows)
}

// shop draws the settings; every key that is a length is given, so that a metric shop has whole
// millimetres throughout.
func (m *month) shop() []byte {
	pick := func(inch, metric []string) string {
		if m.metric {
			return metric[m.rng.IntN(len(metric))]
		}
		return inch[m.rng.IntN(len(inch))]
	}
	units, currency, allowances := "in", "USD", ""
	kerf := pick([]string{"1/8", "1/8", "1/16"}, []string{"3", "3.2"})
	if m.digit == 7 {
		kerf = "3/32"
	}
	m.length = m.size(16*(1+m.rng.IntN(2)), 15+5*m.rng.IntN(3))
	if m.metric {
		units, currency = "mm", "EUR"
		allowances = `edge = "2"
thickness = "4"
eased_edge = "3"
plane_limit = "12"
`
	}
	handling := "0.00"
	if slices.Contains([]int{2, 5, 9}, m.digit) {
		handling = fmt.Sprintf("0.%02d", 25+5*m.rng.IntN(15))
	}
	yardEnd := pick([]string{"1/4", "1/2", "1"}, []string{"10", "15", "25"})
	rackEnd := pick([]string{"0", "0", "1/8"}, []string{"0", "0", "5"})
	margin := pick([]string{"0", "1/8", "1/4", "1/2"}, []string{"0", "3", "6", "10"})
	keep := pick([]string{"8", "10", "12", "16"}, []string{"200", "250", "300", "400"})
	keepWidth := pick([]string{"1 1/2"}, []string{"40"})
	shortest := pick([]string{"12"}, []string{"300"})
	value := fmt.Sprintf("0.%02d", 30+5*m.rng.IntN(11))
	rip, safety := kerf, ""
	if m.rips {
		rip = pick([]string{kerf, "1/8", "3/32", "1/16"}, []string{kerf, "2.8", "2.5"})
		keepWidth = pick([]string{"1 1/2", "2", "2 1/2"}, []string{"40", "50", "60"})
		safety = fmt.Sprintf("shortest_rip = %q\nnarrowest_rip = %q\n", shortest,
			pick([]string{"3/4"}, []string{"20"}))
	}
	return fmt.Appendf(nil, `units = %q
currency = %q
batch = "m%d"

[kerf]
crosscut = %[4]q
rip = %[15]q

[trim]
yard_end = %[5]q
rack_end = %[6]q

[allowance]
length = %[7]q
%[8]s
[offcut]
keep_length = %[9]q
keep_width = %[10]q
value = %[11]s

[handling]
board = %[12]s

[safety]
shortest_blank = %[13]q
%[16]s
[defects]
margin = %[14]q
`, units, currency, m.digit, cmp.Or(m.kerfs.Crosscut, kerf), yardEnd, rackEnd,
		m.write(m.length), allowances, keep, keepWidth, value, handling, shortest, margin,
		cmp.Or(m.kerfs.Rip, rip), safety)
}
