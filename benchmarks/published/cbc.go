package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/along"
)

// CBC, a general solver, on the work that the relaxation leaves. Where the relaxation proves the
// optimum that is to find a plan of so many bins, else to show that none has fewer. By the duals
// pi of the relaxation such a plan of z bins uses only patterns with
//
//	sum pi_i a_ip >= 1 - (z - sum pi_i d_i),
//
// and where these are few the integer program over them is written down for CBC.

// mostListed is how many patterns are few.
const mostListed = 5000

// asked is what came of asking CBC.
type asked struct {
	listed bool // the list is short enough
	solved bool // in time
	took   time.Duration
}

// ask asks CBC for so many seconds, after a search gave r.
func (i *instance) ask(r *cutstock.Result, seconds int) (a asked, err error) {
	bins := i.optimum
	if r.PlainBound <= (bins-1)*coin {
		bins--
	}
	list, ok := i.list(r, bins)
	if !ok {
		return a, nil
	}
	dir, err := os.MkdirTemp("", "published")
	if err != nil {
		return a, err
	}
	defer os.RemoveAll(dir)
	file, solution := filepath.Join(dir, "a.lp"), filepath.Join(dir, "a.sol")
	if err := os.WriteFile(file, i.text(list), 0o600); err != nil {
		return a, err
	}
	cbc := exec.Command("cbc", file, "sec", strconv.Itoa(seconds), "solve", "solu", solution)
	said, err := cbc.CombinedOutput()
	if err != nil {
		return a, fmt.Errorf("cbc: %w\n%s", err, said)
	}
	text, err := os.ReadFile(solution)
	if err != nil {
		return a, fmt.Errorf("%w\n%s", err, said)
	}
	a.listed, a.took = true, cbc.ProcessState.UserTime()
	first, _, _ := strings.Cut(string(text), "\n")
	var value float64
	_, none := fmt.Sscanf(first, "Optimal - objective value %g", &value)
	switch {
	case none == nil:
		a.solved = true
		if int64(math.Round(value)) < i.optimum {
			return a, fmt.Errorf("cbc finds %g bins", value)
		}
	case strings.Contains(strings.ToLower(first), "infeasible"):
		if a.solved = true; bins == i.optimum {
			return a, fmt.Errorf("no plan over the list of %d patterns", len(list))
		}
	}
	return a, nil
}

// list gives the patterns that a plan of so many bins can use; false where they are too many.
func (i *instance) list(r *cutstock.Result, bins int64) ([]cutting.Pattern, bool) {
	cert := r.Certificate
	if cert == nil || cert.Leaf == nil {
		cert = r.Plain
	}
	if cert == nil || cert.Leaf == nil {
		return nil, false
	}
	ask := &price.Ask{Duals: cert.Leaf.Duals, Round: 1}
	var proven int64
	for n := range i.problem.Items {
		ask.Demand = append(ask.Demand, i.problem.Items[n].Demand)
		proven += ask.Duals[n] * ask.Demand[n]
	}
	var meter price.Meter
	pricer := along.NewMaker(&i.problem, &meter).Pricer(0)
	best := pricer.Price(ask)
	if best > coin { // duals of another bound
		return nil, false
	}
	l, ok := pricer.List(&price.Listing{Ask: ask, Most: mostListed}, best,
		coin-(bins*coin-proven))
	return l.Patterns(), ok
}

// text is the program over a list in the LP format.
func (i *instance) text(list []cutting.Pattern) []byte {
	rows := make([]bytes.Buffer, len(i.problem.Items))
	var cost, whole, b bytes.Buffer
	for j := range list {
		fmt.Fprintf(&cost, " + x%d\n", j)
		fmt.Fprintf(&whole, " x%d\n", j)
		items, counts := cutting.Tally(list[j].Places)
		for n, item := range items {
			fmt.Fprintf(&rows[item], " + %d x%d\n", counts[n], j)
		}
	}
	fmt.Fprintf(&b, "Minimize\n cost: none\n%sSubject To\n", &cost)
	for n := range rows { // none keeps a row from being empty; it is zero
		fmt.Fprintf(&b, " item%d: none\n%s >= %d\n", n, &rows[n], i.problem.Items[n].Demand)
	}
	fmt.Fprintf(&b, "Bounds\n none = 0\nGeneral\n%sEnd\n", &whole)
	return b.Bytes()
}
