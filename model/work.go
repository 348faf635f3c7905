package model

import (
	"fmt"
	"math/big"
	"strings"
)

// Way is a way of working through a plan.
type Way string

// The ways of working. LeastTime goes pass by pass over all boards, with the fewest minutes.
// LeastClutter goes board by board, with the fewest commissions open at once.
const (
	LeastTime    Way = "time"
	LeastClutter Way = "clutter"
)

// Work is the order of work of a plan: which way order.csv follows, and what each way takes.
type Work struct {
	Order Way         `json:"order"`
	Ways  []WayOfWork `json:"ways"` // least time, then least clutter
}

// WayOfWork is what one way of working takes. A setting is a stop or fence moved to another length,
// or to another kind of wood. A lift is a piece taken up and put away. Minutes are those of
// settings and lifts. Open is the most commissions that are begun and not finished at once; it is
// Exact where no order of the boards, one after the other, has fewer.
type WayOfWork struct {
	Way      Way     `json:"way"`
	Settings int     `json:"settings"`
	Lifts    int     `json:"lifts"`
	Minutes  Minutes `json:"minutes"`
	Open     int     `json:"open"`
	Exact    bool    `json:"exact,omitempty"`
}

// The saws of order.csv, as it names them.
const (
	Crosscut = "crosscut"
	Rip      = "rip"
)

// Sawing is one row of order.csv: one cut. Board and Step are those of its rows in cuts.csv; each
// step of a board that is cut stands in one row.
//
// Passes are the levels of a board: 1 crosscuts the board, 2 rips what pass 1 gives, 3 crosscuts
// what pass 2 gives, 4 rips a blank narrower than its strip. Setting is that of stop or fence; of 0
// is a crosscut at its mark. Piece says what comes off, in words.
type Sawing struct {
	Pass     int
	Sequence int // from 1 over all rows
	Saw      string
	Setting  Length
	Board    string
	Step     int
	Piece    string
}

// Mark is one row of marks.csv, the form in which a maker marks what was cut: a piece, an offcut,
// or what is left of a board. Length and Width are those of the plan, of what is left those of the
// whole board.
type Mark struct {
	Board         string
	Row           MarkOf
	Commission    string // of a piece, with Part and Copy
	Part          string
	Copy          int64
	Offcut        string // of an offcut its id
	Length, Width Length
	Makes         string // in words, of a piece of a part that is made up
}

// MarkOf says what a mark is of.
type MarkOf string

// What marks are of.
const (
	MarkPiece  MarkOf = "piece"
	MarkOffcut MarkOf = "offcut"
	MarkRest   MarkOf = "rest"
)

// State is what became of a piece, an offcut or what is left of a board.
type State string

// The states: as planned, of a piece, and of an offcut or what is left.
const (
	AsPlanned State = ""
	IsCut     State = "cut"
	Spoiled   State = "spoiled"
	NotCut    State = "not cut"
	Kept      State = "kept"
	Scrapped  State = "scrapped"
)

// Marked is a mark as the maker filled it in.
type Marked struct {
	Mark
	State         State
	Measured      Length // of an offcut or what is left; 0: not measured
	MeasuredWidth Length
	// new ones: of an offcut from its own end and edge, else from those of the board. Right is 0
	// where the row gives no span of the width.
	Defects []Defect
	Note    string
	Where   Where
}

// MarksOf is the form for these cuts: for each board its pieces and offcuts in the order of the
// cuts, then what is left of it.
func MarksOf(cuts []Cut) (form []Mark) {
	for start := 0; start < len(cuts); {
		rest := Mark{Board: cuts[start].Board, Row: MarkRest}
		for ; start < len(cuts) && cuts[start].Board == rest.Board; start++ {
			c := &cuts[start]
			rest.Length, rest.Width = max(rest.Length, c.To), max(rest.Width, c.Right)
			m := Mark{Board: c.Board, Row: MarkPiece, Commission: c.Commission, Part: c.Part,
				Copy: c.Copy, Offcut: c.Offcut, Length: c.To - c.From, Width: c.Right - c.Left}
			if c.Kind == KindOffcut {
				m.Row = MarkOffcut
			}
			if c.Kind == KindPart || c.Kind == KindOffcut {
				form = append(form, m)
			}
		}
		form = append(form, rest)
	}
	return form
}

// Minutes are thousandths of a minute.
type Minutes int64

// UnitsOfMinute are in one minute.
const UnitsOfMinute = 1000

// LongestMinutes is the most that a setting or a lift may take.
const LongestMinutes Minutes = 1000 * UnitsOfMinute

// ParseMinutes reads a decimal number of minutes of at most three decimals. The error says what is
// wrong; what to write.
func ParseMinutes(s string) (Minutes, error) {
	t := strings.TrimSpace(s)
	whole, decimals, _ := strings.Cut(t, ".")
	if !decimalForm.MatchString(t) || len(whole) > 9 {
		return 0, fmt.Errorf("%.40q is no number of minutes; write one such as 1.5", s)
	}
	if decimals = strings.TrimRight(decimals, "0"); len(decimals) > 3 {
		return 0, fmt.Errorf("%.40q has more than three decimals; round it to three at most", s)
	}
	r, _ := new(big.Rat).SetString(t)
	r.Mul(r, big.NewRat(UnitsOfMinute, 1))
	return Minutes(r.Num().Int64()), nil
}

// fixed writes the minutes with exactly three decimals.
func (m Minutes) fixed() string { return big.NewRat(int64(m), UnitsOfMinute).FloatString(3) }

// String writes the minutes with at most three decimals.
func (m Minutes) String() string {
	return strings.TrimSuffix(strings.TrimRight(m.fixed(), "0"), ".")
}

// MarshalJSON writes a number with exactly three decimals.
func (m Minutes) MarshalJSON() ([]byte, error) { return []byte(m.fixed()), nil }

// UnmarshalJSON reads a number of at most three decimals, exactly.
func (m *Minutes) UnmarshalJSON(b []byte) error {
	v, err := ParseMinutes(string(b))
	if err == nil {
		*m = v
	}
	return err
}
