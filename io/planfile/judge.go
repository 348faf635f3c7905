package planfile

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// judgeSpan says what no ripped span can be.
func judgeSpan(bad func(format string, args ...any), p *model.Placement) {
	switch {
	case p.RipFrom < 0:
		bad("board %s: rip_from %d is below 0", p.Board, int64(p.RipFrom))
	case p.RipFrom >= p.RipTo:
		bad("board %s: rip_from %d is not before rip_to %d", p.Board, int64(p.RipFrom),
			int64(p.RipTo))
	case p.First != model.RipFirst:
		bad("board %s: it has a span to be ripped first, and first is %q", p.Board, p.First)
	}
}

// judgeWork says what no order of work can be.
func judgeWork(bad func(format string, args ...any), w *model.Work) {
	known := []model.Way{model.LeastTime, model.LeastClutter}
	if !slices.Contains(known, w.Order) {
		bad("work: order %q is not known", w.Order)
	}
	if len(w.Ways) != len(known) {
		bad("work: there are %d ways, not %d", len(w.Ways), len(known))
		return
	}
	for n, way := range w.Ways {
		if way.Way != known[n] {
			bad("work: way %d is %q, not %q", n+1, way.Way, known[n])
		}
		if way.Settings < 0 || way.Lifts < 0 || way.Minutes < 0 || way.Open < 0 {
			bad("work: a number of way %q is below 0", way.Way)
		}
	}
}

// judgeRevision says what no plan can hold of the one before it.
func judgeRevision(bad func(format string, args ...any), version int, r *model.Revision) {
	if version != MadeVersion && (version == RevisionVersion) != (r != nil) {
		bad("version %d has revision, and no other has", RevisionVersion)
	}
	if r == nil {
		return
	}
	if hash, err := hex.DecodeString(r.Of); err != nil || len(hash) != sha256.Size ||
		r.Of != strings.ToLower(r.Of) {
		bad("revision: of %q is no SHA-256", r.Of)
	}
	if r.Number < 2 || r.Changed < 0 || r.Change < 0 || r.Counts < 0 {
		bad("revision: the number is below 2, or another below 0")
	}
	if r.Change > model.DearestBoard {
		bad("revision: change %v is more than %v", r.Change, model.DearestBoard)
	}
	for n := range r.Before {
		judgePlacement(bad, &r.Before[n].Placement)
	}
}

// judgePlacement says what no layout of a board can be.
func judgePlacement(bad func(format string, args ...any), p *model.Placement) {
	switch p.First {
	case model.NotRipped, model.CrosscutFirst, model.RipFirst:
	default:
		bad("board %s: first %q is not known", p.Board, p.First)
	}
	if p.RipFrom != 0 || p.RipTo != 0 {
		judgeSpan(bad, p)
	}
}

// judge says what no plan of ours can hold, whatever the job.
func judge(m *model.Mistakes, doc *document) {
	bad := func(format string, args ...any) { m.Add(wrong(0, fmt.Sprintf(format, args...))) }
	if doc.Format != Format {
		bad("the format is %q, not %q", doc.Format, Format)
	}
	if doc.Currency != doc.Job.Settings.Currency {
		bad("the currency is %q at the top and %q in the settings", doc.Currency,
			doc.Job.Settings.Currency)
	}
	if doc.Date != "" && !model.ValidDate(doc.Date) {
		bad("the date is %q, which is no date", doc.Date)
	}
	judgeWork(bad, &doc.Work)
	judgeRevision(bad, doc.Version, doc.Revision)
	judgeMadeUp(bad, doc)
	for n := range doc.Placements {
		judgePlacement(bad, &doc.Placements[n])
	}
	for n := range doc.Groups {
		g := &doc.Groups[n]
		judgeWants(bad, g)
		switch g.Proof {
		case model.Optimal, model.Feasible:
		default:
			bad("group %q: proof %q is not known", g.Name, g.Proof)
		}
		switch g.Ended {
		case model.Finished, model.WorkLimit, model.Clock, model.Interrupted:
		default:
			bad("group %q: ended %q is not known", g.Name, g.Ended)
		}
	}
}
