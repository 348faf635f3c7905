// Published solves published bin-packing instances and counts the optima found and proven.
//
//	go run ./benchmarks/published -data DIR [-sample N] [-work N]
//
// DIR holds bpplib/*.txt and *.zip of M. Delorme, M. Iori, S. Martello, BPPLIB: a library for bin
// packing and cutting stock problems, Optimization Letters 12 (2018) 235-250, one instance a line:
// name, capacity, types, items, lower bound, upper bound, source, width:demand ... The licence of
// the files forbids shipping them. It fails where a value is below a published lower bound, a bound
// above a published upper one, or a plan is not legal.
package main

import (
	"archive/zip"
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"rackwright/io/table"
	"rackwright/nest/baseline"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

var classes = []string{"falkenauer_u.txt", "falkenauer_t.txt", "scholl_1.txt", "scholl_2.txt",
	"scholl_3.txt", "waescher.txt", "schwerin_1.txt",
	"schwerin_2.txt", "hard28.txt", "ai.zip", "ani.zip"}

func main() {
	data := flag.String("data", "", "folder with bpplib/")
	sample := flag.Int("sample", 0, "how many instances of each class, evenly spread; 0 is all")
	work := flag.Int64("work", 5000, "work limit of an instance, in millions of basic steps")
	only := flag.String("class", "", "this class only, such as hard28")
	flag.Parse()
	if err := run(*data, *only, *sample, *work*1e6, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "published:", err)
		os.Exit(1)
	}
}

func run(data, only string, sample int, work int64, out io.Writer) error {
	var rows [][]string
	for _, class := range classes {
		name := strings.TrimSuffix(strings.TrimSuffix(class, ".txt"), ".zip")
		if only != "" && name != only {
			continue
		}
		all, err := read(filepath.Join(data, "bpplib", class))
		if err != nil {
			return err
		}
		found, proven, n, start, slowest := 0, 0, 0, time.Now(), time.Duration(0)
		for _, i := range spread(len(all), sample) {
			t := time.Now()
			r := all[i].solve(work)
			slowest = max(slowest, time.Since(t))
			if err := all[i].judge(&r); err != nil {
				return fmt.Errorf("%s: %w", all[i].name, err)
			}
			n++
			if r.Value == all[i].optimum*coin {
				found++
			}
			if r.Value-r.Bound < coin {
				proven++
			}
		}
		mean := time.Since(start) / time.Duration(max(1, n))
		rows = append(rows, []string{name, strconv.Itoa(n), strconv.Itoa(found),
			strconv.Itoa(proven), fmt.Sprintf("%.3f s", mean.Seconds()),
			fmt.Sprintf("%.2f s", slowest.Seconds())})
	}
	right := func(name string) table.Column { return table.Column{Name: name, Align: table.Right} }
	return table.Write(out, 100, []table.Column{{Name: "class"}, right("instances"),
		right("optimum found"), right("proven"), right("mean"), right("slowest")}, rows)
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

// coin is how many ticks a bin costs: duals are whole ticks.
const coin = 1 << 20

type instance struct {
	name    string
	optimum int64
	problem cutting.Problem
}

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
		i := instance{name: cells[0], optimum: number(cells[5])}
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
func (i *instance) solve(work int64) cutstock.Result {
	var list []int
	for n, it := range i.problem.Items {
		for range it.Demand {
			list = append(list, n)
		}
	}
	uses, _ := baseline.Plan(context.Background(), &i.problem, []bool{false}, list,
		baseline.FirstFitDecreasing)
	return cutstock.Solve(context.Background(), &i.problem,
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
