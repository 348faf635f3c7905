package check

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// The cuts of a board are made in the order of their steps, with one piece in hand. The replay
// knows nothing of how a board is laid out: only the rows, that they cover the board, and what a
// saw can do.
//
//   - A cut goes straight from edge to edge of one of the pieces there are, and turns its kerf row
//     into dust. Where there is no kerf row it is a line between rows, as beside a trim or with a
//     kerf of 0.
//   - A step is one cut. Only dust less than a kerf wide at the edge of a piece goes with the next
//     cut of the same piece.
//   - A board with a span of its own is crosscut outside the span, and ripped where just the span
//     is in hand.
//   - After its step a row is a piece by itself, and was none before. Waste and defect rows of one
//     step that lie together are one piece.
//
// Each piece knows its depth, how far it is broken down. 0 is the board. 1 and 2 are what the first
// and the second kind of cut make. 3 is what is trimmed.
//
// Safe sizes hold at each step:
//
//   - What is ripped is at least shortest_rip long.
//   - No blank or offcut narrower than narrowest_rip comes off a rip.
//   - Nothing shorter than shortest_blank is crosscut, unless it holds a blank or is only squared
//     off from the trim.
//   - Cuts that trim come last: while any other cut is to be made, no piece is shorter than it must
//     be.

// replaying is the replay of one board.
type replaying struct {
	c      *checker
	u      *usedBoard
	safe   model.Safety
	steps  map[int][]int // rows by step
	last   int           // step
	tries  int           // of lines where several could be meant
	failed int           // the latest step that did not work out
	why    string        // it did not
}

// mostTries bounds the lines tried on one board. Plans of ours need one or two a cut.
const mostTries = 20_000

// bench is what lies on the saw bench after some cuts.
type bench struct {
	pieces   []sawnOff
	trimming bool // the cuts that trim have begun
	made     []sawn
	units    int // taken in hand so far
}

// sawnOff is a piece on the bench, how far it is broken down, and what it is cut from.
type sawnOff struct {
	model.Rect
	depth int
	unit  int
	hand  model.Rect // the unit, before it was cut
}

// replay judges that a board can be cut in the order of its steps.
func (c *checker) replay(u *usedBoard) {
	where := "cuts.csv: board " + u.id
	p := &replaying{c: c, u: u, safe: c.job.Settings.SafetyFor(u.board.Material, u.board.Section),
		steps: map[int][]int{}}
	for i := range u.rows {
		r := &u.rows[i]
		if r.Step < 1 || r.Step > 2*len(u.rows) {
			c.say(c.rowName(u, i), "step %d is none that cuts this board", r.Step)
			return
		}
		if r.From < 0 || r.To > u.board.Length || r.Left < 0 || r.Right > u.board.Width ||
			r.From >= r.To || r.Left >= r.Right {
			return // judged already
		}
		p.steps[r.Step] = append(p.steps[r.Step], i)
		p.last = max(p.last, r.Step)
	}
	uncut := sawnOff{Rect: model.Rect{From: 0, To: u.board.Length, Left: 0, Right: u.board.Width}}
	if p.isOnePiece(uncut.Rect) && p.last == 1 {
		return // it needs no cut
	}
	if !p.cutFrom(1, bench{pieces: []sawnOff{uncut}}) {
		c.say(where, "it cannot be cut in the order of its steps: at step %d %s", p.failed, p.why)
	}
}

// fail keeps why a step does not work out.
func (p *replaying) fail(step int, format string, args ...any) bool {
	if step > p.failed {
		p.failed, p.why = step, fmt.Sprintf(format, args...)
	}
	return false
}

// cutFrom makes the cuts from a step on, and says whether all work out.
func (p *replaying) cutFrom(step int, b bench) bool {
	for ; step <= p.last; step++ {
		var kerfs []int
		for _, i := range p.steps[step] {
			if p.u.rows[i].Kind == model.KindKerf {
				kerfs = append(kerfs, i)
			}
		}
		if len(kerfs) == 0 {
			return p.tryLines(step, b)
		}
		next, touched, ok := p.kerfs(step, b, kerfs)
		if !ok || !p.judgeFreed(step, touched) {
			return false
		}
		b = next
	}
	for _, piece := range b.pieces {
		if !p.isOnePiece(piece.Rect) {
			return p.fail(p.last,
				"the last cut is made, and what goes from %s is no piece of the list",
				p.where(piece.Rect))
		}
	}
	p.u.sawn = p.tell(b.made)
	return true
}

