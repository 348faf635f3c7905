package drawing

import (
	"bytes"
	"encoding/xml"
	"regexp"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// inlined is an element of an inline picture.
type inlined struct {
	XMLName xml.Name
	Class   string `xml:"class,attr"`
	D       string `xml:"d,attr"`
	X       int    `xml:"x,attr"`
	Y       int    `xml:"y,attr"`
	Size    int    `xml:"font-size,attr"`
	Wide    int    `xml:"textLength,attr"`
	Text    string `xml:",chardata"`
}

var pathStep = regexp.MustCompile(`([MmLlhvz])(-?\d+)?(?: ?(-?\d+))?`)

// segments follows a path: the lines that it draws.
func segments(d string) (out []Segment) {
	x, y, startX, startY := 0, 0, 0, 0
	for _, m := range pathStep.FindAllStringSubmatch(d, -1) {
		a, _ := strconv.Atoi(m[2])
		b, _ := strconv.Atoi(m[3])
		fromX, fromY := x, y
		switch m[1] {
		case "M":
			x, y = a, b
		case "m", "l":
			x, y = x+a, y+b
		case "h":
			x += a
		case "v":
			y += a
		case "z":
			x, y = startX, startY
		}
		if m[1] == "M" || m[1] == "m" {
			startX, startY = x, y
			continue
		}
		out = append(out, Segment{fromX, fromY, x, y})
	}
	return out
}

// corners are the sides of a rectangle as a path draws them.
func corners(r *Rect) []Segment {
	x2, y2 := r.X+r.Wide, r.Y+r.High
	return []Segment{{r.X, r.Y, x2, r.Y}, {x2, r.Y, x2, y2}, {x2, y2, r.X, y2}, {r.X, y2, r.X, r.Y}}
}

// An inline picture has each shape of the scene, in its order, with its ink, and not half a unit
// from its place.
func TestInlineHasAllShapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, scene := anyScene(t)
		var out bytes.Buffer
		if err := scene.Inline(&out); err != nil {
			t.Fatal(err)
		}
		var picture struct {
			Elements []inlined `xml:",any"`
		}
		if err := xml.Unmarshal(out.Bytes(), &picture); err != nil {
			t.Fatal(err)
		}
		if len(picture.Elements) != len(scene.Shapes) {
			t.Fatalf("%d elements for %d shapes", len(picture.Elements), len(scene.Shapes))
		}
		near := func(got, want int) {
			if d := got*inlineUnit - want; d > inlineUnit/2 || d < -inlineUnit/2 {
				t.Errorf("at %d in place of %d", got*inlineUnit, want)
			}
		}
		same := func(got, want []Segment) {
			if len(got) != len(want) {
				t.Fatalf("%d lines in place of %d", len(got), len(want))
			}
			for i := range got {
				near(got[i].X1, want[i].X1)
				near(got[i].Y1, want[i].Y1)
				near(got[i].X2, want[i].X2)
				near(got[i].Y2, want[i].Y2)
			}
		}
		for i, e := range picture.Elements {
			class := ""
			switch s := scene.Shapes[i].(type) {
			case *Rect:
				same(segments(e.D), corners(s))
				if class = "f" + inkClasses[s.Fill]; s.Stroke != None {
					class = penClass(s.Stroke, s.Line)
				}
			case *Lines:
				same(segments(e.D), s.Segments)
				class = penClass(s.Ink, s.Line)
			case *Text:
				near(e.X, s.X)
				near(e.Y, s.Y)
				near(e.Size, s.Size)
				near(e.Wide, s.Wide)
				if e.Text != s.Text {
					t.Errorf("%q in place of %q", e.Text, s.Text)
				}
				if s.Bold {
					class = "b"
				}
			}
			if e.Class != class {
				t.Errorf("class %q in place of %q", e.Class, class)
			}
		}
	})
}
