package across

import "rackwright/nest/cutting"

// clearBand is a band of the width over one span of the length. clear is the sum of max(0, run -
// keep) over its clear runs there.
type clearBand struct{ left, right, clear int64 }

// bandsOver gives, in out, the bands of the whole width over a span of the length.
func (r *pricer) bandsOver(along cutting.Span, out []clearBand) []clearBand {
	edges := r.spots.edges(r.scratch, along, r.allAcross())
	r.scratch = edges
	out = out[:0]
	for n := 1; n < len(edges); n++ {
		b := clearBand{left: edges[n-1], right: edges[n]}
		for run := range r.spots.clearRuns(along, cutting.Span{From: b.left, To: b.right}) {
			b.clear += r.clear.beyondKeep(run.To - run.From)
		}
		out = append(out, b)
	}
	return out
}

// areaSums gives the worth of all areas over one span of the length: u of the part [y, z) of the
// width is upTo(z) - upTo(y). It is linear inside a band.
type areaSums struct {
	step   int64
	edges  []int64 // left edges of the bands, ascending from 0
	sums   []int64 // u up to each edge
	slopes []int64 // by band: u of one step of it
}

// setBands computes the sums of bands, at s0.
func (c *areaSums) setBands(step, s0 int64, bands []clearBand) {
	c.step = step
	c.edges, c.sums, c.slopes = c.edges[:0], c.sums[:0], c.slopes[:0]
	sum := int64(0)
	for _, b := range bands {
		slope := s0 * b.clear
		c.edges, c.sums, c.slopes = append(c.edges, b.left), append(c.sums, sum),
			append(c.slopes, slope)
		sum += slope * ((b.right - b.left) / c.step)
	}
}

// upTo is u of the part [0, y) of the width.
func (c *areaSums) upTo(y int64) int64 {
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
