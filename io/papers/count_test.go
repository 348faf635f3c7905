package papers

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"rackwright/model"
)

// countOf is the sheet of a count, on some paper.
func countOf(t *testing.T, s *sample, bins []string, p model.Paper) []byte {
	t.Helper()
	var b bytes.Buffer
	opt := Options{Paper: p, Job: "shop of March"}
	if err := Count(&b, &s.job.Settings, s.job.Rack, bins, opt); err != nil {
		t.Fatal(s.name, err)
	}
	if dir := os.Getenv("RACKWRIGHT_PAPERS"); dir != "" { // to be looked at
		name := fmt.Sprintf("%s/count-%s-%s-%d.pdf", dir, s.name, p, len(bins))
		if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return b.Bytes()
}

// The sheet of a count has each board of the rack, with its wood and its length; of a count of some
// bins it has those of these alone. The same rack gives the same bytes.
func TestCountSheet(t *testing.T) {
	readers(t, "pdftotext")
	for _, s := range samples(t) {
		for _, paper := range s.papers() {
			pdf := countOf(t, &s, nil, paper)
			pages := textOf(t, pdf, "-layout")
			text := unbroken(strings.Join(textOf(t, pdf, "-raw"), "\n"))
			for n, page := range pages {
				for _, want := range []string{"shop of March", "date ____",
					fmt.Sprintf("Page %d of %d", n+1, len(pages))} {
					if !strings.Contains(page, want) {
						t.Errorf("%s: page %d has no %q", s.name, n+1, want)
					}
				}
			}
			for _, b := range s.job.Rack {
				for _, want := range []string{b.ID, s.job.Settings.Show(b.Length)} {
					if len(want) < 100 && !strings.Contains(text, unbroken(printable(want))) {
						t.Errorf("%s: the sheet has no %q", s.name, want)
					}
				}
			}
			if !bytes.Equal(pdf, countOf(t, &s, nil, paper)) {
				t.Errorf("%s: the sheet is another when it is written again", s.name)
			}
		}
	}
	s := samples(t)[3] // the demo
	bin := s.job.Rack[0].Bin
	text := strings.Join(textOf(t, countOf(t, &s, []string{bin}, model.A4), "-layout"), "\n")
	if !strings.Contains(text, "Counted are only: "+bin+".") {
		t.Errorf("the sheet of bin %s says %s", bin, text)
	}
	for _, b := range s.job.Rack {
		if there := strings.Contains(text, b.ID+" "); there != (b.Bin == bin) {
			t.Errorf("board %s of bin %s is on the sheet of bin %s: %v", b.ID, b.Bin, bin, there)
		}
	}
}

// An empty rack has a sheet, too.
func TestCountSheetOfNothing(t *testing.T) {
	readers(t, "pdftotext")
	set := model.DefaultSettings()
	var b bytes.Buffer
	if err := Count(&b, &set, nil, nil, Options{}); err != nil {
		t.Fatal(err)
	}
	if pages := textOf(t, b.Bytes()); len(pages) != 1 || !strings.Contains(pages[0], "0 boards") {
		t.Errorf("%q", pages)
	}
}
