//go:build lpsolve

package choosing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// The reference: every filling of every stock within what is useful, every way and every set of
// staves, as one integer program that CBC solves through a file,
//
//	min   sum cost_p x_p + sum F_j f_j
//	s.t.  sum a_ip x_p - sum of the pieces of y  >=  d_i   for each item
//	      sum g y + f_j  >=  D_j                           for each want
//	      sum of x_p of s  <=  supply_s,   x, y, f whole
//
// Neither the fillings nor the solver share code with the search.
type reference struct {
	cost []string // terms
	rows [][]string
	rhs  []string
	vars []string
}

// add adds a variable with its cost and its coefficients by row.
func (m *reference) add(cost int64, coefs map[int]int64) {
	name := fmt.Sprint("x", len(m.vars))
	m.vars = append(m.vars, name)
	m.cost = append(m.cost, fmt.Sprintf("%+d %s", cost, name))
	for row, c := range coefs {
		m.rows[row] = append(m.rows[row], fmt.Sprintf("%+d %s", c, name))
	}
}

func newReference(p *cutting.Problem) *reference {
	items, wants := len(p.Items), len(p.Wants)
	m := &reference{rows: make([][]string, items+wants+len(p.Stocks))}
	for i := range p.Items {
		m.rhs = append(m.rhs, fmt.Sprintf(">= %d", p.Items[i].Demand))
	}
	for j := range p.Wants {
		m.rhs = append(m.rhs, fmt.Sprintf(">= %d", p.Wants[j].Demand))
	}
	useful := p.Useful()
	for s := range p.Stocks {
		st := &p.Stocks[s]
		supply := st.Supply
		if supply == cutting.Any {
			supply = 1000
		}
		m.rhs = append(m.rhs, fmt.Sprintf("<= %d", supply))
		counts := map[int]int64{}
		var fill func(k int, used, pieces int64)
		fill = func(k int, used, pieces int64) {
			if k == len(st.Holds) {
				if pieces > 0 {
					coefs := map[int]int64{items + wants + s: 1}
					for i, n := range counts {
						if n > 0 {
							coefs[i] = n
						}
					}
					m.add(st.Cost-st.Slope*max(0, st.To-used-p.Kerf-st.Keep), coefs)
				}
				return
			}
			i := st.Holds[k]
			for n := int64(0); n <= useful[i]; n++ {
				counts[i] = n
				fill(k+1, used, pieces+n)
				add := p.Items[i].Size
				if pieces+n > 0 {
					add += p.Kerf
				}
				if used += add; used > st.To {
					break
				}
			}
			counts[i] = 0
		}
		fill(0, 0, 0)
	}
	for j := range p.Wants {
		w := &p.Wants[j]
		for _, way := range w.Ways {
			m.add(0, map[int]int64{way.Item: -way.Pieces, items + j: way.Copies})
		}
		for at := range w.Covers {
			c := &w.Covers[at]
			for _, counts := range everySet(c, c.Need, 0) {
				coefs := map[int]int64{items + j: 1}
				for k, n := range counts {
					if n > 0 {
						coefs[c.Staves[k].Item] -= n * c.Layers
					}
				}
				m.add(0, coefs)
			}
		}
		if w.Forgo != cutting.Any {
			m.add(w.Forgo, map[int]int64{items + j: 1})
		}
	}
	return m
}

// solve is what CBC finds.
func (m *reference) solve(t *testing.T) int64 {
	t.Helper()
	var b strings.Builder
	b.WriteString("Minimize\n obj:")
	for _, term := range m.cost {
		b.WriteString(" " + term + "\n")
	}
	b.WriteString("Subject To\n")
	for n, terms := range m.rows {
		if len(terms) > 0 {
			fmt.Fprintf(&b, " r%d: %s %s\n", n, strings.Join(terms, "\n "), m.rhs[n])
		}
	}
	b.WriteString("Generals\n " + strings.Join(m.vars, "\n ") + "\nEnd\n")
	file, solution := filepath.Join(t.TempDir(), "m.lp"), filepath.Join(t.TempDir(), "m.sol")
	if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	said, err := exec.Command("cbc", file, "ratio", "0", "solve", "solu", solution).CombinedOutput()
	if err != nil {
		t.Fatalf("cbc: %v\n%s", err, said)
	}
	text, err := os.ReadFile(solution)
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	var claim float64
	if _, err := fmt.Sscanf(string(text), "Optimal - objective value %g", &claim); err != nil {
		t.Fatalf("cbc ends with %.60q\n%s", text, said)
	}
	return int64(math.Round(claim))
}

// On complete models with wants, bound <= optimum <= value, the optimum being what CBC finds. Where
// no want has covers the search proves its plan.
func TestReferenceOfWants(t *testing.T) {
	r := rand.New(rand.NewPCG(163, 164))
	proven := 0
	for n := range 120 {
		p := tiny(r)
		for s := range p.Stocks { // what an LP file says is read as a float of few digits
			p.Stocks[s].Cost /= coin
			p.Stocks[s].Slope /= coin
		}
		for j := range p.Wants {
			if w := &p.Wants[j]; w.Forgo != cutting.Any {
				w.Forgo /= coin
			}
		}
		best := newReference(p).solve(t)
		for s := range p.Stocks {
			p.Stocks[s].Cost *= coin
			p.Stocks[s].Slope *= coin
		}
		for j := range p.Wants {
			if w := &p.Wants[j]; w.Forgo != cutting.Any {
				w.Forgo *= coin
			}
		}
		best *= coin
		res := Solve(t.Context(), p, simple(p), cutstock.Options{Work: 1e8})
		forgone := p.Forgone(res.Chosen)
		if short(res.Unmet) || res.Value+forgone < best || res.Bound+forgone > best {
			t.Errorf("%d: %+v: costs %d, bound %d; cbc finds %d", n, p, res.Value+forgone,
				res.Bound+forgone, best)
		}
		if res.Value-res.Bound < coin {
			proven++
			if res.Value+forgone != best {
				t.Errorf("%d: costs %d, proven; cbc finds %d", n, res.Value+forgone, best)
			}
		}
	}
	if proven < 60 {
		t.Errorf("only %d proven", proven)
	}
}
