// Package csvfile reads and writes every CSV: the job folder on the way in, the out folder on the
// way out and back again.
//
// Start at [ReadJob] and [ReadOut]; every table that is written has its Write function. The way of
// a cell:
//
//	bytes > textfile (encoding, size) > sheet.go (separator, header, quotes, cell count, line numbers; on encoding/csv)
//	      > gocsv (cells into the row structs of rows.go, by column name) > cells.go (one value, or a mistake with its place)
//	      > job.go, orders.go, out.go (rows into model types) > model.Job.Validate (limits, and rows against each other)
//
// gocsv alone loses data in silence, so it sees only rows that the strict reader passed, and every
// cell of a row struct is of a type of ours ([text], [number]) that keeps the text as it stands.
// All mistakes of all files come out at once.
//
// A text that a spreadsheet would run as a formula (it begins with =, +, - or @) is written with an
// apostrophe before it; reading takes that apostrophe off again, so it reads back the same.
package csvfile
