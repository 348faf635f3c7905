package drawing

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rackwright/model"
)

// anyScene draws any board, in any width and size of text, alone or not.
func anyScene(t *rapid.T) (*sketch, *Scene) {
	b, s := anyBoard(t)
	opt := Options{Width: rapid.SampledFrom([]int{0, 80_000, 180_000, 277_000}).Draw(t, "width"),
		Text:  rapid.SampledFrom([]int{0, 2400, 4200}).Draw(t, "text"),
		Alone: rapid.Bool().Draw(t, "alone"), Head: []string{"Board " + nasty[9]},
		Foot: []KeyLine{{"", strings.Repeat("Cutting can maim. ", 9)}, {"1", nasty[9]}}}
	k := &sketch{b: b, s: s, opt: opt.usual()}
	return k, k.draw()
}

// No text leaves the drawing or lies on another.
func TestTextsHaveTheirRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, scene := anyScene(t)
		haveRoom(t, scene)
	})
}

func haveRoom(t interface{ Errorf(string, ...any) }, scene *Scene) {
	paper := Rect{Wide: scene.Width, High: scene.Height}
	var texts []*Text
	for _, s := range scene.Shapes {
		x, ok := s.(*Text)
		if !ok {
			continue
		}
		if !x.Box().inside(paper) {
			t.Errorf("%q leaves the drawing: %+v in %+v", x.Text, x.Box(), paper)
		}
		if wide := TextWidth(x.Text, x.Bold, x.Size); wide != x.Wide {
			t.Errorf("%q is %d wide, not %d", x.Text, wide, x.Wide)
		}
		for _, other := range texts {
			if x.Box().overlaps(other.Box(), 0) {
				t.Errorf("%q lies on %q: %+v, %+v", x.Text, other.Text, x.Box(), other.Box())
			}
		}
		texts = append(texts, x)
	}
}

// told says whether every piece is named in the drawing or its key, and described.
func told(t interface{ Errorf(string, ...any) }, k *sketch, scene *Scene) {
	drawn := map[string]bool{}
	for _, s := range scene.Shapes {
		if x, ok := s.(*Text); ok && x.Bold {
			drawn[x.Text] = true
		}
	}
	for _, line := range scene.Key {
		drawn[line.Letter] = true
	}
	for i, letter := range k.b.Labels {
		if letter == "" {
			continue
		}
		if !drawn[letter] {
			t.Errorf("%s is not told", letter)
		}
		if line := k.pieceLine(i); !strings.Contains(scene.Desc, line.Text) {
			t.Errorf("the description lacks %q", line.Text)
		}
	}
}

// Every part and offcut is named: by its letter in the drawing or the key, or by all of its words
// in the description; and the same board gives the same bytes.
func TestEveryPieceIsTold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, scene := anyScene(t)
		told(t, k, scene)
		var a, b bytes.Buffer
		again := (&sketch{b: k.b, s: k.s, opt: k.opt}).draw()
		if scene.SVG(&a) != nil || again.SVG(&b) != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Error("the same board is drawn in two ways")
		}
	})
}

// The SVG is XML with as many elements as the scene has shapes, and texts that are never raw.
func TestSVGHasAllShapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, scene := anyScene(t)
		var out bytes.Buffer
		if err := scene.SVG(&out); err != nil {
			t.Fatal(err)
		}
		var texts []string
		got, want := map[string]int{}, map[string]int{"svg": 1, "title": 1, "desc": 1}
		for _, s := range scene.Shapes {
			switch x := s.(type) {
			case *Rect:
				want["rect"]++
			case *Lines:
				want["path"]++
			case *Text:
				want["text"]++
				texts = append(texts, x.Text)
			}
		}
		d, in := xml.NewDecoder(&out), ""
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			switch x := token.(type) {
			case xml.StartElement:
				in = x.Name.Local
				got[in]++
			case xml.EndElement:
				in = ""
			case xml.CharData:
				if in == "text" {
					if string(x) != texts[0] {
						t.Errorf("text %q, want %q", x, texts[0])
					}
					texts = texts[1:]
				}
			}
		}
		for name, n := range want {
			if got[name] != n {
				t.Errorf("%d of %s, want %d", got[name], name, n)
			}
		}
		if len(got) != len(want) && got["script"] > 0 {
			t.Errorf("elements %v", got)
		}
	})
}

// A hatch stays in its rectangle, and each of its lines runs from edge to edge.
func TestHatchIsClipped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, from, to int) int { return rapid.IntRange(from, to).Draw(t, name) }
		r := Rect{X: n("x", -9999, 9999), Y: n("y", -9999, 9999), Wide: n("wide", 1, 9999),
			High: n("high", 1, 9999)}
		for _, h := range []hatch{trimHatch, wasteHatch, mildSpot, middlingSpot, badSpot, weakSpot} {
			for _, s := range h.lines(r) {
				for _, p := range [][2]int{{s.X1, s.Y1}, {s.X2, s.Y2}} {
					if !(Rect{X: p[0], Y: p[1]}).inside(r) {
						t.Errorf("%+v leaves %+v", s, r)
					}
					if p[0] != r.X && p[0] != r.X+r.Wide && p[1] != r.Y && p[1] != r.Y+r.High {
						t.Errorf("%+v ends within %+v", s, r)
					}
				}
				if dx, dy := s.X2-s.X1, s.Y2-s.Y1; dx != 0 && dy != 0 && dx != dy && dx != -dy {
					t.Errorf("%+v is no line of a hatch", s)
				}
			}
		}
	})
}

// The board is drawn to scale: as wide as it is long, times what the drawing says.
func TestScale(t *testing.T) {
	const mm = model.UnitsPerMillimetre
	for _, c := range []struct {
		long, wide, narrowest int // in mm
		high, times           int // in micrometres
	}{
		{2000, 200, 200, 20_000, 1},
		{2000, 100, 100, 20_000, 2},    // 10 mm are too low for three lines
		{2000, 100, 20, 30_000, 3},     // a strip of 20 mm needs a line, 4.5 mm
		{20_000, 100, 100, 12_000, 12}, // 1 mm
		{300, 300, 300, 50_000, 1},     // not higher than a quarter of the width
	} {
		s := newScale(model.Rect{To: model.Length(c.long * mm), Right: model.Length(c.wide * mm)},
			model.Length(c.narrowest*mm), 0, 200_000, 3000)
		if s.high != c.high || s.times != c.times {
			t.Errorf("%d x %d: %d high, %d times; want %d, %d", c.long, c.wide, s.high, s.times,
				c.high, c.times)
		}
	}
}
