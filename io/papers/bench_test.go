package papers

import (
	"bytes"
	"context"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model/makeup"
	"rackwright/nest"
)

// BenchmarkPapers writes the papers of some 10,000 pieces: the first seeded month, each part 25
// times as often, planned in next to no time. It reports the size of each file.
func BenchmarkPapers(b *testing.B) {
	job, _, err := folder.ReadJob(benchmarks.FS(benchmarks.Month(1, benchmarks.Kerfs{})))
	if err != nil {
		b.Fatal(err)
	}
	pieces := int64(0)
	for i := range job.Parts {
		job.Parts[i].Qty *= 25
		pieces += job.Parts[i].Qty
	}
	for i := range job.Yard {
		job.Yard[i].Available = nil
	}
	plan, err := nest.Plan(context.Background(), job, nest.Options{Work: 1e6})
	if err != nil {
		b.Fatal(err)
	}
	job = makeup.AsMade(job, plan.Made)
	for _, p := range All() {
		b.Run(p.File, func(b *testing.B) {
			b.ReportAllocs()
			var out bytes.Buffer
			for b.Loop() {
				out.Reset()
				if err := p.Write(&out, job, plan, Options{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(out.Len()), "bytes")
			b.ReportMetric(float64(pieces), "pieces")
		})
	}
}
