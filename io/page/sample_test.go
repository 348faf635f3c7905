package page

import (
	"bytes"
	"io/fs"
	"os"
	"strings"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest"
)

// sample is a planned job with its page.
type sample struct {
	job  *model.Job
	plan *model.Plan
	ways []Way
	html []byte
}

// planned plans a job with hardly any search and writes its page.
func planned(t *testing.T, fsys fs.FS) *sample {
	t.Helper()
	job, _, err := folder.ReadJob(fsys)
	if err != nil {
		t.Fatal(err)
	}
	s := &sample{job: job}
	if s.plan, err = nest.Plan(t.Context(), job, nest.Options{Work: 1}); err != nil {
		t.Fatal(err)
	}
	s.job = makeup.AsMade(job, s.plan.Made)
	rules, err := nest.ByRules(t.Context(), job, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range rules {
		s.ways = append(s.ways, Way{x.Name, model.MeasureOf(x.Plans...)})
	}
	s.write(t)
	return s
}

func (s *sample) write(t *testing.T) {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, s.job, s.plan, s.ways); err != nil {
		t.Fatal(err)
	}
	s.html = out.Bytes()
}

// hard are names that a page must show and not obey: markup, signs that steer, signs beyond the
// basic plane, and many signs without a blank.
var hard = []string{
	`<script>alert(1)</script><img src=x onerror=alert(2)>`,
	"\u202ereversed\u202c and \u2028 broken",
	"שולחן 🪑 é",
	strings.Repeat("unbrokenname", 16),
	`"quoted' & {{.}} </noscript></style>`,
}

// cell writes a text as a cell.
func cell(text string) string { return `"` + strings.ReplaceAll(text, `"`, `""`) + `"` }

// hardJob has hard names wherever there is a name, a piece of 1/64 in, a board of 20 m, a board of
// sixty pieces, a ripped board, and a part that nothing gives.
func hardJob() fs.FS {
	parts := "commission,part,qty,material,length,width,thickness,section,note\n"
	for i, name := range hard {
		parts += cell(name) + "," + cell(hard[(i+1)%len(hard)]) + ",2,pine,20,3,3/4,1x8," +
			cell(name) + "\n"
	}
	parts += `C,slip,60,pine,11 1/2,7 1/4,3/4,1x8,` + "\n" +
		`C,chip,1,pine,1/64,7 1/4,3/4,1x8,` + "\n" +
		`C,mast,1,pine,780,7 1/4,3/4,1x8,` + "\n" +
		`C,giant,1,pine,2000,7 1/4,3/4,1x8,` + "\n"
	rack := "board,material,section,length,bin,note\n" +
		cell(hard[0]) + ",pine,1x8,787 1/4," + cell(hard[1]) + "," + cell(hard[2]) + "\n"
	yard := "material,section,length,price,yard,grade\n" +
		"pine,1x8,192,19.20," + cell(hard[4]) + "," + cell(hard[3]) + "\n" +
		"pine,1x8,760,80," + cell(hard[3]) + "," + cell(hard[0]) + "\n"
	return benchmarks.FS(map[string][]byte{"parts.csv": []byte(parts), "rack.csv": []byte(rack),
		"yard.csv": []byte(yard), "shop.toml": []byte("batch = \"hard\"\n")})
}

// samples are jobs of every sort: metric and in inches, with rips and without, with what is short.
func samples(t *testing.T) map[string]*sample {
	t.Helper()
	rips := benchmarks.RipMonth(1, 120, benchmarks.Kerfs{})
	rips["shop.toml"] = append(rips["shop.toml"], "\n[bins.low]\nmost = 3\n"...)
	out := map[string]*sample{"hard": planned(t, hardJob()),
		"ripped": planned(t, benchmarks.FS(rips))}
	const jobs = "../../testdata/jobs"
	dirs, err := os.ReadDir(jobs)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		out[d.Name()] = planned(t, os.DirFS(jobs+"/"+d.Name()))
	}
	return out
}
