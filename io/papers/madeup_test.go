package papers

import (
	"bytes"
	"strings"
	"testing"

	"rackwright/io/internal/madeup"
)

// Papers name pieces by what they make, say how glue-ups are glued and gangs parted, and caution.
func TestMadeUp(t *testing.T) {
	readers(t, "pdftotext")
	job, plan := madeup.Plan(t)
	for _, c := range []struct {
		paper Paper
		wants []string
		not   string
	}{
		{Paper{"bench.pdf", Bench}, []string{"Gluing up and parting", "top 1: 7 staves",
			"leg 1-4, spare 1: 4 layers", "shelf 2, stave 3/4 made-buy-", "top, glued",
			"plug, 6 in one: copies 1-6 made-buy-", "rail, spare 2 made-buy-",
			`For top, finished 60" x 35" x 1 1/2"`, "is yours to choose",
			"clamp by the label of the glue", "in a jig or clamp"}, " 20 made-buy-"},
		{Paper{"labels.pdf", Labels}, []string{"top 1, stave 2/7", `joint to 5 1/8" wide`,
			"leg, spare 1, layer 2/4", "plug, 6 in one: copies 1-6", "rail, spare 1"}, "of 20"},
		{Paper{"saw.pdf", Saw}, []string{"C-02 table, top 1, stave 2/7",
			"C-01 bench, block 1, stave 1/2, layer 6/6"}, "stave of 7, "},
	} {
		var b bytes.Buffer
		if err := c.paper.Write(&b, job, plan, Options{}); err != nil {
			t.Fatal(err)
		}
		pages := textOf(t, b.Bytes(), "-layout")
		if c.paper.File == "labels.pdf" {
			pages = textOf(t, b.Bytes(), "-raw")
		}
		text := strings.Join(strings.Fields(strings.Join(pages, " ")), " ")
		text = strings.NewReplacer("\u2013", "-", "\u00a0", " ").Replace(text)
		for _, want := range c.wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not in\n%s", c.paper.File, want, text)
			}
		}
		if strings.Contains(text, c.not) {
			t.Errorf("%s: %q is in it", c.paper.File, c.not)
		}
	}
}
