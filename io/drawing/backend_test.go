package drawing

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"pgregory.net/rapid"

	"rackwright/model"
)

// smallBoard is crosscut first, with a part, one of another face, an offcut, a waste and a knot.
func smallBoard() (*model.Settings, *model.Job, *model.Plan) {
	s := model.DefaultSettings()
	in := func(n float64) model.Length { return model.Length(n * model.UnitsPerInch) }
	row := func(kind model.Kind, step int, from, to, left, right float64) model.Cut {
		return model.Cut{Board: "B-07", Origin: model.FromRack, Material: "ash", Section: "4/4",
			Step: step, Kind: kind, From: in(from), To: in(to), Left: in(left), Right: in(right)}
	}
	leg := row(model.KindPart, 2, 0.25, 30.25, 0, 6)
	leg.Commission, leg.Part, leg.Copy = "C-1 bench", "seat <left> & right", 2
	rail := row(model.KindPart, 4, 30.375, 48.375, 0, 2.5)
	rail.Commission, rail.Part, rail.Copy, rail.Face = "C-2 stool", "rail", 1, model.Hidden
	off := row(model.KindOffcut, 4, 30.375, 48.375, 2.625, 6)
	off.Offcut = "2027-03-off-1"
	plan := &model.Plan{Cuts: []model.Cut{row(model.KindTrim, 1, 0, 0.25, 0, 6), leg,
		row(model.KindKerf, 2, 30.25, 30.375, 0, 6), rail,
		row(model.KindKerf, 4, 30.375, 48.375, 2.5, 2.625), off,
		row(model.KindKerf, 3, 48.375, 48.5, 0, 6), row(model.KindWaste, 3, 48.5, 60, 0, 6)},
		Placements: []model.Placement{{Board: "B-07", First: model.CrosscutFirst}}}
	job := &model.Job{Settings: s, Rack: []model.Board{{ID: "B-07", Bin: "C2",
		Defects: []model.Defect{{From: in(50), To: in(52), Left: in(2), Right: in(3.5),
			Kind: "loose knot"}}}}}
	return &s, job, plan
}

// someScenes are drawings of boards that are made up, always the same.
func someScenes(n int) (all []*Scene) {
	any := rapid.Custom(func(t *rapid.T) *Scene {
		_, scene := anyScene(t)
		return scene
	})
	for i := range n {
		all = append(all, any.Example(i))
	}
	return all
}

// write makes a PDF of one page, as large as the scene.
func write(t interface{ Fatal(...any) }, s *Scene) []byte {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm",
		Size: fpdf.SizeType{Wd: millimetres(s.Width), Ht: millimetres(s.Height)}})
	pdf.SetCreationDate(time.Unix(0, 0))
	pdf.SetModificationDate(time.Unix(0, 0))
	pdf.SetCatalogSort(true)
	AddFonts(pdf)
	pdf.AddPage()
	s.PDF(pdf, 0, 0)
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// What pdftotext (of poppler, a reader of PDF that others wrote) takes out of the document is every
// text of the scene, word by word, and each word stands within the box of its text.
func TestPDFTextsAreWhereTheyBelong(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed; `make test` installs it")
	}
	dir := t.TempDir()
	for _, scene := range someScenes(60) {
		file := filepath.Join(dir, "a.pdf")
		if err := os.WriteFile(file, write(t, scene), 0o666); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("pdftotext", "-bbox", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Words []struct {
				XMin float64 `xml:"xMin,attr"`
				XMax float64 `xml:"xMax,attr"`
				YMin float64 `xml:"yMin,attr"`
				YMax float64 `xml:"yMax,attr"`
				Text string  `xml:",chardata"`
			} `xml:"body>doc>page>word"`
		}
		if err := xml.Unmarshal(out, &doc); err != nil {
			t.Fatal(err)
		}
		found := map[string][]Rect{}
		um := func(points float64) int { return int(points * 25_400 / 72) }
		for _, w := range doc.Words {
			found[w.Text] = append(found[w.Text], Rect{X: um(w.XMin), Y: um(w.YMin),
				Wide: um(w.XMax - w.XMin), High: um(w.YMax - w.YMin)})
		}
		for _, s := range scene.Shapes {
			x, ok := s.(*Text)
			if !ok {
				continue
			}
			for _, word := range strings.Fields(Drawable(x.Text)) {
				there := false
				for _, r := range found[word] {
					there = there || r.overlaps(x.Box(), 0)
				}
				if !there {
					t.Errorf("%q of %q is not at %+v: %v", word, x.Text, x.Box(), found[word])
				}
			}
		}
	}
}

