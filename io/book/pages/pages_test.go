package pages

import (
	"bytes"
	"cmp"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	diff "github.com/google/go-cmp/cmp"
	_ "modernc.org/sqlite"
)

// sizes of pages: the least, that of a book, and the most of 16 bits.
var sizes = []int{512, 4096, 32768}

// filled is a database of SQLite with random rows in a table, deleted and changed ones among them,
// and the bytes of its file and of its log.
func filled(t *testing.T, r *rand.Rand, size int, journal string) (*sql.DB, []byte, []byte) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rows.db")
	db, err := sql.Open("sqlite",
		fmt.Sprintf("file:%s?_pragma=page_size(%d)&_pragma=synchronous(OFF)", path, size))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	db.SetMaxOpenConns(1)
	do := func(statement string, args ...any) {
		if _, err := db.Exec(statement, args...); err != nil {
			t.Fatal(err)
		}
	}
	do("PRAGMA journal_mode = " + journal)
	do("CREATE TABLE rows (number INTEGER PRIMARY KEY, a, b, c)")
	do("CREATE INDEX byText ON rows (a)")
	for range 300 {
		if r.IntN(25) == 0 {
			do("DELETE FROM rows WHERE number % 7 = ?", r.IntN(7))
		}
		do("INSERT OR REPLACE INTO rows VALUES (?, ?, ?, ?)", r.Int64N(1<<r.IntN(50)),
			value(r, size), value(r, size), value(r, size))
	}
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(path + "-wal")
	if (err == nil) != (journal == "wal") {
		t.Fatal(err)
	}
	return db, file, log
}

// value is a cell: small, large, or longer than a page.
func value(r *rand.Rand, size int) any {
	text := strings.Repeat(fmt.Sprint(r.Int32()), 1+r.IntN(2+size/30))
	switch r.IntN(7) {
	case 0:
		return nil
	case 1:
		return int64(r.IntN(4)) - 1
	case 2:
		return -(r.Int64() >> r.IntN(60))
	case 3:
		return r.Float64()
	case 4:
		return []byte(text)
	}
	return text[:r.IntN(len(text))]
}

// asked are the rows as SQLite has them.
func asked(t *testing.T, db *sql.DB) (rows []Row) {
	t.Helper()
	got, err := db.Query("SELECT number, a, b, c FROM rows ORDER BY number")
	if err != nil {
		t.Fatal(err)
	}
	defer got.Close()
	for got.Next() {
		row := Row{Cells: make([]any, 4)}
		if err := got.Scan(&row.Number, &row.Cells[1], &row.Cells[2], &row.Cells[3]); err != nil {
			t.Fatal(err)
		}
		rows = append(rows, row)
	}
	return rows
}

// Of a sound file, each row that SQLite has is found, cell by cell, whatever the size of a page;
// rows in the log, too.
func TestRowsAreThoseOfSQLite(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 3))
	for _, size := range sizes {
		for _, journal := range []string{"delete", "wal"} {
			db, file, log := filled(t, r, size, journal)
			got := map[string]bool{}
			Read(file, log, size).Rows(func(row Row) { got[fmt.Sprintf("%#v", row)] = true })
			want := asked(t, db)
			for _, row := range want {
				if !got[fmt.Sprintf("%#v", row)] {
					t.Errorf("%d, %s: row %d is not found", size, journal, row.Number)
				}
			}
			if len(want) < 50 {
				t.Errorf("%d, %s: there are only %d rows", size, journal, len(want))
			}
		}
	}
}

// Where a page is lost, only rows are lost that stand on it, or go on there.
func TestLostPage(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	_, file, _ := filled(t, r, 512, "delete")
	rows := func(file []byte) (all []string) {
		Read(file, nil, 512).Rows(func(row Row) { all = append(all, fmt.Sprintf("%#v", row)) })
		slices.SortFunc(all, cmp.Compare[string])
		return all
	}
	all, lost := rows(file), 0
	for at := 0; at+512 <= len(file); at += 512 {
		bad := bytes.Clone(file)
		clear(bad[at : at+512])
		left := rows(bad)
		// one row at most goes on there, and at most 60 of 8 bytes begin there
		if lost += len(all) - len(left); len(all)-len(left) > 61 {
			t.Errorf("page %d takes %d rows of %d with it", at/512+1, len(all)-len(left), len(all))
		}
	}
	if lost < len(all) {
		t.Errorf("all pages, one at a time, lose %d rows of %d", lost, len(all))
	}
}

// A log counts up to its first damage, as SQLite has it.
func TestDamagedLog(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	_, file, log := filled(t, r, 512, "wal")
	if len(log) == 0 {
		t.Fatal("there is no log")
	}
	dir := t.TempDir()
	for n := range 20 {
		bad := bytes.Clone(log)
		bad[r.IntN(len(bad))] ^= 1 << r.IntN(8)
		path := filepath.Join(dir, fmt.Sprint(n))
		for name, data := range map[string][]byte{path: file, path + "-wal": bad} {
			if err := os.WriteFile(name, data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		db, err := sql.Open("sqlite", path)
		if err != nil {
			t.Fatal(err)
		}
		// emptied into the file, the log leaves what counts of it there
		if _, err := db.Exec("PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
			t.Fatal(err)
		}
		db.Close()
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		rows := func(m *Image) (all []Row) {
			m.Rows(func(row Row) { all = append(all, row) })
			return all
		}
		if d := diff.Diff(rows(Read(want, nil, 512)), rows(Read(file, bad, 512))); d != "" {
			t.Errorf("log %d: %s", n, d)
		}
	}
}

// Whatever bytes come, rows are read or not.
func FuzzRows(f *testing.F) {
	f.Add([]byte("SQLite format 3"), []byte{0x37, 0x7f, 6, 0x82})
	f.Fuzz(func(t *testing.T, file, log []byte) {
		Read(file, log, 512).Rows(func(row Row) {
			for _, c := range row.Cells {
				if text, is := c.(string); is && len(text) > len(file)+len(log) {
					t.Errorf("a cell of %d bytes", len(text))
				}
			}
		})
	})
}
