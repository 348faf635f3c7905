package main

import (
	"archive/zip"
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"rackwright/nest/baseline"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// instance is one published problem.
type instance struct {
	name    string
	pieces  int64
	optimum int64
	problem cutting.Problem
}

// class is a row of the table: some instances, of so many at hand.
type class struct {
	name   string
	atHand int
	some   []instance
}

// files of the classes, in the order of the table.
var files = []string{"falkenauer_u.txt", "falkenauer_t.txt", "scholl_1.txt", "scholl_2.txt",
	"scholl_3.txt", "waescher.txt", "schwerin_1.txt", "schwerin_2.txt", "hard28.txt", "random.zip",
	"gi.zip", "ai.zip", "ani.zip"}

// bySize are files of which each number of pieces is a class.
var bySize = []string{"ai", "ani"}

// classes gives an evenly spread sample of each file; of the classes or files named only, where
// any are.
func classes(data string, named []string, sample int) (out []class, err error) {
	for _, file := range files {
		name := strings.TrimSuffix(file, filepath.Ext(file))
		if len(named) > 0 && !slices.ContainsFunc(named, func(n string) bool {
			return n == name || strings.HasPrefix(n, name+"_")
		}) {
			continue
		}
		all, err := read(filepath.Join(data, "bpplib", file))
		if err != nil {
			return nil, err
		}
		classOf := func(i *instance) string {
			if slices.Contains(bySize, name) {
				return fmt.Sprintf("%s_%d", name, i.pieces)
			}
			return name
		}
		all = slices.DeleteFunc(all, func(i instance) bool {
			return len(named) > 0 && !slices.Contains(named, name) &&
				!slices.Contains(named, classOf(&i))
		})
		var rows []class // of this file
		rowOf := func(name string) *class {
			n := slices.IndexFunc(rows, func(c class) bool { return c.name == name })
			if n < 0 {
				n, rows = len(rows), append(rows, class{name: name})
			}
			return &rows[n]
		}
		for n := range all {
			rowOf(classOf(&all[n])).atHand++
		}
		for _, n := range spread(len(all), sample) {
			row := rowOf(classOf(&all[n]))
			row.some = append(row.some, all[n])
		}
		out = append(out, rows...)
	}
	return out, nil
}

// spread gives the indices of a sample.
func spread(n, sample int) (out []int) {
	if sample <= 0 || sample > n {
		sample = n
	}
	for i := range sample {
		out = append(out, i*n/sample)
	}
	return out
}

// coin is how many ticks a bin costs: duals are whole ticks. The finer they are, the shorter is a
// list for a plan without any waste: what rounding takes off the bound is waste that may be.
const coin = 1 << 30

func read(path string) ([]instance, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if !strings.HasSuffix(path, ".zip") {
		return parse(f)
	}
	z, err := zip.OpenReader(path)
	if err != nil {
		return nil, err
	}
	defer z.Close()
	var out []instance
	for _, in := range z.File {
		r, err := in.Open()
		if err != nil {
			return nil, err
		}
		some, err := parse(r)
		r.Close()
		if err != nil {
			return nil, err
		}
		out = append(out, some...)
	}
	return out, nil
}

func parse(r io.Reader) (out []instance, err error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		cells := strings.Split(lines.Text(), "\t")
		if strings.HasPrefix(cells[0], "#") || len(cells) < 8 {
			continue
		}
		number := func(s string) int64 {
			n, e := strconv.ParseInt(s, 10, 64)
			if e != nil {
				err = e
			}
			return n
		}
		i := instance{name: cells[0], pieces: number(cells[3]), optimum: number(cells[5])}
		stock := cutting.Stock{To: number(cells[1]), Cost: coin, Supply: cutting.Any}
		for n, pair := range strings.Fields(cells[7]) {
			size, demand, _ := strings.Cut(pair, ":")
			i.problem.Items = append(i.problem.Items,
				cutting.Item{Size: number(size), Demand: number(demand)})
			stock.Holds = append(stock.Holds, n)
		}
		i.problem.Stocks, i.problem.Coin = []cutting.Stock{stock}, coin
		out = append(out, i)
	}
	if err == nil {
		err = lines.Err()
	}
	return out, err
}

// solve starts from first fit, longest first.
func (i *instance) solve(ctx context.Context, work int64) cutstock.Result {
	var list []int
	for n, it := range i.problem.Items {
		for range it.Demand {
			list = append(list, n)
		}
	}
	uses, _ := baseline.Plan(ctx, &i.problem, []bool{false}, list,
		baseline.FirstFitDecreasing)
	return cutstock.Solve(ctx, &i.problem,
		cutstock.Options{Work: work, Starts: [][]cutting.Use{uses}})
}

// judge checks a plan by the instance alone, and value and bound by the published optimum.
func (i *instance) judge(r *cutstock.Result) error {
	left := make([]int64, len(i.problem.Items))
	for n := range left {
		left[n] = i.problem.Items[n].Demand
	}
	var bins int64
	for _, u := range r.Uses {
		bins += u.Times
		var length int64
		for _, p := range u.Pattern.Places {
			length += i.problem.Items[p.Item].Size
			left[p.Item] -= u.Times
		}
		if length > i.problem.Stocks[0].To {
			return fmt.Errorf("a bin holds %d of %d", length, i.problem.Stocks[0].To)
		}
	}
	for n := range left {
		if left[n] != 0 {
			return fmt.Errorf("item %d: %d left", n, left[n])
		}
	}
	if bins*coin != r.Value || bins < i.optimum || r.Bound > i.optimum*coin {
		return fmt.Errorf("bins %d, value %d, bound %d ticks of %d; the published optimum is %d",
			bins, r.Value, r.Bound, coin, i.optimum)
	}
	return nil
}