// The picture is dark where the scene has ink, and light where it has none.
func TestPNGIsDarkWhereThereIsInk(t *testing.T) {
	const dpi = 200
	for _, scene := range someScenes(16) {
		var out bytes.Buffer
		if err := scene.PNG(&out, dpi); err != nil {
			t.Fatal(err)
		}
		picture, err := png.Decode(&out)
		if err != nil {
			t.Fatal(err)
		}
		dot := func(x, y int) uint32 {
			grey, _, _, _ := picture.At(x, y).RGBA()
			return grey >> 8
		}
		at := func(x, y int) uint32 { return dot(x*dpi/25_400, y*dpi/25_400) }
		darkest := func(x, y int) uint32 { // of the dots that a line may be spread over
			least := at(x, y)
			for n := range 9 {
				least = min(least, dot(x*dpi/25_400+n%3-1, y*dpi/25_400+n/3-1))
			}
			return least
		}
		for i, s := range scene.Shapes {
			x, y, least := 0, 0, 0
			switch z := s.(type) {
			case *Rect:
				x, y, least = z.X+z.Wide/2, z.Y+z.High/2, min(z.Wide, z.High)
				if z.Fill != Black {
					continue
				}
			case *Lines:
				first := z.Segments[len(z.Segments)/2]
				x, y, least = (first.X1+first.X2)/2, (first.Y1+first.Y2)/2, z.Line
			case *Text: // some of its middle line is dark
				dark, box := false, z.Box()
				for n := range 200 {
					x, y := box.X+box.Wide*n/200, box.Y+box.High/2
					if z.Up {
						x, y = box.X+box.Wide/2, box.Y+box.High*n/200
					}
					dark = dark || at(x, y) < 0x90
				}
				if !dark && strings.Trim(Drawable(z.Text), " .,'\"-~") != "" {
					t.Errorf("there is nothing of %q", z.Text)
				}
				continue
			}
			if least >= 100 && !covered(scene.Shapes[i+1:], x, y) && darkest(x, y) > 0xd0 {
				t.Errorf("%T %+v is not there: %x", s, s, darkest(x, y))
			}
		}
		for n := range 400 { // where nothing is near it is white
			x, y := n%20*scene.Width/20, n/20*scene.Height/20
			if !inked(scene.Shapes, x, y) && at(x, y) != 0xff {
				t.Errorf("%d, %d is not white", x, y)
			}
		}
	}
}

// covered says whether a place may be painted over by something else.
func covered(shapes []Shape, x, y int) bool {
	for _, s := range shapes {
		if r, ok := s.(*Rect); ok && r.Stroke == None && near(*r, x, y, 300) {
			return true
		}
	}
	return false
}

// inked says whether there may be ink near a place.
func inked(shapes []Shape, x, y int) bool {
	for _, s := range shapes {
		switch z := s.(type) {
		case *Rect:
			inside := inset(*z, 600)
			if z.Fill != Paper && near(*z, x, y, 600) && !(z.Stroke != None &&
				near(inside, x, y, -1)) {
				return true
			}
		case *Text:
			if near(z.Box(), x, y, 800) {
				return true
			}
		case *Lines:
			for _, l := range z.Segments {
				if near(Rect{X: min(l.X1, l.X2), Y: min(l.Y1, l.Y2), Wide: abs(l.X2 - l.X1),
					High: abs(l.Y2 - l.Y1)}, x, y, 600) {
					return true
				}
			}
		}
	}
	return false
}

func abs(n int) int { return max(n, -n) }

func near(r Rect, x, y, gap int) bool { return r.overlaps(Rect{X: x, Y: y}, gap) }

// A picture that is too large is refused with what to do, and so is a number of dots that none has.
func TestPNGRefuses(t *testing.T) {
	for _, c := range []struct {
		wide, high, dpi int
		says            string
	}{
		{250_000, 50_000, 0, "choose 1 to 2400"},
		{250_000, 50_000, 2401, "choose 1 to 2400"},
		{2_500_000, 500_000, 2400, "choose fewer dots to an inch"},
		{1, 1, 1, "too large"},
	} {
		err := (&Scene{Width: c.wide, Height: c.high}).PNG(&bytes.Buffer{}, c.dpi)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
