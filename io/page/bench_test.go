package page

import (
	"bytes"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model/makeup"
	"rackwright/nest"
)

// many plans some 10,000 pieces in next to no time: the first seeded month, each part 25 times as
// often.
func many(t testing.TB) *sample {
	t.Helper()
	job, _, err := folder.ReadJob(benchmarks.FS(benchmarks.Month(1, benchmarks.Kerfs{})))
	if err != nil {
		t.Fatal(err)
	}
	for i := range job.Parts {
		job.Parts[i].Qty *= 25
	}
	for i := range job.Yard {
		job.Yard[i].Available = nil
	}
	s := &sample{job: job}
	if s.plan, err = nest.Plan(t.Context(), job, nest.Options{Work: 1e6}); err != nil {
		t.Fatal(err)
	}
	s.job = makeup.AsMade(job, s.plan.Made)
	return s
}

// BenchmarkPage writes the page of some 10,000 pieces, and reports its size.
func BenchmarkPage(b *testing.B) {
	s := many(b)
	b.ReportAllocs()
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := Write(&out, s.job, s.plan, s.ways); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Len()), "bytes")
	b.ReportMetric(float64(len(s.job.Parts)), "parts")
	b.ReportMetric(float64(len(s.plan.Placements)), "boards")
}
