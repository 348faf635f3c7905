package main

import (
	"bytes"
	"strings"
	"testing"

	"rackwright/nest/lp"
)

// made is a record of a small shop, of a clone whose bounds change, and of costs that do.
func made(t *testing.T) []byte {
	t.Helper()
	var record bytes.Buffer
	stop := lp.Record(&record)
	newShop(10, 12).generate(5)
	p := newShop(8, 6).program()
	p.Solve()
	q := p.Clone()
	q.SetRow(0, 1, 2)
	q.SetColumn(1, 0, 3)
	q.Solve()
	p.SetCost(2, 7)
	p.AddColumn(5, 0, 1, []int{0, 3}, []float64{1, 2})
	p.Solve()
	p.Solve()
	if err := stop(); err != nil {
		t.Fatal(err)
	}
	lp.New().Solve() // after stop: not recorded
	return record.Bytes()
}

// TestReplay checks that a record asks again what was asked, and how it is counted.
func TestReplay(t *testing.T) {
	found, err := replay(made(t))
	if err != nil {
		t.Fatal(err)
	}
	of := found.of
	if of[cold].solves != 3 || of[columns].solves < 3 || of[bounds].solves != 1 ||
		of[both].solves != 1 || of[nothing].solves != 1 || found.clones.solves != 1 {
		t.Errorf("counted %+v and %+v", of, found.clones)
	}
	if of[cold].pivots < 18 || of[cold].work < 100 || of[nothing].pivots != 0 {
		t.Errorf("counted %+v", of)
	}
	var out strings.Builder
	if err := found.print(&out); err != nil || strings.Count(out.String(), "\n") != 9 {
		t.Errorf("%v, printed\n%s", err, out.String())
	}
}

// TestRecordOff checks that a record in which the last value is another one, or that is broken off,
// is an error.
func TestRecordOff(t *testing.T) {
	record := made(t)
	for n := 1; n < 12; n++ {
		if _, err := replay(record[:len(record)-n]); (err == nil) != (n == 11) {
			t.Errorf("without the last %d bytes: %v", n, err) // 11 are all of the last call
		}
	}
	record[len(record)-1] ^= 0x80
	if _, err := replay(record); err == nil || !strings.Contains(err.Error(), "recorded") {
		t.Errorf("with another value: %v", err)
	}
	if _, err := replay([]byte("no record")); err == nil {
		t.Error("text passes for a record")
	}
}

func TestArguments(t *testing.T) {
	var out strings.Builder
	for _, invented := range []string{"1", "0,1,1", "1,2,x"} {
		if err := run("", "", invented, 0, &out); err == nil {
			t.Errorf("-shop %s is taken", invented)
		}
	}
	if err := run("no such folder", "", "", 0, &out); err == nil {
		t.Error("a folder that is not there is taken")
	}
	if err := run("", "", "6,5,4", 0, &out); err != nil || !strings.Contains(out.String(), "first") {
		t.Errorf("%v, printed %q", err, out.String())
	}
}
