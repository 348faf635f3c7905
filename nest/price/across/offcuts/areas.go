package offcuts

import (
	"slices"

	"rackwright/nest/cutting"
)

// ClearBand is a band of the width over one span of the length. Clear is the sum of max(0, run -
// keep) over its clear runs there.
type ClearBand struct{ left, right, Clear int64 }

// BandsOver gives, in out, the bands of the whole width over a span of the length.
func (s Spots) BandsOver(along cutting.Span, width, keep int64, out []ClearBand) []ClearBand {
	var few [16]int64
	edges := cutting.BandEdges(few[:0], s, along, cutting.Span{To: width})
	out = slices.Grow(out[:0], len(edges))
	for n := 1; n < len(edges); n++ {
		b := ClearBand{left: edges[n-1], right: edges[n]}
		for run := range s.clearRuns(along, cutting.Span{From: b.left, To: b.right}) {
			b.Clear += max(0, run.To-run.From-keep)
		}
		out = append(out, b)
	}
	return out
}

// Areas gives the worth of all areas over one span of the length: u of the part [y, z) of the
// width is UpTo(z) - UpTo(y). It is linear inside a band.
type Areas struct {
	step   int64
	edges  []int64 // left edges of the bands, ascending from 0
	sums   []int64 // u up to each edge
	slopes []int64 // by band: u of one step of it
}

// SetBands computes the sums of bands, at s0.
func (c *Areas) SetBands(step, s0 int64, bands []ClearBand) {
	c.step = step
	c.edges, c.sums, c.slopes = c.edges[:0], c.sums[:0], c.slopes[:0]
	sum := int64(0)
	for _, b := range bands {
		slope := s0 * b.Clear
		c.edges, c.sums, c.slopes = append(c.edges, b.left), append(c.sums, sum),
			append(c.slopes, slope)
		sum += slope * ((b.right - b.left) / c.step)
	}
}

// Known says whether bands have been set since the last forgetting.
func (c *Areas) Known() bool { return len(c.edges) > 0 }

// Forget forgets the bands.
func (c *Areas) Forget() { c.edges = c.edges[:0] }

// UpTo is u of the part [0, y) of the width.
func (c *Areas) UpTo(y int64) int64 {
	n := cellOf(c.edges, y)
	return c.sums[n] + c.slopes[n]*((y-c.edges[n])/c.step)
}

// cellOf is the index of the last of the ascending edges at or before x; 0 where there is none.
func cellOf(edges []int64, x int64) int {
	n := len(edges) - 1
	for n > 0 && edges[n] > x {
		n--
	}
	return n
}
