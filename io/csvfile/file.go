package csvfile

import "rackwright/model"

// File is one table to be read: a CSV file with a header line. Its methods read it as one kind of
// table each and hand over the rows in their order; those of a job folder say whether every row
// could be given. A cell that cannot be read is a mistake, and its value is the zero value.
type File struct {
	Name     string          // what mistakes call it
	Data     []byte          // at most [MaxBytes]
	Unit     model.Unit      // of bare numbers
	Ours     bool            // written by rackwright: points stand before decimals only
	Mistakes *model.Mistakes // takes what is wrong
	Notes    *[]model.Note   // takes the lengths that were rounded
}

// eachRow reads a file into rows of R, whose first needs columns must be there, and hands them over
// with their cells.
func eachRow[R any](f *File, needs int, row func(Cells, R)) (complete bool) {
	s, rows := readSheet[R](f.Mistakes, f.Name, f.Data, needs)
	complete = s.mistakes == 0
	s.learn(f)
	for i := range rows {
		row(Cells{s, f, s.lines[i]}, rows[i])
	}
	return complete
}

// kind is what the numbers of a column are: those of one kind in one file are of one hand.
type kind int

const (
	noNumber kind = iota
	ofLength
	ofMoney
	kinds
)

// kindOf are the columns of the tables that a hand writes.
var kindOf = map[string]kind{
	"length": ofLength, "width": ofLength, "thickness": ofLength, "longest": ofLength,
	"from": ofLength, "to": ofLength, "left": ofLength, "right": ofLength,
	"measured": ofLength, "measured_width": ofLength,
	"price": ofMoney, "value": ofMoney,
}

// learn notes which signs the numbers of the file have before decimals and between thousands.
func (s *sheet) learn(f *File) {
	for k := range s.signs {
		s.signs[k].DecimalComma = s.comma != ','
	}
	if f.Ours {
		return
	}
	for i, column := range s.header {
		of := kindOf[column]
		if of == noNumber {
			continue
		}
		fits := f.fits(of, column)
		for _, row := range s.rows {
			s.signs[of].Learn(row[i], fits)
		}
	}
}

// fits says whether a text with a thousand in it is a length or an amount that may stand in a
// column.
func (f *File) fits(of kind, column string) func(string) bool {
	if of == ofMoney {
		return func(text string) bool {
			m, err := model.ParseMoney(text)
			return err == nil && m <= model.DearestBoard
		}
	}
	most := model.LongestBoard
	switch column {
	case "width", "thickness", "left", "right", "measured_width":
		most = model.WidestBoard
	}
	return func(text string) bool {
		l, _, err := model.ParseLength(text, f.Unit)
		return err == nil && l <= most
	}
}
