package cutlist

import (
	"strings"
	"testing"

	"rackwright/model"
)

// New ids go on after the highest number of their batch and kind on the rack; no other id counts.
func TestNewIDsGoOn(t *testing.T) {
	for _, c := range []struct{ batch, rack, want string }{
		{"", "", "off-1 off-2 buy-1"},
		{"mar", "", "mar-off-1 mar-off-2 mar-buy-1"},
		{"mar", "mar-off-4 mar-off-2", "mar-off-5 mar-off-6 mar-buy-1"},
		{"mar", "mar-buy-9 apr-off-4 off-7 mar-off- mar-off-x9", "mar-off-1 mar-off-2 mar-buy-10"},
		{"mar", "mar-off-3.1 mar-off-3.22", "mar-off-4 mar-off-5 mar-buy-1"},
		{"mar", "MAR-Off-007", "mar-off-8 mar-off-9 mar-buy-1"},
		{"", "off-999999999999 buy-1000000000000",
			"off-1000000000000 off-1000000000001 buy-1"},
	} {
		job := smallJob()
		job.Settings.Batch = c.batch
		for id := range strings.FieldsSeq(c.rack) {
			job.Rack = append(job.Rack, model.Board{ID: id})
		}
		known := *job // by the book alone
		known.Rack, known.Known = nil, nil
		for _, b := range job.Rack {
			known.Known = append(known.Known, b.ID)
		}
		if g := newIDs(&known); c.want != g.give("off")+" "+g.give("off")+" "+g.give("buy") {
			t.Errorf("batch %q, known %q: not %s", c.batch, c.rack, c.want)
		}
		g := newIDs(job)
		if got := g.give("off") + " " + g.give("off") + " " + g.give("buy"); got != c.want {
			t.Errorf("batch %q, rack %q: %s, want %s", c.batch, c.rack, got, c.want)
		}
	}
}
