package across

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// twoStage reads a table of shared/data/two_stage; it skips the test where that is not there.
// Licences forbid copies of some of it here. Its README names the sources: the sets of Beasley
// (1985), Christofides and Whitlock (1977), Wang (1983), Herz (1972), Fayard, Hifi and
// Zissimopoulos (1998), Hifi (1997), and others.
func twoStage(t *testing.T, name string) (rows [][]string) {
	dir := os.Getenv("RACKWRIGHT_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "shared", "data")
	}
	text, err := os.ReadFile(filepath.Join(dir, "two_stage", name))
	if err != nil {
		t.Skipf("the published instances are not here (RACKWRIGHT_DATA names the folder of "+
			"shared data): %v",
			err)
	}
	for _, l := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if !strings.HasPrefix(l, "#") {
			rows = append(rows, strings.Split(l, "\t"))
		}
	}
	return rows
}

func number(t *testing.T, text string) (n int64) {
	if _, err := fmt.Sscan(text, &n); err != nil {
		t.Fatalf("%q is no number", text)
	}
	return n
}

// TestTwoStageOptima prices the published instances, with their values as duals: each optimum of
// unlimited copies is reached and not passed, by either kind of first cut, with and without
// trimming.
func TestTwoStageOptima(t *testing.T) {
	instances := map[string][]string{}
	for _, f := range twoStage(t, "instances.tsv") {
		instances[f[0]] = f
	}
	n, start := 0, time.Now()
	for at, f := range twoStage(t, "optima_unbounded.tsv") {
		in, ok := instances[f[0]]
		if !ok {
			t.Fatalf("%s: no such instance", f[0])
		}
		if testing.Short() && at%8 != 0 {
			continue
		}
		p := &cutting.Problem{}
		a := &cutting.Across{Width: number(t, in[2])}
		s := cutting.Stock{To: number(t, in[1]), Supply: 1, Across: a}
		var values []int64
		for i, text := range strings.Fields(in[7]) {
			v := strings.Split(text, ":")
			p.Items = append(p.Items,
				cutting.Item{Size: number(t, v[0]), Width: number(t, v[1]), Demand: 1})
			values = append(values, number(t, v[2]))
			s.Holds = append(s.Holds, i)
		}
		p.Stocks = []cutting.Stock{s}
		for c, only := range []kind{onlyCrosscut, onlyRip, onlyCrosscut, onlyRip} {
			a.Trim = c < 2
			pr := anyMaker(p, &price.Meter{}).newPricer(0)
			q := &price.Ask{Duals: values, Demand: make([]int64, len(values)), Round: 1}
			want := number(t, f[1+c])
			if got := only.price(pr, q, 0); got != want {
				t.Errorf("%s, column %d: %d, published or computed %d", f[0], 1+c, got, want)
			}
			if n++; s.To*a.Width > 1e6 {
				continue // a search of its own over so many starts
			}
			var sum int64
			pat := pr.Walk(nil, -1)
			for _, pl := range pat.Places {
				sum += values[pl.Item]
			}
			if _, err := newBruteForce(p, values).value(pat); err != nil || sum != want {
				t.Errorf("%s, column %d: a pattern of %d for %d: %v", f[0], 1+c, sum, want, err)
			}
		}
	}
	t.Logf("%d optima in %v", n, time.Since(start).Round(time.Millisecond))
}
