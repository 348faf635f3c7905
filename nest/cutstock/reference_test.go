//go:build lpsolve

package cutstock

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/lp/lpsolve"
)

// The reference: every layout of every stock at unit resolution, judged unit by unit, and the
// assignment program over all of them,
//
//	min   sum cost_c x_c
//	s.t.  sum counts_ic x_c = demand_i  for each item
//	      sum of x_c of s <= supply_s   for each stock,  x whole
//
// solved by two outside solvers: lp_solve 5.5 through its library, CBC through a file. Neither the
// layouts nor the solvers share code with this package.

// choice is the best layout of a stock for its counts.
type choice struct {
	stock  int
	counts []int64
	cost   int64 // of the stock, less what its offcuts are worth
}

// assignment is the complete program of a problem.
type assignment struct {
	p       *cutting.Problem
	choices []choice
}

func newAssignment(p *cutting.Problem) assignment {
	a := assignment{p: p}
	for s := range p.Stocks {
		a.choices = append(a.choices, everyChoice(p, s)...)
	}
	return a
}

// shortage is the program of what must stay unmet at least: its cost is the length of that.
func (a *assignment) shortage() assignment {
	stocks := len(a.p.Stocks)
	b := assignment{p: &cutting.Problem{Items: a.p.Items,
		Stocks: append(slices.Clone(a.p.Stocks), cutting.Stock{Supply: cutting.Any}),
		Kerf:   a.p.Kerf}}
	for _, c := range a.choices {
		b.choices = append(b.choices, choice{c.stock, c.counts, 0})
	}
	for i, it := range a.p.Items {
		one := make([]int64, len(a.p.Items))
		one[i] = 1
		b.choices = append(b.choices, choice{stocks, one, it.Size})
	}
	return b
}

// everyChoice finds the best layout of a stock for each set of counts within the demands that has
// one. After each unit x from which a piece may start, done[x][v] is the most that the stretch
// before x can be worth with the counts of v in it.
func everyChoice(p *cutting.Problem, s int) []choice {
	st := &p.Stocks[s]
	sets, plus := countSets(p, s)
	worth := func(from, to int64) int64 { // of a gap
		var sum, run int64
		for x := from; x <= to; x++ {
			if x < to && !slices.ContainsFunc(st.Spots, func(d cutting.Spot) bool {
				return d.From <= x && x < d.To
			}) {
				run++
				continue
			}
			sum += st.Slope * max(0, run-st.Keep)
			run = 0
		}
		return sum
	}
	const none = -1
	unset := slices.Repeat([]int64{none}, len(sets))
	done := make([][]int64, st.To+p.Kerf+1)
	for x := range done {
		done[x] = slices.Clone(unset)
	}
	done[st.From][0] = 0
	for at := st.From; at < st.To; at++ {
		before := slices.Clone(unset) // worth of all before a piece that starts here
		for from := st.From; from <= at; from++ {
			w := worth(from, at-p.Kerf)
			for v, d := range done[from] {
				if d != none {
					before[v] = max(before[v], d+w)
				}
			}
		}
		for _, i := range st.Holds {
			end := at + p.Items[i].Size
			if end > st.To || slices.ContainsFunc(st.Spots, func(d cutting.Spot) bool {
				return !d.Tolerated[p.Items[i].Class] && max(d.From, at) < min(d.To, end)
			}) {
				continue
			}
			for v, b := range before {
				if to := plus[v][i]; b != none && to != none {
					done[end+p.Kerf][to] = max(done[end+p.Kerf][to], b)
				}
			}
		}
	}
	var out []choice
	for v := 1; v < len(sets); v++ { // set 0 is empty
		best := int64(none)
		for from := range done {
			if d := done[from][v]; d != none {
				best = max(best, d+worth(int64(from), st.To))
			}
		}
		if best != none {
			out = append(out, choice{s, sets[v], st.Cost - best})
		}
	}
	return out
}

// countSets gives all counts within the demands whose length is no more than the stock's, none
// first, and the index of each with one more of an item, or -1.
func countSets(p *cutting.Problem, s int) (sets [][]int64, plus [][]int) {
	st := &p.Stocks[s]
	index := map[string]int{}
	add := func(c []int64) int {
		length := -p.Kerf
		for i, n := range c {
			if n > p.Items[i].Demand {
				return -1
			}
			length += n * (p.Items[i].Size + p.Kerf)
		}
		if length > st.To-st.From {
			return -1
		}
		key := fmt.Sprint(c)
		if _, ok := index[key]; !ok {
			index[key] = len(sets)
			sets = append(sets, c)
		}
		return index[key]
	}
	add(make([]int64, len(p.Items)))
	for v := 0; v < len(sets); v++ {
		next := slices.Repeat([]int{-1}, len(p.Items))
		for _, i := range st.Holds {
			c := slices.Clone(sets[v])
			c[i]++
			next[i] = add(c)
		}
		plus = append(plus, next)
	}
	return sets, plus
}

