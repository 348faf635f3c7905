package drawing

import (
	"bytes"
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"rackwright/io/layout"
)

var update = flag.Bool("update", false, "write the expected drawings anew")

// The drawing of a small board, looked at once, stays as it is.
func TestSmallBoard(t *testing.T) {
	s, job, plan := smallBoard()
	var out bytes.Buffer
	scene := Board(layout.Boards(job, plan)[0], s, Options{Width: 180_000, Alone: true,
		Head: []string{"Board B-07, from the rack, bin C2: ash 4/4"}})
	if err := scene.SVG(&out); err != nil {
		t.Fatal(err)
	}
	const file = "testdata/small.svg"
	if *update {
		if err := os.WriteFile(file, out.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), want) {
		t.Errorf("the drawing is another one than %s: look at it, then run with -update", file)
	}
}

// The cuts are numbered as they are on the board, or as the caller has it: once each.
func TestNumbers(t *testing.T) {
	s, job, plan := smallBoard()
	b := layout.Boards(job, plan)[0]
	texts := func(opt Options) (all []string) {
		for _, shape := range Board(b, s, opt).Shapes {
			if x, ok := shape.(*Text); ok && strings.Contains(x.Text, ": ") {
				all = append(all, x.Text)
			}
		}
		slices.Sort(all)
		return all
	}
	for _, c := range []struct {
		opt  Options
		want []string
	}{
		{Options{}, []string{`1: 1/4"`, `2: 30 1/4"`, `3: 48 3/8"`, `4: fence 2 1/2"`}},
		{Options{Numbers: map[int]int{1: 17, 2: 18, 3: 19, 4: 203}},
			[]string{`17: 1/4"`, `18: 30 1/4"`, `19: 48 3/8"`, `203: fence 2 1/2"`}},
	} {
		if got := texts(c.opt); !slices.Equal(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// What the font has is drawn: Latin, Greek and Cyrillic letters, as its makers say. Else a box is.
func TestDrawable(t *testing.T) {
	for text, want := range map[string]string{
		"Étagère, e\u0301tage\u0300re": "Étagère, étagère",
		"3/16 ½ ⅜ × ±":                 "3/16 ½ ⅜ × ±",
		"ель σκάλα":                    "ель σκάλα",
		"שולחן":                        "□□□□□",
		"🪑 a":                          "□ a",
		"👩\u200d🔧":                     "□□",
		"x\u20dd":                      "x",
		"木":                            "□",
		"~ 35 1/4\" … –":               "~ 35 1/4\" … –",
	} {
		if got := Drawable(text); got != want {
			t.Errorf("%q is drawn %q, want %q", text, got, want)
		}
	}
}

// A text is as wide as the sum of its advances. Of 2048 units to an em a digit has 1139 in both
// fonts: read in the tables head, cmap and hmtx of their files by hand, as OpenType lays them down.
func TestTextWidth(t *testing.T) {
	for _, c := range []struct {
		text string
		size int
		want int
	}{{"", 3000, 0}, {"0", 2048, 1139}, {"0123456789", 2048, 11390}, {"00", 1, 2}} {
		for _, bold := range []bool{false, true} {
			if got := TextWidth(c.text, bold, c.size); got != c.want {
				t.Errorf("%q, %v: %d, want %d", c.text, bold, got, c.want)
			}
		}
	}
}
