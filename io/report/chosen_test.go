package report

import (
	"bytes"
	"strings"
	"testing"

	"rackwright/io/internal/madeup"
	"rackwright/model"
)

// toldOf is what explain says of a part as it was entered, in one line.
func toldOf(t *testing.T, name string, at *Planned, width int) string {
	t.Helper()
	job := madeup.Job()
	for i := range job.Parts {
		if p := &job.Parts[i]; p.Name == name {
			var b bytes.Buffer
			if err := Explain(&b, job, p, []*model.Part{p}, at, width); err != nil {
				t.Fatal(err)
			}
			for line := range strings.SplitSeq(b.String(), "\n") {
				if len([]rune(line)) > width {
					t.Errorf("longer than %d: %s", width, line)
				}
			}
			return strings.Join(strings.Fields(b.String()), " ")
		}
	}
	t.Fatal("there is no such part")
	return ""
}

// Explain says which way the plan at hand takes, and what the next would cost by area. By hand: 5 x
// 18.8098 = 94.0490 and 5 x 21.2369 = 106.1845; of plugs two blanks of six cost 2 x 1.3679, two of
// five 2 x 1.1488, and three of four 3 x 0.9296 = 2.7888.
func TestChosen(t *testing.T) {
	job, plan := madeup.Plan(t)
	at := &Planned{Job: job, Plan: plan, Where: "out"}
	for name, wants := range map[string][]string{
		"top": {"Made up: staves as the plan chooses.", "Nothing holds it in one piece.",
			`7 staves of 5 1/8" net from 2x6: 7 pieces 60" by 5 1/8" by 1 1/2"`,
			`In the plan in out, with wood by area: copy 1: 7 staves of 5 1/8" net from 2x6, for ` +
				`37.8847 the next is 15 staves of 2 3/8" net from 2x6, for 40.5908 - 37.8847 = ` +
				"2.7061 more"},
		"leg": {"Made up: layers as the plan chooses.",
			"copies 1-5: 4 layers from 4/4 rough, for 94.0490 the next is 2 layers from 8/4 " +
				"rough, for 106.1845 - 94.0490 = 12.1355 more",
			"Spare: up to 1 copy more", "The plan in out makes 1."},
		"shelf": {`copies 1-2: 2 to 7 staves of random widths from 4/4 rough, of 1 1/2" + 1 1/2" ` +
			`+ 3" + 4 1/2" net, for `},
		"plug": {"copies 1-10: 6 in one blank from 1x4, for 2.7358 by area the cheapest is 10 in " +
			"one blank from 1x4, for 2.7358 - 2.2445 = 0.4913 less the next is 4 in one blank " +
			"from 1x4, for 2.7888 - 2.7358 = 0.0530 more"},
		"rail": {"Spare: up to 2 copies more, each only where it raises the net wood cost by no " +
			"more than 0.00 ([spare] at_most). The plan in out makes 2."},
	} {
		for _, width := range []int{80, 140} {
			text := toldOf(t, name, at, width)
			for _, want := range wants {
				if !strings.Contains(text, want) {
					t.Errorf("%s: %q is not in\n%s", name, want, text)
				}
			}
		}
	}
}

// Without a plan, or with one of another row, nothing is said of what is chosen.
func TestChosenElsewhere(t *testing.T) {
	job, plan := madeup.Plan(t)
	if text := toldOf(t, "top", nil, 80); !strings.Contains(text,
		"Which of them is taken, a plan tells.") {
		t.Error(text)
	}
	other := *job.Entered
	other.Parts = append([]model.Part{}, other.Parts...)
	other.Parts[0].Width += inch
	job.Entered = &other
	at := &Planned{Job: job, Plan: plan, Where: "out"}
	if text := toldOf(t, "top", at, 80); !strings.Contains(text,
		"The plan in out is of another top, as its row has changed since.") ||
		strings.Contains(text, "copy 1:") {
		t.Error(text)
	}
}

// Copies that are short, and those cut as they are, are told apart.
func TestChosenOfShort(t *testing.T) {
	job, plan := madeup.Plan(t)
	cut := *plan
	cut.Made = nil
	cut.Shortages = []model.Shortage{{Commission: "C-02 table", Part: "leg",
		Copies: []int64{2, 3, 4}}}
	at := &Planned{Job: job, Plan: &cut, Where: "out"}
	if text := toldOf(t, "leg", at, 80); !strings.Contains(text,
		"copy 1: in a way that there is no more copies 2-4: short") {
		t.Error(text)
	}
}