// cost judges what a solver says is a solution by the program alone.
func (a *assignment) cost(t *testing.T, x []int64) (sum int64) {
	t.Helper()
	left, used := make([]int64, len(a.p.Items)), make([]int64, len(a.p.Stocks))
	for i, it := range a.p.Items {
		left[i] = it.Demand
	}
	for c, n := range x {
		for i := range left {
			left[i] -= n * a.choices[c].counts[i]
		}
		used[a.choices[c].stock] += n
		sum += n * a.choices[c].cost
		if n < 0 {
			t.Fatalf("choice %d taken %d times", c, n)
		}
	}
	for s, n := range used {
		if u := a.p.Stocks[s].Supply; u != cutting.Any && n > u {
			t.Fatalf("stock %d used %d times", s, n)
		}
	}
	if slices.ContainsFunc(left, func(n int64) bool { return n != 0 }) {
		t.Fatalf("items left: %v", left)
	}
	return sum
}

// byLibrary gives the optimum by lp_solve, and whether there is one.
func (a *assignment) byLibrary(t *testing.T) (int64, bool) {
	q := lpsolve.New()
	defer q.Free()
	for _, it := range a.p.Items {
		q.AddRow(float64(it.Demand), float64(it.Demand))
	}
	for _, s := range a.p.Stocks {
		if s.Supply == cutting.Any {
			q.AddRow(0, math.Inf(1))
		} else {
			q.AddRow(math.Inf(-1), float64(s.Supply))
		}
	}
	for _, c := range a.choices {
		rows, coefs := []int{len(a.p.Items) + c.stock}, []float64{1}
		for i, n := range c.counts {
			if n > 0 {
				rows, coefs = append(rows, i), append(coefs, float64(n))
			}
		}
		q.AddColumn(float64(c.cost), 0, math.Inf(1), true, rows, coefs)
	}
	switch s := q.Solve(); s {
	case lpsolve.Infeasible:
		return 0, false
	case lpsolve.Optimal:
	default:
		t.Fatal(s)
	}
	x := make([]int64, len(a.choices))
	for c := range x {
		x[c] = int64(math.Round(q.X(c)))
	}
	v := a.cost(t, x)
	if math.Abs(float64(v)-q.Value()) > 0.5 {
		t.Fatalf("lp_solve says %.3f, its solution costs %d", q.Value(), v)
	}
	return v, true
}

// text is the program in the LP format: an objective, named rows, whole columns x0, x1, ... that
// are not negative.
func (a *assignment) text() []byte {
	rows := make([]bytes.Buffer, 1+len(a.p.Items)+len(a.p.Stocks))
	term := func(row int, n int64, c int) { fmt.Fprintf(&rows[row], " %+d x%d\n", n, c) }
	for c, ch := range a.choices {
		term(0, ch.cost, c)
		for i, n := range ch.counts {
			if n > 0 {
				term(1+i, n, c)
			}
		}
		term(1+len(a.p.Items)+ch.stock, 1, c)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "Minimize\n cost:\n%sSubject To\n", &rows[0])
	for i, it := range a.p.Items {
		// The column "none" keeps a row that no choice meets from being empty; it is zero.
		fmt.Fprintf(&b, " item%d: none\n%s = %d\n", i, &rows[1+i], it.Demand)
	}
	for s, st := range a.p.Stocks {
		if st.Supply != cutting.Any {
			fmt.Fprintf(&b, " stock%d: none\n%s <= %d\n", s, &rows[1+len(a.p.Items)+s], st.Supply)
		}
	}
	fmt.Fprint(&b, "Bounds\n none = 0\nGeneral\n")
	for c := range a.choices {
		fmt.Fprintf(&b, " x%d\n", c)
	}
	fmt.Fprint(&b, "End\n")
	return b.Bytes()
}

