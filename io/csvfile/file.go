package csvfile

import "rackwright/model"

// File is one table to be read: a CSV file with a header line. Its methods read it as one kind of
// table each and hand over the rows in their order; those of a job folder say whether every row
// could be given. A cell that cannot be read is a mistake, and its value is the zero value.
type File struct {
	Name     string          // what mistakes call it
	Data     []byte          // at most [MaxBytes]
	Unit     model.Unit      // of bare numbers
	Mistakes *model.Mistakes // takes what is wrong
	Notes    *[]model.Note   // takes the lengths that were rounded
}

// eachRow reads a file into rows of R, whose first needs columns must be there, and hands them over
// with their cells.
func eachRow[R any](f *File, needs int, row func(Cells, R)) (complete bool) {
	s, rows := readSheet[R](f.Mistakes, f.Name, f.Data, needs)
	complete = s.mistakes == 0
	for i := range rows {
		row(Cells{s, f, s.lines[i]}, rows[i])
	}
	return complete
}
