package drawing

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rackwright/io/layout"
	"rackwright/model"
)

var looked = os.Getenv("DRAWINGS") // a folder for the drawings of the edge cases, to look at

// along is a board of the given pieces one after the other, with kerfs of 1/8" between.
func along(names []string, sizes []model.Length, wide model.Length) *layout.Board {
	var rows []model.Cut
	at := model.Length(0)
	add := func(kind model.Kind, long model.Length) *model.Cut {
		rows = append(rows, model.Cut{Board: "B-1", Origin: model.FromYard, Material: "ash",
			Section: "4/4", Step: len(rows)/2 + 1, Kind: kind, From: at, To: at + long, Right: wide})
		at += long
		return &rows[len(rows)-1]
	}
	for i, size := range sizes {
		c := add(model.KindPart, size)
		c.Commission, c.Part, c.Copy = "C-1", names[i%len(names)], int64(i+1)
		if i+1 < len(sizes) {
			add(model.KindKerf, model.UnitsPerInch/8)
		}
	}
	return layout.Boards(&model.Job{}, &model.Plan{Cuts: rows})[0]
}

func times(n int, size model.Length) (out []model.Length) {
	for range n {
		out = append(out, size)
	}
	return out
}

// What may come of a job that nobody thought of: all is told, nothing overlaps, and all that is cut
// or left out stands in the key.
func TestEdges(t *testing.T) {
	const inch, mm = model.Length(model.UnitsPerInch), model.Length(model.UnitsPerMillimetre)
	long := strings.Repeat("long name ", 20)
	for _, c := range []struct {
		name  string
		board *layout.Board
		unit  model.Unit
		says  []string // texts of the drawing
		key   []string // beginnings of lines of its key
	}{
		{"60 pieces", along([]string{"wedge"}, times(60, 3*inch/2), 6*inch), model.Inch,
			[]string{"A", "BH"}, []string{"A: C-1, wedge 1; 1 1/2\" x 6\", from 0\" to", "BH: "}},
		{"a 64th of an inch", along([]string{"shim", "rail"}, []model.Length{30 * inch, inch / 64,
			30 * inch}, 5*inch), model.Inch, []string{"A", "B", "C"},
			[]string{"B: C-1, rail 2; 1/64\" x 5\", from 30 1/8\" to 30 9/64\""}},
		{"20 m", along([]string{"beam"}, times(8, 2490*mm), 60*mm), model.Millimetre,
			[]string{"2490 mm", "beam 8", "Marked end left, left edge on top. Width drawn 17 times."},
			nil},
		{"200 characters", along([]string{long}, times(2, 40*inch), 6*inch), model.Inch,
			[]string{"A", "B"}, []string{"A: C-1, " + strings.TrimSpace(long) + " 1; 40\" x 6\""}},
		{"right to left", along([]string{"שולחן", "a\u202eb"}, times(2, 40*inch), 6*inch),
			model.Inch, []string{"שולחן 1", `a\u202eb 2`}, nil},
		{"control characters", along([]string{"a\x1b[2Jb\tc\nd"}, times(1, 40*inch), 6*inch),
			model.Inch, []string{`a\x1b[2Jb\tc\nd 1`}, nil},
		{"markup", along([]string{"<script>x</script>"}, times(1, 40*inch), 6*inch), model.Inch,
			[]string{"<script>x</script> 1"}, nil},
		{"emoji", along([]string{"🪑 👩\u200d🔧"}, times(1, 40*inch), 6*inch), model.Inch,
			[]string{"🪑 👩\u200d🔧 1"}, nil},
	} {
		s := model.DefaultSettingsIn(c.unit)
		k := &sketch{b: c.board, s: &s, opt: Options{Alone: true, Head: []string{c.name}}.usual()}
		scene := k.draw()
		haveRoom(t, scene)
		told(t, k, scene)
		texts, key := map[string]bool{}, "\n"
		for _, shape := range scene.Shapes {
			if x, ok := shape.(*Text); ok {
				texts[x.Text] = true
			}
		}
		for _, line := range scene.Key {
			key += line.Letter + ": " + line.Text + "\n"
		}
		for _, text := range c.says {
			if !texts[text] {
				t.Errorf("%s: %q is not in the drawing: %v", c.name, text, texts)
			}
		}
		for _, line := range c.key {
			if !strings.Contains(key, "\n"+line) {
				t.Errorf("%s: %q is not in the key:%s", c.name, line, key)
			}
		}
		backends(t, c.name, scene)
	}
}

// backends writes a scene in all forms, to be looked at where a folder for it is named.
func backends(t *testing.T, name string, scene *Scene) {
	var svg, picture bytes.Buffer
	if err := scene.SVG(&svg); err != nil {
		t.Error(err)
	}
	if strings.Contains(svg.String(), "<script") {
		t.Errorf("%s: markup of a name is in the SVG", name)
	}
	if err := scene.PNG(&picture, 100); err != nil {
		t.Error(err)
	}
	pdf := write(t, scene)
	if looked == "" {
		return
	}
	for ending, data := range map[string][]byte{"svg": svg.Bytes(), "png": picture.Bytes(),
		"pdf": pdf} {
		file := filepath.Join(looked, fmt.Sprintf("%s.%s", strings.ReplaceAll(name, " ", "-"),
			ending))
		if err := os.WriteFile(file, data, 0o666); err != nil {
			t.Error(err)
		}
	}
}
