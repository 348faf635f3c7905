package papers

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/model"
)

// The saw paper has every row of order.csv once, in order, with its words; every board is drawn
// where it comes up first, and each later time that page is named.
func TestSawPaperFollowsTheOrder(t *testing.T) {
	readers(t, "pdftotext")
	number := regexp.MustCompile(`(?m)^ *(\d+) +(mark|stop|fence)\b`)
	again := regexp.MustCompile(`(?m)^ *(\S.*?) +again, drawn on page (\d+)$`)
	for _, sample := range samples(t) {
		pdf := papersOf(t, sample, Options{})["saw.pdf"]
		pages := textOf(t, pdf, "-layout")
		next, links := 1, 0
		for n, page := range pages {
			for _, m := range number.FindAllStringSubmatch(page, -1) {
				row := &sample.plan.Order[next-1]
				setting := "mark"
				if row.Setting > 0 {
					setting = map[string]string{model.Crosscut: "stop", model.Rip: "fence"}[row.Saw]
				}
				if m[1] != strconv.Itoa(next) || m[2] != setting {
					t.Fatalf("%s: page %d has cut %s with %s where cut %d with %s is next",
						sample.name, n+1, m[1], m[2], next, setting)
				}
				next++
			}
			for _, m := range again.FindAllStringSubmatch(page, -1) {
				links++
				on, _ := strconv.Atoi(m[2])
				if on > n+1 || !strings.Contains(pages[on-1], m[1]+" ") {
					t.Errorf("%s: page %d says that %s is drawn on page %d", sample.name, n+1, m[1],
						on)
				}
			}
			if !strings.Contains(unbroken(page), unbroken(report.Caution)) {
				t.Errorf("%s: page %d has no caution", sample.name, n+1)
			}
		}
		if n := bytes.Count(pdf, []byte("/Subtype /Link")); n != links {
			t.Errorf("%s: %d links to drawings, %d boards come up again", sample.name, n, links)
		}
		if next-1 != len(sample.plan.Order) {
			t.Errorf("%s: %d cuts of %d", sample.name, next-1, len(sample.plan.Order))
		}
		text := unbroken(strings.Join(textOf(t, pdf, "-raw"), "\n"))
		cuts := unbroken(strings.Join(textOf(t, pdf, cutColumn(sample)...), "\n"))
		list := layout.Boards(sample.job, sample.plan)
		if n := strings.Count(text, unbroken("Marked end left, left edge on top.")); n != len(list) {
			t.Errorf("%s: %d drawings of %d boards", sample.name, n, len(list))
		}
		for _, b := range list {
			if id := unbroken(printable(b.ID)); len(id) < 60 && !strings.Contains(text, id) {
				t.Errorf("%s: board %s is missing", sample.name, b.ID)
			}
			for _, words := range report.CutsInWords(sample.job, b) {
				if w := unbroken(words); !strings.Contains(cuts, w) && !strings.Contains(text, w) {
					t.Errorf("%s: of %s it is not said: %s", sample.name, b.ID, words)
				}
			}
		}
	}
}

// cutColumn says where pdftotext finds the words of the cuts, in points.
func cutColumn(x sample) []string {
	s := &saw{sheet: newSheet(x.job, x.plan, Options{}, ""), plan: x.plan, job: x.job}
	columns := s.columns()
	from := side + s.indent + columns[0].width + columns[1].width + 2*between
	return []string{"-raw", "-r", "72", "-x", fmt.Sprint(int(from / point)), "-y", "0", "-W",
		fmt.Sprint(int((columns[2].width + between/2) / point)), "-H", "1000"}
}

// A setting is bold where it is made: as often as the plan counts settings.
func TestSettingsAreBold(t *testing.T) {
	for _, sample := range samples(t) {
		s := &saw{job: sample.job, stands: map[string]stand{}}
		bold := 0
		list := map[string]*layout.Board{}
		for _, b := range layout.Boards(sample.job, sample.plan) {
			list[b.ID] = b
		}
		for i := range sample.plan.Order {
			row := &sample.plan.Order[i]
			if strings.HasPrefix(s.setting(list[row.Board], row), loud) {
				bold++
			}
		}
		if w := sample.plan.Work.Ways[0]; w.Settings != bold {
			t.Errorf("%s: %d settings are bold, the plan has %d", sample.name, bold, w.Settings)
		}
	}
}

// Board by board, the paper says so and heads no part of it with a pass.
func TestBoardByBoard(t *testing.T) {
	readers(t, "pdftotext")
	sample := samples(t)[2]
	plan := *sample.plan
	plan.Work.Order = model.LeastClutter
	var b bytes.Buffer
	if err := Saw(&b, sample.job, &plan, Options{}); err != nil {
		t.Fatal(err)
	}
	w := plan.Work.Ways[1]
	want := fmt.Sprintf("It goes board by board, with the fewest commissions open at once: "+
		"%s, %s, %v minutes", report.Count(w.Settings, "setting"), report.Count(w.Lifts, "lift"),
		w.Minutes)
	if text := strings.Join(textOf(t, b.Bytes(), "-raw"), "\n"); !strings.Contains(unbroken(text),
		unbroken(want)) {
		t.Errorf("it does not say: %s\n%.500s", want, text)
	}
}
