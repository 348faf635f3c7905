package papers

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest"
)

// sample is a job with its plan.
type sample struct {
	name string
	job  *model.Job
	plan *model.Plan
}

func planOf(t testing.TB, name string, month, shop fs.FS, date string) sample {
	t.Helper()
	job, _, err := folder.ReadMonth(month, shop)
	if err != nil {
		t.Fatal(name, err)
	}
	if job.Settings.Batch == "" {
		job.Settings.Batch = model.BatchOf(name)
	}
	plan, err := nest.Plan(context.Background(), job, nest.Options{Work: 1e6, Date: date})
	if err != nil {
		t.Fatal(name, err)
	}
	return sample{name, makeup.AsMade(job, plan.Made), plan}
}

// papers are the sizes to look at: of a large plan one is enough.
func (s *sample) papers() []model.Paper {
	if len(s.plan.Cuts) > 1000 {
		return []model.Paper{model.A4}
	}
	return model.Papers
}

var planned struct {
	sync.Once
	list []sample
}

// samples are plans in inches and in millimetres, with rips, with shortages, with a reserve, and
// the demo, which has all but the shortages; and one of names that make trouble.
func samples(t testing.TB) []sample {
	t.Helper()
	planned.Do(func() {
		for _, dir := range []string{"testdata/jobs/mm-shop", "testdata/jobs/short",
			"testdata/jobs/scrub-table", "cmd/rackwright/demo/2027-03"} {
			above, name := path.Split("../../" + dir)
			planned.list = append(planned.list, planOf(t, name, os.DirFS("../../"+dir),
				os.DirFS(above), "2027-03-01"))
		}
		planned.list = append(planned.list, planOf(t, "trouble", trouble(), nil, ""))
	})
	if len(planned.list) != 5 {
		t.Fatal("the samples could not be planned")
	}
	return planned.list
}

// Names that make trouble: too long for any line, of letters that the fonts lack, such as turn the
// writing round, such as other programs run, and such as look like the id of a blank.
var (
	longName = strings.Repeat("a long name ", 16) + "to its end"
	oneWord  = strings.Repeat("Donaudampfschiff", 12)
	hebrew   = "שולחן \u202egnirts"
	emoji    = "bench \U0001f600 é ж Ω"
	script   = "<script>alert(1)</script>"
)

// trouble is a job of such names: 60 pieces of 1/64 in and more on a board, and a board of 20 m.
func trouble() fstest.MapFS {
	quoted := func(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
	var parts strings.Builder
	parts.WriteString("commission,part,qty,material,section,length,width,thickness,face\n")
	for n, name := range []string{longName, oneWord, hebrew, emoji, script, "slat"} {
		qty := 1
		if name == "slat" {
			qty = 60
		}
		fmt.Fprintf(&parts, "%s,%s,%d,pine,1x6,%d,5 1/2,3/4,hidden\n",
			quoted([]string{longName, hebrew, emoji}[n%3]), quoted(name), qty, 6+n)
	}
	parts.WriteString("thin,sliver,1,pine,1x6,1/64,5 1/2,3/4,hidden\n")
	parts.WriteString("long,beam,1,pine,4x4,780,3 1/2,3 1/2,hidden\n")
	return fstest.MapFS{
		"parts.csv": {Data: []byte(parts.String())},
		"rack.csv": {Data: []byte("board,material,section,length,bin\n" +
			"B,pine,1x6,40,\n" + "B/A,pine,1x6,40,\n" + "Brett-é,pine,1x6,600,\n" +
			quoted("board "+longName) + ",pine,1x6,60," + quoted(oneWord) + "\n" +
			"mast,pine,4x4,20m,\n")},
		"yard.csv": {Data: []byte("material,section,length,price,yard,grade\n" +
			"pine,1x6,4',2,\"" + longName + "\"," + emoji + "\n")},
	}
}

// papersOf writes every paper of a plan.
func papersOf(t testing.TB, s sample, opt Options) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for _, p := range All() {
		var b bytes.Buffer
		if err := p.Write(&b, s.job, s.plan, opt); err != nil {
			t.Fatal(s.name, p.File, err)
		}
		out[p.File] = b.Bytes()
	}
	return out
}

// readers says whether a program that reads papers is there; `make readers` installs it.
func readers(t *testing.T, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed: `make readers` does it", name)
	}
}

// textOf takes the text out of a paper, page by page, by a program that is not ours
// (poppler-utils).
func textOf(t *testing.T, pdf []byte, args ...string) []string {
	t.Helper()
	pages := strings.Split(takenOut(t, pdf, args...), "\f")
	return pages[:len(pages)-1]
}

func takenOut(t *testing.T, pdf []byte, args ...string) string {
	t.Helper()
	cmd := exec.Command("pdftotext", append(args, "-enc", "UTF-8", "-", "-")...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
