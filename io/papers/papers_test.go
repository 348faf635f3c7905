package papers

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"image/png"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rackwright/io/folder"
	"rackwright/model"
)

// ids are all that a plan gives an id to and labels: boards bought, blanks, offcuts.
func ids(s *shop) (bought, blanks, offcuts []string) {
	for i := range s.plan.Buy {
		bought = append(bought, s.plan.Buy[i].Boards...)
	}
	for _, p := range s.pieces {
		if p.offcut() {
			offcuts = append(offcuts, p.id)
		} else {
			blanks = append(blanks, p.id)
		}
	}
	return bought, blanks, offcuts
}

// Every piece of the plan and every board bought has exactly one label, and no two have one id.
func TestLabelsAreComplete(t *testing.T) {
	for _, sample := range samples(t) {
		s := newShop(sample.job, sample.plan)
		pieces, offcuts, bought := 0, 0, map[string]bool{}
		for i := range sample.plan.Cuts {
			c := &sample.plan.Cuts[i]
			switch {
			case c.Kind == model.KindPart:
				pieces++
			case c.Kind == model.KindOffcut:
				offcuts++
			}
			if c.Origin == model.FromYard {
				bought[c.Board] = true
			}
		}
		b, p, o := ids(s)
		if len(b) != len(bought) || len(p) != pieces || len(o) != offcuts {
			t.Errorf("%s: %d boards bought, %d blanks and %d offcuts; the plan has %d, %d and %d",
				sample.name, len(b), len(p), len(o), len(bought), pieces, offcuts)
		}
		met := map[string]bool{}
		for i := range sample.job.Rack {
			met[sample.job.Rack[i].ID] = true
		}
		for n, l := range labelsOf(s) {
			if met[l.id] || !plain(l.id) {
				t.Errorf("%s: label %d has the id %s, which is not ASCII or another thing has it",
					sample.name, n, l.id)
			}
			met[l.id] = true
		}
		if len(labelsOf(s)) != len(b)+len(p)+len(o) {
			t.Errorf("%s: %d labels", sample.name, len(labelsOf(s)))
		}
	}
}

// Pieces come off in the order of order.csv: no label stands before one of a piece that an earlier
// cut frees.
func TestLabelsFollowTheSaw(t *testing.T) {
	for _, sample := range samples(t) {
		s := newShop(sample.job, sample.plan)
		last := -1
		for _, p := range s.pieces {
			at := -1 // of a board that is not cut
			for n := range sample.plan.Order {
				o := &sample.plan.Order[n]
				for _, b := range s.boards {
					if b.ID != o.Board || b.ID != p.row.Board {
						continue
					}
					cuts, _ := b.Cuts()
					for _, c := range cuts {
						if c.Step == o.Step && (c.Near == p.row.Rect() || c.Far == p.row.Rect()) {
							at = n
						}
					}
				}
			}
			if at < last {
				t.Fatalf("%s: %s comes off at row %d of order.csv, after one of row %d",
					sample.name, p.id, at, last)
			}
			last = at
		}
	}
}

// What is taken out of a paper is what was set: each id, each commission and part, in full; and on
// each page the job, the batch, the date and its number.
func TestTexts(t *testing.T) {
	readers(t, "pdftotext")
	for _, sample := range samples(t) {
		for _, paper := range sample.papers() {
			opt := Options{Paper: paper, Job: "jobs of March"}
			files := papersOf(t, sample, opt)
			bought, blanks, offcuts := ids(newShop(sample.job, sample.plan))
			whole := map[string]string{}
			for name, pdf := range files {
				pages := textOf(t, pdf, "-layout")
				for n, page := range pages {
					for _, want := range []string{"jobs of March", sample.job.Settings.Batch,
						fmt.Sprintf("Page %d of %d", n+1, len(pages)), dated(sample.plan)} {
						if !strings.Contains(page, want) {
							t.Errorf("%s: %s, page %d has no %q", sample.name, name, n+1, want)
						}
					}
				}
				whole[name] = unbroken(strings.Join(textOf(t, pdf, "-raw"), "\n"))
			}
			for name, list := range map[string][]string{"yard.pdf": bought, "bench.pdf": blanks,
				"labels.pdf": slices.Concat(bought, blanks, offcuts)} {
				for _, id := range list {
					if len(id) < 100 && !strings.Contains(whole[name], unbroken(id)) {
						t.Errorf("%s: %s has no %s", sample.name, name, id)
					}
				}
			}
			for i := range sample.job.Parts {
				p := &sample.job.Parts[i]
				for _, want := range []string{p.Commission, p.Name} {
					if !strings.Contains(whole["bench.pdf"], unbroken(printable(want))) {
						t.Errorf("%s: the bench paper has no %q", sample.name, want)
					}
				}
			}
		}
	}
}

