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