// kerfs makes the cuts of a step that turn kerf rows into dust, and gives the pieces that came of
// them.
func (p *replaying) kerfs(step int, b bench, kerfs []int) (bench, []model.Rect, bool) {
	if len(kerfs) > 2 {
		return b, nil, p.fail(step, "there are %d cuts", len(kerfs))
	}
	var touched []model.Rect
	for n, i := range kerfs {
		k := p.u.rows[i].Rect()
		at := slices.IndexFunc(b.pieces, func(s sawnOff) bool { return liesIn(k, s.Rect) })
		if at < 0 {
			return b, nil, p.fail(step, "the kerf at %s lies in no piece", p.where(k))
		}
		piece := b.pieces[at].Rect
		way := model.Along
		switch {
		case k == piece:
			return b, nil, p.fail(step, "all of a piece is the kerf at %s", p.where(k))
		case k.On(model.Across) == piece.On(model.Across):
		case k.On(model.Along) == piece.On(model.Along):
			way = model.Across
		default:
			return b, nil, p.fail(step,
				"the kerf at %s does not go from edge to edge of the piece in hand, %s", p.where(k),
				p.where(piece))
		}
		dust := k.On(way).From == piece.On(way).From || k.On(way).To == piece.On(way).To
		if len(kerfs) == 2 && (n == 0 && !dust || n == 1 && !slices.Contains(touched, piece)) {
			return b, nil, p.fail(step,
				"there are two cuts, and the first does not just shave the edge of the "+
					"piece that the second parts")
		}
		next, came, ok := p.cutOnce(step, b, at, way, k.On(way))
		if !ok {
			return b, nil, false
		}
		b, touched = next, append(
			slices.DeleteFunc(touched, func(r model.Rect) bool { return r == piece }), came...)
	}
	return b, touched, true
}

// tryLines makes a step that turns nothing into dust: a line between rows. Where the rows of the
// step do not tell which, any may be meant; those that break the board down least are tried first,
// from the marked end or the left edge on.
func (p *replaying) tryLines(step int, b bench) bool {
	for level := range 4 {
		for at, piece := range b.pieces {
			if p.isOnePiece(piece.Rect) {
				continue
			}
			for _, way := range []model.Axis{model.Along, model.Across} {
				if p.c.kerf(way) > 0 && (way == model.Across || !p.has(step, model.KindTrim)) {
					continue // such a cut leaves dust
				}
				if makes, why := p.depthAfter(step, piece.depth, way); why != "" || makes != level {
					continue
				}
				for _, x := range p.lines(piece.Rect, way) {
					if p.tries++; p.tries > mostTries {
						return p.fail(step,
							"no kerf says which cut is meant, and too many could be")
					}
					next, touched, ok := p.cutOnce(step, b, at, way, model.Span{From: x, To: x})
					if ok && p.judgeFreed(step, touched) && p.cutFrom(step+1, next) {
						return true
					}
				}
			}
		}
	}
	return p.fail(step, "no straight cut from edge to edge of a piece frees what has its number")
}

// lines gives where a piece can be parted without going through a row.
func (p *replaying) lines(piece model.Rect, way model.Axis) []model.Length {
	var at []model.Length
	var rows []model.Span
	held := piece.On(way)
	for i := range p.u.rows {
		if r := p.u.rows[i].Rect(); liesIn(r, piece) {
			rows = append(rows, r.On(way))
			if from := r.On(way).From; from > held.From {
				at = append(at, from)
			}
		}
	}
	slices.Sort(at)
	return slices.DeleteFunc(slices.Compact(at), func(x model.Length) bool {
		return slices.ContainsFunc(rows, func(s model.Span) bool { return s.From < x && x < s.To })
	})
}

// cutOnce makes one cut, and gives the one or two pieces that come of it.
func (p *replaying) cutOnce(step int, b bench, at int, way model.Axis, kerf model.Span) (bench,
	[]model.Rect, bool) {
	piece := b.pieces[at]
	level, why := p.depthAfter(step, piece.depth, way)
	if why == "" {
		why = p.whySpan(piece, way, kerf)
	}
	if why != "" {
		return b, nil, p.fail(step, "%s", why)
	}
	if level == 3 && !p.c.job.Settings.TrimmingCut {
		return b, nil, p.fail(step,
			"a piece is trimmed, which trimming_cut of [rip] does not allow")
	}
	if b.trimming && level < 3 {
		return b, nil, p.fail(step,
			"a piece is cut after others have been trimmed; those that trim come last")
	}
	var came []model.Rect
	for _, s := range []model.Span{{From: piece.On(way).From, To: kerf.From},
		{From: kerf.To, To: piece.On(way).To}} {
		if s.From < s.To {
			came = append(came, piece.With(way, s))
		}
	}
	if !p.judgeSafety(step, piece.Rect, way, came) {
		return b, nil, false
	}
	s := p.saw(step, piece, level, way, kerf, &b)
	pieces := make([]sawnOff, len(came))
	for i, r := range came {
		pieces[i] = sawnOff{r, level, s.unit, s.hand}
	}
	return bench{slices.Concat(b.pieces[:at], pieces, b.pieces[at+1:]), level == 3,
		append(slices.Clip(b.made), s), max(b.units, s.unit+1)}, came, true
}
