package csvfile

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/gocarina/gocsv"

	"rackwright/model"
	"rackwright/model/makeup"
)

// writeRows writes the header and the rows: comma, decimal point, LF, no byte order mark.
func writeRows[R any](w io.Writer, rows []R) error {
	return gocsv.MarshalCSV(rows, gocsv.NewSafeCSVWriter(csv.NewWriter(w)))
}

// each makes a row of every item of a list.
func each[T, R any](list []T, row func(*T) R) []R {
	rows := make([]R, len(list))
	for i := range list {
		rows[i] = row(&list[i])
	}
	return rows
}

func lengthCell(l model.Length, u model.Unit) number { return number(l.Decimal(u)) }

// inputLength writes a length into a file that is input again: such that it is no thousand. In
// inches a thousand would be longer than any board.
func inputLength(l model.Length, u model.Unit) number {
	if u == model.Millimetre {
		return number(model.Unmistaken(l.Decimal(u)))
	}
	return lengthCell(l, u)
}

// inputMoney writes an amount likewise.
func inputMoney(m model.Money) number { return number(model.Unmistaken(m.String())) }

func countCell(n int64) number { return number(strconv.FormatInt(n, 10)) }

// countOrBlank writes n, and nothing for 0.
func countOrBlank(n int64) number {
	if n == 0 {
		return ""
	}
	return countCell(n)
}

func moneyCell(m model.Money) number { return number(m.String()) }

// WriteCuts writes cuts.csv in the shop's unit. Only where the job has names for pieces, as parts
// are made up, there is a column of staves.
func WriteCuts(w io.Writer, cuts []model.Cut, names makeup.Names, u model.Unit) error {
	cells := func(c *model.Cut) cutRow {
		row := cutRow{
			Board: text(c.Board), Origin: number(c.Origin), Material: text(c.Material),
			Section: number(c.Section),
			Step:    countCell(int64(c.Step)), Kind: number(c.Kind),
			From: lengthCell(c.From, u), To: lengthCell(c.To, u), Left: lengthCell(c.Left, u),
			Right:      lengthCell(c.Right, u),
			Commission: text(c.Commission), Part: text(c.Part), Copy: countOrBlank(c.Copy),
			Offcut: text(c.Offcut),
		}
		if c.Kind == model.KindPart {
			row.Face = number(c.Face.String())
			row.Stave = text(names.Stave(c.Commission, c.Part, c.Copy))
		}
		return row
	}
	if len(names) > 0 {
		return writeRows(w, each(cuts, cells))
	}
	return writeRows(w, each(cuts, func(c *model.Cut) plainCutRow { return plainCutRow(cells(c)) }))
}

// WriteLaid writes glue_ups.csv in the shop's unit.
func WriteLaid(w io.Writer, laid []makeup.Laid, u model.Unit) error {
	return writeRows(w, each(laid, func(l *makeup.Laid) laidRow { return laidCells(l, u) }))
}

// laidCells are the cells of a row of glue_ups.csv. Where there is but one, no number stands.
func laidCells(l *makeup.Laid, u model.Unit) laidRow {
	row := laidRow{Commission: text(l.Commission), Part: text(l.Part), Copy: countCell(l.Copy),
		Board: text(l.Board), Net: lengthCell(l.Net, u), Glued: lengthOrBlank(l.Glued, u),
		Cut: lengthCell(l.Cut, u)}
	if l.Layers > 1 {
		row.Layer = text(fmt.Sprintf("%d/%d", l.Layer, l.Layers))
	}
	if l.Staves > 1 {
		row.Stave = text(fmt.Sprintf("%d/%d", l.Stave, l.Staves))
	}
	return row
}

// lengthOrBlank writes a length, and nothing for 0.
func lengthOrBlank(l model.Length, u model.Unit) number {
	if l == 0 {
		return ""
	}
	return lengthCell(l, u)
}

// WriteBuy writes buy.csv in the shop's unit. Ids of bought boards have no blanks in them.
func WriteBuy(w io.Writer, buy []model.Purchase, u model.Unit) error {
	return writeRows(w, each(buy, func(p *model.Purchase) buyRow {
		row := buyRow{text(p.Material), number(p.Section), lengthCell(p.Length, u),
			countCell(p.Qty),
			moneyCell(p.Price), moneyCell(p.Total), tallyCell(p.Tally),
			lengthCell(p.Width, u), number(p.Surface), text(p.Yard), text(p.Grade),
			moneyCell(p.Tax), "", text(strings.Join(p.Boards, " "))}
		if p.Reserve {
			row.Reserve = yes
		}
		return row
	}))
}

// WriteRack writes rack.csv in the shop's unit, one row for each board, with its sizes as measured.
func WriteRack(w io.Writer, rack []model.Board, u model.Unit) error {
	return writeRows(w, each(rack, func(b *model.Board) rackRow {
		row := rackRow{
			Board: text(b.ID), Material: text(b.Material), Section: number(b.Section),
			Length: inputLength(b.Length, u), Qty: "1",
			Width: inputLength(b.Width, u), Thickness: inputLength(b.Thickness, u),
			Surface: number(b.Surface), Bin: text(b.Bin),
			Since: number(b.Since), For: text(b.For), Note: text(b.Note),
		}
		if b.Untouched {
			row.Untouched = yes
		}
		if b.Longest > 0 {
			row.Longest = inputLength(b.Longest, u)
		}
		if b.Value != nil {
			row.Value = inputMoney(*b.Value)
		}
		return row
	}))
}

// WriteDefects writes the defects.csv that goes with [WriteRack]. A span of the whole width is left
// blank.
func WriteDefects(w io.Writer, rack []model.Board, u model.Unit) error {
	var rows []defectRow
	for i := range rack {
		b := &rack[i]
		rows = append(rows, each(b.Defects, func(d *model.Defect) defectRow {
			row := defectRow{Board: text(b.ID), From: inputLength(d.From, u),
				To:   inputLength(d.To, u),
				Kind: text(d.Kind)}
			if d.Left != 0 || d.Right != b.Width {
				row.Left, row.Right = inputLength(d.Left, u), inputLength(d.Right, u)
			}
			return row
		})...)
	}
	return writeRows(w, rows)
}

// WriteOrder writes order.csv in the shop's unit. A cut at its mark has no setting.
func WriteOrder(w io.Writer, order []model.Sawing, u model.Unit) error {
	return writeRows(w, each(order, func(s *model.Sawing) orderedRow {
		row := orderedRow{Pass: countCell(int64(s.Pass)), Sequence: countCell(int64(s.Sequence)),
			Saw: number(s.Saw), Board: text(s.Board), Step: countCell(int64(s.Step)),
			Piece: text(s.Piece)}
		if s.Setting != 0 {
			row.Setting = lengthCell(s.Setting, u)
		}
		return row
	}))
}

// WriteCosts writes costs.csv.
func WriteCosts(w io.Writer, costs []model.Cost) error {
	return writeRows(w, each(costs, func(c *model.Cost) costRow {
		return costRow{text(c.Commission), moneyCell(c.Cost), moneyCell(c.Yard), moneyCell(c.Rack),
			moneyCell(c.Handling), moneyCell(c.Ripping), moneyCell(c.Credit), tallyCell(c.Tally)}
	}))
}

// tallyCell writes millionths with at most six decimals.
func tallyCell(n int64) number {
	s := strconv.FormatInt(n, 10)
	s = strings.Repeat("0", max(0, 7-len(s))) + s
	return number(strings.TrimSuffix(strings.TrimRight(s[:len(s)-6]+"."+s[len(s)-6:], "0"), "."))
}
