package across

import (
	"slices"

	"rackwright/nest/cutting"
)

// areas is the integral of the worth of lines along the width, over a span of the length: u of [0,
// y) of the width is at(y).
type areaSums struct {
	edges []int64 // ascending
	sum   []int64 // at the edges
	slope []int64 // from each edge on, of one step
	step  int64
}

// line is a band across with the worth of a line of one step, s0 left out.
type clearBand struct{ left, right, clear int64 }

// set makes it of lines.
func (c *areaSums) set(r *pricer, lines []clearBand) {
	c.step = r.clear.step
	c.edges, c.sum, c.slope = c.edges[:0], c.sum[:0], c.slope[:0]
	var sum int64
	for _, l := range lines {
		c.edges, c.sum, c.slope = append(c.edges, l.left), append(c.sum, sum),
			append(c.slope, r.clear.s0*l.clear)
		sum += r.clear.s0 * l.clear * ((l.right - l.left) / c.step)
	}
}

func (c *areaSums) upTo(y int64) int64 {
	n := len(c.edges) - 1
	for n > 0 && c.edges[n] > y {
		n--
	}
	return c.sum[n] + c.slope[n]*((y-c.edges[n])/c.step)
}

// lines gives those of [from, to) of the length, in out.
func (r *pricer) bandsOver(from, to int64, out []clearBand) []clearBand {
	cuts := append(r.scratch[:0], 0, r.across.Width)
	for n := range r.spots {
		if s := &r.spots[n]; s.From < to && s.To > from {
			cuts = append(cuts, s.Left, s.Right)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	r.scratch = cuts
	out = out[:0]
	for n := 1; n < len(cuts); n++ {
		l := clearBand{left: cuts[n-1], right: cuts[n]}
		for run := range cutting.ClearRuns(r.spots, from, to, func(s *cutting.Spot) bool {
			return s.Left < l.right && s.Right > l.left
		}) {
			l.clear += max(0, run.To-run.From-r.stock.Keep)
		}
		out = append(out, l)
	}
	return out
}
