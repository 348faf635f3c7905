// Package csvfile is one table at a time: strict rows in, rows out. Which files there are is for
// package folder.
//
// A [File] is read by its methods, one for each kind of table; what is written has its Write
// function. The way of a cell:
//
//	bytes > sheet.go (separator, header, quotes, cell count, line numbers; on encoding/csv)
//	      > gocsv (cells into the row structs of rows.go, by column name)
//	      > cells.go (one value, or a mistake with its place)
//	      > job.go, rack.go, count.go, plan.go, marks.go (rows into the words of the model)
//
// Whether rows agree with each other is for [model.Job.Validate]. gocsv alone loses data in
// silence. So it sees only rows that the strict reader passed. Every cell of a row struct is of a
// type of ours, [text] or [number], which keeps the text as it stands.
//
// A spreadsheet runs a text as a formula where it begins with =, +, - or @. Such a text is written
// with an apostrophe before it. Reading takes that apostrophe off again.
package csvfile