func dated(plan *model.Plan) string {
	if plan.Date == "" {
		return "date ____"
	}
	return plan.Date
}

// unbroken is a text without what lines are broken at.
func unbroken(s string) string { return strings.Join(strings.Fields(s), "") }

// page is what pdftotext -bbox says of a page, in points.
type page struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []struct {
		Left   float64 `xml:"xMin,attr"`
		Right  float64 `xml:"xMax,attr"`
		Top    float64 `xml:"yMin,attr"`
		Bottom float64 `xml:"yMax,attr"`
		Text   string  `xml:",chardata"`
	} `xml:"word"`
}

func pagesOf(t *testing.T, pdf []byte) []page {
	t.Helper()
	_, body, _ := strings.Cut(takenOut(t, pdf, "-bbox"), "<doc>")
	body, _, _ = strings.Cut(body, "</doc>")
	var doc struct {
		Pages []page `xml:"page"`
	}
	if err := xml.Unmarshal([]byte("<doc>"+body+"</doc>"), &doc); err != nil {
		t.Fatal(err)
	}
	return doc.Pages
}

// Nothing is set outside the margins of a sheet, and every page is of the paper asked for; of no
// two words does one lie over the other.
func TestEverythingIsOnThePage(t *testing.T) {
	readers(t, "pdftotext")
	for _, sample := range samples(t) {
		for _, paper := range sample.papers() {
			for name, pdf := range papersOf(t, sample, Options{Paper: paper, Job: longName}) {
				margin := low / point
				if name == "labels.pdf" {
					margin = 5 / point
				}
				onThePage(t, sample.name+": "+name, pdf, paper, margin)
			}
			onThePage(t, sample.name+": count.pdf", countOf(t, &sample, nil, paper), paper,
				low/point)
		}
	}
}

// onThePage looks at all pages of a paper, whose margins are in points.
func onThePage(t *testing.T, name string, pdf []byte, paper model.Paper, margin float64) {
	t.Helper()
	wide, high := paper.Size()
	for n, p := range pagesOf(t, pdf) {
		if differ(p.Width, millimetres(wide)/point) || differ(p.Height, millimetres(high)/point) {
			t.Fatalf("%s is on %.1f x %.1f points", name, p.Width, p.Height)
		}
		for k, w := range p.Words {
			if w.Left < margin || w.Right > p.Width-margin || w.Top < 3/point ||
				w.Bottom > p.Height-margin+3 {
				t.Errorf("%s, page %d: %q is at %.1f to %.1f by %.1f to %.1f", name, n+1, w.Text,
					w.Left, w.Right, w.Top, w.Bottom)
			}
			for _, o := range p.Words[k+1:] {
				// a line of type is a little higher than its letters
				if min(w.Right, o.Right)-max(w.Left, o.Left) > 0.5 &&
					min(w.Bottom, o.Bottom)-max(w.Top, o.Top) > 3 {
					t.Errorf("%s, page %d: %q lies over %q", name, n+1, w.Text, o.Text)
				}
			}
		}
	}
}

func differ(a, b float64) bool { return a-b > 0.02 || b-a > 0.02 }

// The same plan gives the same bytes, on each paper others.
func TestSameBytes(t *testing.T) {
	for _, sample := range samples(t) {
		a4 := papersOf(t, sample, Options{Paper: model.A4})
		again := papersOf(t, sample, Options{Paper: model.A4})
		letter := papersOf(t, sample, Options{Paper: model.Letter})
		if !maps.EqualFunc(a4, again, bytes.Equal) {
			t.Errorf("%s: the papers are others when they are written again", sample.name)
		}
		other := a4
		if sample.job.Settings.Units == model.Inch {
			other = letter
		}
		if !maps.EqualFunc(papersOf(t, sample, Options{}), other, bytes.Equal) {
			t.Errorf("%s: without a paper named it is not that of the unit", sample.name)
		}
		for name := range a4 {
			if bytes.Equal(a4[name], letter[name]) {
				t.Errorf("%s: %s is the same on both papers", sample.name, name)
			}
		}
	}
}

// Each code on the labels reads as its id, by a reader that is not ours (zbar-tools), label by
// label as with a telephone. Of a plan of many labels it is those of its first pages.
func TestCodesAreRead(t *testing.T) {
	readers(t, "zbarimg")
	readers(t, "pdftoppm")
	const most = 3 // pages
	for _, sample := range samples(t) {
		var want []string
		for _, l := range labelsOf(newShop(sample.job, sample.plan)) {
			want = append(want, l.id)
		}
		grid := &sample.job.Settings.Labels
		want = want[:min(len(want), int(most*grid.Columns*grid.Rows))]
		got := scan(t, papersOf(t, sample, Options{})["labels.pdf"], grid,
			model.PaperOf(sample.job.Settings.Units), len(want))
		if !slices.Equal(got, want) {
			t.Errorf("%s: the codes are\n%q\nnot\n%q", sample.name, got, want)
		}
	}
}

