package page

import (
	"bytes"
	"html"
	"strings"
	"testing"

	"rackwright/io/internal/madeup"
)

// The page has parts as they were entered, with what each is made of, and names pieces by that.
func TestMadeUp(t *testing.T) {
	job, plan := madeup.Plan(t)
	var b bytes.Buffer
	if err := Write(&b, job, plan, nil); err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(html.UnescapeString(b.String()), "\u00a0", " ")
	for _, want := range []string{`<b>1 × top</b>, 60" × 35" × 1 1/2", fir, sound: `,
		"<b>5 × leg</b>", "<b>10 × plug</b>", "<b>2 × rail, spare</b>",
		"Copies 1-4, spare 1: 4 layers. Bring the layers", "is yours to choose",
		"C-02 table, top 1, stave 2/7", "Glue-ups: 2 of 4 staves, 1 of 7; ", "clamp by the label",
		"Of these costs spare copies are"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	for _, not := range []string{"stave of 7,", "stave of 7<"} {
		if strings.Contains(text, not) {
			t.Errorf("%q is on the page", not)
		}
	}
}
