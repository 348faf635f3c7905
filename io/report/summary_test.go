package report

import (
	"bytes"
	"strings"
	"testing"

	"rackwright/model"
)

// No line passes 80 columns, no word is lost or broken, an indent is kept.
func TestWrap(t *testing.T) {
	text := "  " + strings.Repeat("twelve letters and more ", 12) + "end"
	got := Wrap(text)
	for _, l := range strings.Split(got, "\n") {
		if len(l) > 80 || !strings.HasPrefix(l, "  ") {
			t.Errorf("line %q", l)
		}
	}
	if strings.Join(strings.Fields(got), " ") != strings.Join(strings.Fields(text), " ") {
		t.Errorf("words changed: %q", got)
	}
	if long := strings.Repeat("x", 200); Wrap(long) != long {
		t.Errorf("a long word is broken: %q", Wrap(long))
	}
}

// A gap is never shown smaller and a bound never greater than it is; money rounds to the nearest
// hundredth.
func TestNumbersForPeople(t *testing.T) {
	if got := Percent(1, 10_000_000); got != "0.01 %" {
		t.Errorf("the smallest gap shows as %s", got)
	}
	if got := Percent(0, 10_000_000); got != "0.00 %" {
		t.Errorf("no gap shows as %s", got)
	}
	if got := Percent(5, 0); got != "-" {
		t.Errorf("a gap of a value of 0 shows as %s", got)
	}
	p := printer{job: &model.Job{Settings: model.Settings{Currency: "USD"}}}
	for m, want := range map[model.Money]string{0: "0.00", 49: "0.00", 50: "0.01", -50: "-0.01",
		-49: "0.00", 123450: "12.35", 999950: "100.00"} {
		if got := Money(m); got != want {
			t.Errorf("%d shows as %s, want %s", m, got, want)
		}
	}
	for m, want := range map[model.Money]string{0: "0.00", 99: "0.00", 24572496: "2457.24",
		100: "0.01", -1: "-0.01", -100: "-0.01"} {
		if got := Bound(m, m+1); got != want {
			t.Errorf("a bound of %d shows as %s, want %s", m, got, want)
		}
	}
	if got := Bound(115_875, 115_875); got != Money(115_875) {
		t.Errorf("a bound that is reached shows as %s", got)
	}
	for m, want := range map[model.Money]string{7: "0.0007 USD", 12_801: "1.29 USD",
		12_800: "1.28 USD", 0: "0.00 USD"} {
		if got := p.gap(m); got != want {
			t.Errorf("a gap of %d shows as %s, want %s", m, got, want)
		}
	}
	for n, want := range map[int]string{1: "1 copy", 2: "2 copies", 0: "0 copies"} {
		if got := count(n, "copy"); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
}

// A bound that tells nothing is no promise: neither the sentence nor the table has it as a number.
func TestNoUsefulBound(t *testing.T) {
	job := &model.Job{Settings: model.DefaultSettings()}
	group := func(name string, value, bound model.Money, proof model.Proof,
		ended model.Ended) model.Group {
		return model.Group{Name: name, Value: value, Bound: bound, Proof: proof, Ended: ended}
	}
	told := func(groups ...model.Group) string {
		plan := &model.Plan{Groups: groups}
		for _, g := range groups {
			plan.Value += g.Value
			plan.Bound += g.Bound
		}
		var b bytes.Buffer
		p := printer{w: &b, job: job}
		if p.proof(plan); p.err != nil {
			t.Fatal(p.err)
		}
		return b.String()
	}
	for _, bound := range []model.Money{-50_0000, -1, 0, 99} {
		text := told(group("fir 2x4", 20_0000, bound, model.Feasible, model.Clock),
			group("oak 4/4", 10_0000, 0, model.Feasible, model.Finished))
		for _, want := range []string{
			"\nNo useful bound yet: how near this plan is to the cheapest is not known.",
			"\n  fir 2x4       0     20.00      -    -  no useful bound yet\n",
			"\nSearch: 1 group searched to the end, 1 group ended by the clock.\n"} {
			if !strings.Contains(text, want) {
				t.Errorf("bound %v: %q is missing in\n%s", bound, want, text)
			}
		}
		if strings.Contains(text, "roven:") || strings.Contains(text, "-50") {
			t.Errorf("bound %v: it is promised in\n%s", bound, text)
		}
	}
	text := told(group("fir 2x4", 20_0000, 19_0000, model.Feasible, model.WorkLimit),
		group("oak 4/4", 0, 0, model.Optimal, model.Finished))
	for _, want := range []string{"net wood cost below 19.00.\n",
		"\n  fir 2x4       0     20.00  19.00    5.00 %  not proven cheapest\n",
		"\n  oak 4/4       0      0.00   0.00  0.00 USD  proven cheapest\n",
		"\nSearch: 1 group searched to the end, 1 group ended at the work limit.\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if text := told(group("oak 4/4", 0, 0, model.Optimal, model.Finished)); strings.Contains(text,
		"Search") || !strings.Contains(text, "is\ncheaper.\n") {
		t.Errorf("of a plan proven cheapest it says\n%s", text)
	}
}

// The summary says how many rips there are, how long they are in all, and what they cost where they
// have a price; by hand:
//
//   - lengthsPlan: two rips of the length of 30 in;
//   - stripsPlan: two of 95 in, and one of 20 in that trims a blank;
//   - spanPlan: two of 50 in.
func TestSummaryOfRips(t *testing.T) {
	for _, c := range []struct {
		plan         func() (*model.Job, *model.Plan)
		feet, metres string
	}{{lengthsPlan, "2 rips, 5.0 feet", "2 rips, 1.5 metres"},
		{stripsPlan, "3 rips, 17.5 feet", "3 rips, 5.3 metres"},
		{spanPlan, "2 rips, 8.3 feet", "2 rips, 2.5 metres"}} {
		for _, unit := range []model.Unit{model.Inch, model.Millimetre} {
			job, plan := c.plan()
			job.Settings.Units = unit
			length, per := c.feet, "foot"
			if unit == model.Millimetre {
				length, per = c.metres, "metre"
			}
			told := func() string {
				var b strings.Builder
				if err := Summary(&b, job, plan, 80); err != nil {
					t.Fatal(err)
				}
				return b.String()
			}
			plan.Costs = []model.Cost{{Commission: "C-1 shelf", Cost: 9_7500, Rack: 8_5000,
				Handling: 5000, Ripping: 7500}}
			if text := told(); !strings.Contains(text,
				"\n  Ripping                      0.75   "+length+"\n  Net wood cost") ||
				!strings.Contains(text, "\n  commission   net  yards  rack  handling  offcuts  ") {
				t.Errorf("without a price\n%s", text)
			}
			job.Settings.Ripping = 1250
			if text := told(); !strings.Contains(text,
				"\n  Ripping                      0.75   "+length+", at 0.125 a "+per+"\n") ||
				!strings.Contains(text, "  handling  ripping  offcuts  ") ||
				!strings.Contains(text, "\n  C-1 shelf   9.75   0.00  8.50      0.50     0.75  ") {
				t.Errorf("with a price\n%s", text)
			}
			plan.Placements[0].First, plan.Costs[0].Ripping = model.NotRipped, 0
			if text := told(); !strings.Contains(text,
				"\n  Ripping                      0.00   0 rips, at 0.125 a "+per+"\n") {
				t.Errorf("with a price and no rip\n%s", text)
			}
			if job.Settings.Ripping = 0; strings.Contains(told(), "Ripping  ") {
				t.Errorf("with neither\n%s", told())
			}
		}
	}
}
