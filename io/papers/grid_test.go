package papers

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"rackwright/model"
)

// streams are the contents of the pages of a paper.
func streams(t *testing.T, pdf []byte) (out []string) {
	t.Helper()
	for _, m := range regexp.MustCompile(`(?s)stream\n(.*?)\nendstream`).FindAllSubmatch(pdf, -1) {
		r, err := zlib.NewReader(bytes.NewReader(m[1]))
		if err != nil {
			continue // a font is no page
		}
		text, err := io.ReadAll(r)
		if err == nil && bytes.Contains(text, []byte(" l S")) {
			out = append(out, string(text))
		}
	}
	return out
}

var drawnLine = regexp.MustCompile(`([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l S`)

// corner is where two marks of a label meet, in tenths of a millimetre from the top left corner.
type corner struct{ x, y int }

// corners finds them: points that begin two lines.
func cornersOf(page string, height float64) map[corner]bool {
	begun := map[corner]int{}
	for _, m := range drawnLine.FindAllStringSubmatch(page, -1) {
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		begun[corner{int(math.Round(x * point * 10)), int(math.Round((height - y*point) * 10))}]++
	}
	out := map[corner]bool{}
	for c, n := range begun {
		if n >= 2 {
			out[c] = true
		}
	}
	return out
}

// Labels lie where a ruler on the sheet says: margins, gaps and equal labels between. All is worked
// out here anew, in millimetres.
func TestLabelsLieOnTheirGrid(t *testing.T) {
	const mm = model.UnitsPerMillimetre
	sample := samples(t)[3]
	for _, c := range []struct {
		grid                     model.LabelSheet
		paper                    model.Paper
		from                     int64
		wide, high               float64 // of the paper
		top, bottom, left, right float64
		column, row              float64
	}{
		{model.DefaultLabels(), model.A4, 1, 210, 297, 8, 8, 8, 8, 0, 0},
		{model.DefaultLabels(), model.Letter, 24, 215.9, 279.4, 8, 8, 8, 8, 0, 0},
		{model.LabelSheet{Sheet: model.A4, Columns: 2, Rows: 5, Top: 105 * mm / 10, Bottom: 12 * mm,
			Left: 45 * mm / 10, Right: 5 * mm, ColumnGap: 25 * mm / 10, RowGap: 3 * mm},
			model.Letter, 4, 210, 297, 10.5, 12, 4.5, 5, 2.5, 3},
		{model.LabelSheet{Columns: 5, Rows: 13, Top: 107 * mm / 10, Bottom: 107 * mm / 10,
			Left: 47 * mm / 10, Right: 47 * mm / 10, ColumnGap: 25 * mm / 10},
			model.A4, 64, 210, 297, 10.7, 10.7, 4.7, 4.7, 2.5, 0},
	} {
		job := *sample.job
		job.Settings.Labels = c.grid
		var b bytes.Buffer
		if err := Labels(&b, &job, sample.plan, Options{Paper: c.paper, From: c.from}); err != nil {
			t.Fatal(err)
		}
		pages := streams(t, b.Bytes())
		columns, rows := float64(c.grid.Columns), float64(c.grid.Rows)
		w := (c.wide - c.left - c.right - (columns-1)*c.column) / columns
		h := (c.high - c.top - c.bottom - (rows-1)*c.row) / rows
		labels := len(labelsOf(newShop(&job, sample.plan)))
		each := int(c.grid.Columns * c.grid.Rows)
		if want := (int(c.from) - 1 + labels + each - 1) / each; len(pages) != want {
			t.Fatalf("%+v: %d pages, not %d", c.grid, len(pages), want)
		}
		for n, page := range pages {
			got, want := cornersOf(page, c.high), map[corner]bool{}
			for k := range each {
				if at := n*each + k - int(c.from) + 1; at < 0 || at >= labels {
					continue
				}
				x := c.left + float64(k%int(columns))*(w+c.column)
				y := c.top + float64(k/int(columns))*(h+c.row)
				for _, p := range [][2]float64{{x, y}, {x + w, y}, {x, y + h}, {x + w, y + h}} {
					want[corner{int(math.Round(p[0] * 10)), int(math.Round(p[1] * 10))}] = true
				}
			}
			if missed := apart(want, got); len(missed) > 0 {
				t.Errorf("%+v: page %d has no corners at %v", c.grid, n+1, missed)
			}
			if more := apart(got, want); len(more) > 0 {
				t.Errorf("%+v: page %d has corners at %v", c.grid, n+1, more)
			}
		}
	}
}

// apart are the corners of a that are further than 0.1 mm from any of b.
func apart(a, b map[corner]bool) (out []string) {
	for c := range a {
		near := false
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				near = near || b[corner{c.x + dx, c.y + dy}]
			}
		}
		if !near {
			out = append(out, fmt.Sprintf("%.1f/%.1f", float64(c.x)/10, float64(c.y)/10))
		}
	}
	slices.Sort(out)
	return out
}

// What a label says stays in its label, however small that is, and the id of its blank keeps the
// letter.
func TestTextsStayInTheirLabel(t *testing.T) {
	readers(t, "pdftotext")
	const mm = model.UnitsPerMillimetre
	for _, sample := range samples(t) {
		job := *sample.job
		for n, grid := range []model.LabelSheet{model.DefaultLabels(),
			{Columns: 5, Rows: 13, Top: 10 * mm, Bottom: 10 * mm, Left: 5 * mm, Right: 5 * mm,
				ColumnGap: 3 * mm, RowGap: 1 * mm},
			{Columns: 1, Rows: 1, Top: 5 * mm}, {Columns: 6, Rows: 17}} {
			if n > 1 && len(sample.plan.Cuts) > 1000 {
				continue
			}
			job.Settings.Labels = grid
			var b bytes.Buffer
			if err := Labels(&b, &job, sample.plan, Options{Paper: model.A4}); err != nil {
				t.Fatal(err)
			}
			for n, p := range pagesOf(t, b.Bytes()) {
				for _, w := range p.Words {
					if w.Bottom < millimetres(grid.Top)/point {
						continue // the head of the page
					}
					inside := false
					for k := range grid.Columns * grid.Rows {
						x, y := grid.Label(k, model.A4)
						inside = inside || w.Left >= millimetres(x.From)/point &&
							w.Right <= millimetres(x.To)/point &&
							w.Top >= millimetres(y.From)/point-1 &&
							w.Bottom <= millimetres(y.To)/point+1
					}
					if !inside {
						t.Errorf("%s: %d x %d labels, page %d: %q lies over an edge", sample.name,
							grid.Columns, grid.Rows, n+1, w.Text)
					}
				}
			}
		}
	}
}
