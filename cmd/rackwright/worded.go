package main

import (
	"bytes"
	"errors"
	"io"
	"maps"
	"slices"
	"sync"

	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
	"rackwright/io/page"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/model/beside"
	"rackwright/model/makeup"
)

// worded is a plan as all that is written and said of it.
type worded struct {
	job     *model.Job // as it is made
	plan    *model.Plan
	files   map[string]*place.Text
	summary []byte   // empty when quiet
	remarks []string // likewise
	err     error
}

// word puts a plan into words. The page sets it against the ways.
func (e *env) word(job *model.Job, plan *model.Plan, ways []page.Way) *worded {
	p := &worded{job: makeup.AsMade(job, plan.Made), plan: plan, files: map[string]*place.Text{}}
	writers := folder.Writers(p.job, plan)
	writers[folder.Page] = func(w io.Writer) error { return page.Write(w, p.job, plan, ways) }
	// the page first, which takes longest
	names := append([]string{folder.Page}, slices.DeleteFunc(slices.Sorted(maps.Keys(writers)),
		func(name string) bool { return name == folder.Page })...)
	errs := make([]error, len(names)+2)
	for _, name := range names {
		p.files[name] = new(place.Text)
	}
	var summary bytes.Buffer
	beside.Each(len(errs), 0, func(i int) {
		switch said := i - len(names); {
		case said < 0:
			errs[i] = writers[names[i]](p.files[names[i]])
		case e.Quiet:
		case said == 0:
			errs[i] = report.Summary(&summary, p.job, plan, e.Columns())
		default:
			p.remarks = remarksOn(p.job, plan)
		}
	})
	p.summary, p.err = summary.Bytes(), errors.Join(errs...)
	return p
}

// standby keeps the last plan that was made ready beside a search, in words.
type standby struct {
	word func(*model.Plan) *worded

	mu           sync.Mutex
	last, making *underWay
}

// underWay is a plan that is being put into words.
type underWay struct {
	plan *model.Plan
	done chan struct{} // closed once the rest is known
	out  beside.Outcome[*worded]
}

// make puts a plan into words.
func (s *standby) make(plan *model.Plan) {
	u := &underWay{plan: plan, done: make(chan struct{})}
	s.mu.Lock()
	s.making = u
	s.mu.Unlock()
	u.out = <-beside.Aside(func() *worded { return s.word(plan) })
	close(u.done)
	s.mu.Lock()
	s.last, s.making = u, nil
	s.mu.Unlock()
}

// of is a plan in words, once it has been put into them; nil where it was not made ready.
func (s *standby) of(plan *model.Plan) *worded {
	s.mu.Lock()
	all := []*underWay{s.last, s.making}
	s.mu.Unlock()
	for _, u := range all {
		if u != nil && u.plan == plan {
			<-u.done
			return u.out.Get()
		}
	}
	return nil
}