// scan reads the codes of so many labels.
func scan(t *testing.T, pdf []byte, grid *model.LabelSheet, p model.Paper, labels int) []string {
	t.Helper()
	const dots = 200 // an inch
	dir := t.TempDir()
	each := int(grid.Columns * grid.Rows)
	cmd := exec.Command("pdftoppm", "-r", fmt.Sprint(dots), "-gray", "-l",
		fmt.Sprint((labels+each-1)/each), "-", filepath.Join(dir, "page"))
	cmd.Stdin = bytes.NewReader(pdf)
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	pages, _ := filepath.Glob(filepath.Join(dir, "page*"))
	args := []string{"--raw", "-q", "-Sdisable", "-Sqrcode.enable"}
	for n := range labels {
		page := grayImage(t, pages[n/each])
		x, y := grid.Label(int64(n%each), p)
		dot := func(l model.Length) int { return int(millimetres(l) / 25.4 * dots) }
		one := page.SubImage(image.Rect(dot(x.From), dot(y.From), dot(x.To), dot(y.To)))
		name := filepath.Join(dir, fmt.Sprintf("label%05d.png", n))
		var b bytes.Buffer
		if err := png.Encode(&b, one); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	text, err := exec.Command("zbarimg", args...).Output()
	if err != nil {
		t.Error("of some labels no code is found:", err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
}

// grayImage reads a file of the form PGM (P5).
func grayImage(t *testing.T, name string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var kind string
	var wide, high, white int
	if _, err := fmt.Sscan(string(data[:64]), &kind, &wide, &high, &white); err != nil {
		t.Fatal(err)
	}
	return &image.Gray{Pix: data[len(data)-wide*high:], Stride: wide,
		Rect: image.Rect(0, 0, wide, high)}
}

// An out folder may hold these papers and no others.
func TestOutFolderKnowsThePapers(t *testing.T) {
	var names []string
	for _, p := range All() {
		names = append(names, p.File)
	}
	if slices.Sort(names); !slices.Equal(names, folder.Papers()) {
		t.Errorf("the papers are %q, an out folder may hold %q", names, folder.Papers())
	}
}

// A sign that the fonts lack, or that steers, is an escape; all others stay.
func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"leg":                "leg",
		"":                   "",
		script:               script,
		"é ж Ω ½ 3/16\u2033": "é ж Ω ½ 3/16\u2033",
		"e\u0301":            "é",
		"q\u0301":            `q\u{301}`,
		"\U0001f600":         `\u{1f600}`,
		"\u202eab":           `\u202eab`,
		"של":                 `\u{5e9}\u{5dc}`,
		"a\x1b[31m":          `a\x1b[31m`,
		"\xff":               `\xff`,
	} {
		if got := printable(text); got != want || printable(got) != got {
			t.Errorf("%q is printed as %q, not %q", text, got, want)
		}
	}
}

// Copies that follow each other are told by the first and the last.
func TestNumbers(t *testing.T) {
	for want, list := range map[string][]int64{"": nil, "3": {3}, "1, 2": {1, 2},
		"1 to 3, 5, 7, 8": {1, 2, 3, 5, 7, 8}} {
		if got := numbers(list); got != want {
			t.Errorf("%v is %q, not %q", list, got, want)
		}
	}
}

// A plan that cuts nothing still has papers that say so.
func TestNothing(t *testing.T) {
	readers(t, "pdftotext")
	empty := sample{"empty", &model.Job{Settings: model.DefaultSettings()}, &model.Plan{}}
	for name, want := range map[string]string{"yard.pdf": "Nothing to buy.",
		"bench.pdf": "No commission", "labels.pdf": "nothing to label"} {
		pages := textOf(t, papersOf(t, empty, Options{})[name])
		if len(pages) != 1 || !strings.Contains(pages[0], want) {
			t.Errorf("%s says %q", name, pages)
		}
	}
}

var escape = regexp.MustCompile(`\\u\{[0-9a-f]+\}`)

// Names in letters that the fonts lack come out as escapes, whole ones, on every paper that has
// them.
func TestNamesWithoutLetters(t *testing.T) {
	readers(t, "pdftotext")
	s := samples(t)[4]
	for name, pdf := range papersOf(t, s, Options{}) {
		text := unbroken(strings.Join(textOf(t, pdf, "-raw"), "\n"))
		if n := len(escape.FindAllString(text, -1)); n == 0 {
			t.Errorf("%s has no escape", name)
		}
		if strings.ContainsRune(text, '\u202e') || strings.ContainsRune(text, '\ufffd') {
			t.Errorf("%s has a sign that turns the writing round, or one that is lost", name)
		}
	}
}