// byFile gives the optimum by CBC, and whether there is one.
func (a *assignment) byFile(t *testing.T) (int64, bool) {
	file, solution := filepath.Join(t.TempDir(), "a.lp"), filepath.Join(t.TempDir(), "a.sol")
	if err := os.WriteFile(file, a.text(), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command("cbc", file, "solve", "solu", solution).CombinedOutput()
	if err != nil {
		t.Fatalf("cbc: %v\n%s", err, said)
	}
	text, err := os.ReadFile(solution)
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	first, rest, _ := strings.Cut(string(text), "\n")
	if strings.Contains(strings.ToLower(first), "infeasible") {
		return 0, false
	}
	var claim float64
	if _, err := fmt.Sscanf(first, "Optimal - objective value %g", &claim); err != nil {
		t.Fatalf("cbc ends with %q\n%s", first, said)
	}
	x := make([]int64, len(a.choices))
	for line := range strings.Lines(rest) {
		var n, c int
		var v float64
		if _, err := fmt.Sscanf(line, "%d x%d %g", &n, &c, &v); err == nil {
			x[c] = int64(math.Round(v))
		}
	}
	v := a.cost(t, x)
	if math.Abs(float64(v)-claim) > 0.5 {
		t.Fatalf("cbc says %.3f, its solution costs %d", claim, v)
	}
	return v, true
}

// The unit by unit layouts are those of the plain search that lays every piece at every place.
func TestReferenceLayouts(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for n := range 200 {
		p := small(r)
		for s := range p.Stocks {
			layouts := everyLayout(p, s)
			choices := everyChoice(p, s)
			if len(choices) != len(layouts)-1 { // that one is the empty one
				t.Fatalf("case %d, stock %d: %d choices, %d layouts\n%+v", n, s, len(choices),
					len(layouts), p)
			}
			for _, c := range choices {
				l := layouts[fmt.Sprint(c.counts)]
				if l == nil || p.Stocks[s].Cost-l[len(p.Items)] != c.cost {
					t.Fatalf("case %d, stock %d: choice %+v, layout %v\n%+v", n, s, c, l, p)
				}
			}
		}
	}
}

// On whole programs, larger than trying everything could solve, bound <= optimum <= value, the
// optimum being what the outside solvers find.
func TestReference(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	var cases, twice, short, least, optimal, proven, columns int
	for n := range 240 {
		p := random(r, 6, 6, 4, 1+n%3)
		for i := range p.Items {
			if n%2 == 0 { // up to ten pieces on a stock
				p.Items[i].Size = p.Items[i].Size/2 + 1
			}
		}
		a := newAssignment(p)
		if len(p.Items) < 4 || len(a.choices) > large {
			continue
		}
		got := solveWhole(p, Options{Work: 2e8})
		if err := checkResult(p, &got); err != nil {
			t.Fatalf("case %d: %v\n%+v\n%+v", n, err, p, got)
		}
		want, ok := a.optimum(t)
		if unmet := slices.Max(got.Unmet) > 0; unmet == ok {
			t.Fatalf("case %d: all can be met: %v; unmet %v\n%+v", n, ok, got.Unmet, p)
		}
		if !ok { // value and bound are those of meeting the rest
			short++
			rest := a.shortage()
			length, _ := rest.optimum(t)
			ours := int64(0)
			for i, u := range got.Unmet {
				ours += u * p.Items[i].Size
			}
			if ours < length {
				t.Fatalf("case %d: unmet %v, but at least a length of %d is\n%+v", n, got.Unmet,
					length, p)
			}
			if ours == length {
				least++
			}
			a = newAssignment(withDemandMet(p, got.Unmet))
			if want, ok = a.optimum(t); !ok {
				t.Fatalf("case %d: the rest cannot be met either: unmet %v\n%+v", n, got.Unmet, p)
			}
		}
		if got.Bound > want || got.Value < want {
			t.Fatalf("case %d: bound %d, optimum %d, value %d\n%+v\n%+v", n, got.Bound, want,
				got.Value, p, got)
		}
		cases++
		columns += len(a.choices)
		if len(a.choices) <= middling {
			twice++
		}
		if got.Value == want {
			optimal++
		}
		if got.Value == got.Bound {
			proven++
		}
	}
	t.Logf("%d programs of %d columns on average, %d of them solved twice", cases, columns/cases,
		twice)
	t.Logf("value is the optimum in %d, proven in %d", optimal, proven)
	t.Logf("%d short of stock: the least length is unmet in %d", short, least)
	if cases < 80 || twice < cases*50/100 || optimal < cases*85/100 || proven < cases*50/100 ||
		least < short*90/100 {
		t.Errorf("too few of a kind")
	}
}

// Numbers of columns: above large either solver may need minutes for a program, above middling
// lp_solve, which has no cuts.
const large, middling = 150, 60

// optimum is what CBC finds, and lp_solve too where the program is not too large, and whether there
// is one.
func (a *assignment) optimum(t *testing.T) (int64, bool) {
	t.Helper()
	file, ok := a.byFile(t)
	if len(a.choices) <= middling {
		if library, too := a.byLibrary(t); library != file || ok != too {
			t.Fatalf("cbc finds %d (%v), lp_solve %d (%v)\n%+v", file, ok, library, too, a.p)
		}
	}
	return file, ok
}
