// Package pages reads the rows of an SQLite file page by page, as far as they can be read.
//
// Start at [Read]. SQLite goes from the root of a table down, and gives up at the first page that
// is damaged. Here each page is looked at by itself, so that the rows of the others are still had.
// What is given may be garbage, or a row that is no longer kept: whoever asks must be able to tell,
// as the book can by its hashes.
//
//	image.go   the pages: those of the file, and over them those of its write-ahead log
//	rows.go    the rows on them
//
// The form of such a file is published at sqlite.org/fileformat2.html. The tests compare with
// SQLite itself.
package pages
