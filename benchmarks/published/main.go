// Published solves published bin-packing instances and counts the optima found and proven.
//
//	go run ./benchmarks/published -data DIR [-class A,B] [-sample N] [-work N] [-seconds N]
//		[-jobs N] [-cbc N]
//
// DIR holds bpplib/*.txt and *.zip of M. Delorme, M. Iori, S. Martello, BPPLIB: a library for bin
// packing and cutting stock problems, Optimization Letters 12 (2018) 235-250, one instance a line:
// name, capacity, types, items, lower bound, upper bound, source, width:demand ... The licence of
// the files forbids shipping them. It fails where a value is below a published lower bound, a bound
// above a published upper one, or a plan is not legal. Where DIR holds results/, published counts
// and times stand beside (peers.go), and with -cbc what CBC makes of small lists (cbc.go).
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"rackwright/benchmarks/told"
)

// limits of one instance.
type limits struct {
	work    int64         // basic steps
	seconds time.Duration // 0: none
}

func main() {
	data := flag.String("data", "", "folder with bpplib/")
	sample := flag.Int("sample", 0, "how many instances of each file, evenly spread; 0 is all")
	work := flag.Int64("work", 5000, "work limit of an instance, in millions of basic steps")
	seconds := flag.Int("seconds", 0, "clock limit of an instance; 0 is none")
	jobs := flag.Int("jobs", 1, "how many instances are solved at once")
	names := flag.String("class", "", "these classes only, such as hard28,ai_202")
	cbc := flag.Int("cbc", 0, "seconds for CBC on the list program where it is small; 0: none")
	verbose := flag.Bool("v", false, "tell of each instance")
	flag.Parse()
	var named []string
	if *names != "" {
		named = strings.Split(*names, ",")
	}
	some, err := classes(*data, named, *sample)
	if err == nil {
		b := bench{limits: limits{*work * 1e6, time.Duration(*seconds) * time.Second}, jobs: *jobs,
			cbc: *cbc, peers: peersIn(*data)}
		if *verbose {
			b.each = os.Stderr
		}
		err = b.table(some, os.Stdout)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "published:", err)
		os.Exit(1)
	}
}

// bench is how the table is made.
type bench struct {
	limits
	jobs  int
	cbc   int // seconds; 0: it is not asked
	peers peers
	each  io.Writer // told of each instance; nil: nobody is
}

// outcome is what came of one instance.
type outcome struct {
	found, proven bool
	took          time.Duration
	err           error
	asked         asked
}

// table writes a row for each class, as soon as it is known.
func (b *bench) table(some []class, out io.Writer) error {
	fmt.Fprintln(out, `| class | run / at hand | optimum found | proven | CPU, mean | slowest |`+
		` peers, same instances: optimal, mean, slowest |`+
		` CBC on small lists: solved, mean | others, whole class |
| --- | --: | --: | --: | --: | --: | --: | --: | --- |`)
	for _, c := range some {
		if len(c.some) == 0 {
			continue
		}
		row, err := b.row(&c)
		if err != nil {
			return err
		}
		fmt.Fprintln(out, row)
	}
	return nil
}

// row solves a class, and gives what came of it.
func (b *bench) row(c *class) (string, error) {
	var found, proven, lists, solved int
	var slowest, asking time.Duration
	begun := told.CPUTime()
	count := func(n *int, is bool) {
		if is {
			*n++
		}
	}
	for n, o := range b.all(c.some) {
		if o.err != nil {
			return "", fmt.Errorf("%s: %w", c.some[n].name, o.err)
		}
		count(&found, o.found)
		count(&proven, o.proven)
		count(&lists, o.asked.listed)
		count(&solved, o.asked.solved)
		slowest, asking = max(slowest, o.took), asking+o.asked.took
	}
	mean := (told.CPUTime() - begun).Seconds() / float64(len(c.some))
	cbc := ""
	if lists > 0 {
		cbc = fmt.Sprintf("%d of %d, %.2f s", solved, lists, asking.Seconds()/float64(lists))
	}
	return fmt.Sprintf("| %s | %d / %d | %d | %d | %.2f s | %.1f s | %s | %s | %s |", c.name,
		len(c.some), c.atHand, found, proven, mean,
		slowest.Seconds(), b.peers.same(c), cbc, b.peers.others(c)), nil
}

// all solves instances, some at once; one that breaks a rule ends the rest.
func (b *bench) all(some []instance) []outcome {
	out, next := make([]outcome, len(some)), make(chan int)
	var running sync.WaitGroup
	for range max(1, b.jobs) {
		running.Go(func() {
			for n := range next {
				out[n] = b.one(&some[n])
			}
		})
	}
	for n := range some {
		next <- n
	}
	close(next)
	running.Wait()
	return out
}

func (b *bench) one(i *instance) (o outcome) {
	ctx, begun := context.Background(), time.Now()
	if b.seconds > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, b.seconds)
		defer cancel()
	}
	r := i.solve(ctx, b.work)
	o = outcome{found: r.Value == i.optimum*coin, proven: r.Value-r.Bound < coin,
		took: time.Since(begun), err: i.judge(&r)}
	if o.err == nil && b.cbc > 0 {
		o.asked, o.err = i.ask(&r, b.cbc)
	}
	if b.each != nil {
		fmt.Fprintf(b.each, "%s: optimum %d, value %d, bound %.4f, proven %t, %.2f s\n", i.name,
			i.optimum, r.Value/coin, float64(r.Bound)/coin, o.proven, o.took.Seconds())
	}
	return o
}
