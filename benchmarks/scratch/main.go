package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"runtime/pprof"
	"time"

	"rackwright/benchmarks"
	"rackwright/io/csvfile"
	"rackwright/nest"
)

func main() {
	from := flag.Int64("from", 1, "")
	to := flag.Int64("to", 10, "")
	dir := flag.String("dir", "", "")
	prof := flag.String("prof", "", "")
	verbose := flag.Bool("v", false, "")
	work := flag.Int64("work", 0, "")
	flag.Parse()
	if *prof != "" {
		f, _ := os.Create(*prof)
		pprof.StartCPUProfile(f)
		defer pprof.StopCPUProfile()
	}
	for s := *from; s <= *to; s++ {
		d := *dir
		if d == "" {
			d, _ = os.MkdirTemp("", "m")
			if err := benchmarks.WriteMonth(d, s); err != nil {
				panic(err)
			}
		}
		job, _, err := csvfile.ReadJob(os.DirFS(d))
		if err != nil {
			fmt.Println(err)
			return
		}
		t := time.Now()
		opt := nest.Options{Work: *work}
		if *verbose {
			opt.Observe = func(e nest.Event) {
				fmt.Printf("%6.2f %+v gap %.3f%%\n", time.Since(t).Seconds(), e, 100*float64(e.Value-e.Bound)/float64(e.Value))
			}
		}
		p, err := nest.Plan(context.Background(), job, opt)
		if p == nil {
			fmt.Println(err)
			return
		}
		opt2 := 0
		for _, g := range p.Groups {
			if g.Proof == "optimal" {
				opt2++
			}
		}
		es := ""
		if err != nil {
			es = err.Error()
			if len(es) > 400 {
				es = es[:400]
			}
		}
		fmt.Printf("seed %d %.1fs value %v bound %v gap %.3f%% short %d optimal %d/%d %s\n", s, time.Since(t).Seconds(), p.Value, p.Bound, 100*float64(p.Value-p.Bound)/float64(p.Value), len(p.Shortages), opt2, len(p.Groups), es)
	}
}
