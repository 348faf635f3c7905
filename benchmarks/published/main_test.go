package main

import (
	"compress/gzip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rackwright/nest/cutstock"
)

// invented instances: of three, two and one bins, and the optimum claimed.
const invented = `#name	capacity	m_types	n_items	lb	ub	src	items(width:demand ...)
three	10	2	5	3	3	B	6:3 4:2
two	10	3	5	2	2	B	5:2 3:2 4:1
one	10	1	2	1	1	B	5:2
`

// write puts a file into a folder.
func write(t *testing.T, text string, path ...string) {
	t.Helper()
	name := filepath.Join(path...)
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func tableOf(t *testing.T, dir string, sample int) (string, error) {
	t.Helper()
	some, err := classes(dir, []string{"scholl_1"}, sample)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	b := bench{limits: limits{1e8, time.Minute}, jobs: 2, peers: peersIn(dir)}
	err = b.table(some, &out)
	return out.String(), err
}

// A row counts what was found and proven, of how many at hand, and has the peers' runs of the same
// instances only.
func TestTable(t *testing.T) {
	dir := t.TempDir()
	write(t, invented, dir, "bpplib", "scholl_1.txt")
	write(t, "", dir, "results", "dasilva_schouery_10min_per_instance.csv.gz")
	f, err := os.Create(filepath.Join(dir, "results", "dasilva_schouery_10min_per_instance.csv.gz"))
	if err != nil {
		t.Fatal(err)
	}
	z := gzip.NewWriter(f)
	z.Write([]byte("three,5,10,2.6,3,3,Optimal,0.1,0.5\ntwo,5,10,2,2,3,Time_Limit,600,600\n" +
		"other,5,10,2,2,2,Optimal,0.1,7\n"))
	if z.Close() != nil || f.Close() != nil {
		t.Fatal("not written")
	}
	for _, c := range []struct {
		sample int
		want   []string
	}{
		{0, []string{"| scholl_1 | 3 / 3 | 3 | 3 |", "| 1 of 2, 300.25 s, 600.0 s |"}},
		{1, []string{"| scholl_1 | 1 / 3 | 1 | 1 |", "| 1 of 1, 0.50 s, 0.5 s |"}},
	} {
		got, err := tableOf(t, dir, c.sample)
		for _, w := range c.want {
			if err != nil || !strings.Contains(got, w) {
				t.Errorf("sample %d: %v; want %q in\n%s", c.sample, err, w, got)
			}
		}
	}
}

// A value below a published optimum, or a bound above it, ends the run.
func TestViolations(t *testing.T) {
	for _, c := range []struct{ claim, says string }{
		{"three	10	2	5	4	4	B	6:3 4:2", "the published optimum is 4"},
		{"three	10	2	5	2	2	B	6:3 4:2", "the published optimum is 2"},
	} {
		dir := t.TempDir()
		write(t, c.claim+"\n", dir, "bpplib", "scholl_1.txt")
		if got, err := tableOf(t, dir, 0); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v\n%s", c.claim, err, got)
		}
	}
}

// The list has all that a plan of the optimum can use, here 6 + 4, 4 + 4, 6 and 4, and the program
// over it a row for each item.
func TestListProgram(t *testing.T) {
	dir := t.TempDir()
	write(t, invented, dir, "bpplib", "scholl_1.txt")
	some, err := classes(dir, []string{"scholl_1"}, 1)
	if err != nil {
		t.Fatal(err)
	}
	three := &some[0].some[0]
	r := &cutstock.Result{Plain: &cutstock.Proof{Leaf: &cutstock.Leaf{Duals: []int64{0, 0}}}}
	list, ok := three.list(r, three.optimum)
	text := string(three.text(list))
	if !ok || len(list) != 4 || strings.Count(text, "item") != 2 ||
		!strings.Contains(text, "+ 2 x") || !strings.Contains(text, ">= 3") {
		t.Errorf("%t, %d patterns\n%s", ok, len(list), text)
	}
}
