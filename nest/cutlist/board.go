package cutlist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rackwright/model"
)

// Board is one board in use and the pieces cut from it.
type Board struct {
	model.Board              // of a bought one its wood; Write gives it an id
	Offer       *model.Offer // by which it is bought; nil: it is on the rack
	Row         int          // index of Job.Rack, or of Job.Yard
	Slope       model.Slope  // of its offcuts
	Cost        int64        // price with tax, or worth on the rack; in ticks
	First       model.First
	Ripped      model.Span // of a board that is ripped first; zero: all between the trims
	Pieces      []Piece    // in the order of the cuts
	Offcuts     []string   // ids for its first offcuts, in the order of the cuts
}

// Piece is a blank where it is cut. One that is not ripped takes the whole width of its board.
type Piece struct {
	Part int // index of Job.Parts
	Copy int64
	model.Rect
}

// OnRack is a board of the rack, without pieces.
func OnRack(job *model.Job, worth *model.Valuation, row int) *Board {
	b := &job.Rack[row]
	return &Board{Board: *b, Row: row, Slope: worth.SlopeOfBoard(b), Cost: worth.WorthOfBoard(b)}
}

// Bought is a board bought by a row of the yard, without pieces.
func Bought(job *model.Job, worth *model.Valuation, row int) *Board {
	o := &job.Yard[row]
	return &Board{Board: model.Board{Wood: o.Wood}, Offer: o, Row: row,
		Slope: worth.SlopeOfOffer(o), Cost: worth.Ticks(job.PaidFor(o))}
}

func (b *Board) origin() model.Origin {
	if b.Offer != nil {
		return model.FromYard
	}
	return model.FromRack
}

// usable is what lies between the trims.
func (b *Board) usable(job *model.Job) model.Span {
	trim := job.Settings.TrimFor(&b.Board, b.origin())
	return model.Span{From: trim, To: b.Length - trim}
}

// ripped is what of a board that is ripped first is in hand then.
func (b *Board) ripped(job *model.Job) model.Span {
	if b.Ripped == (model.Span{}) {
		return b.usable(job)
	}
	return b.Ripped
}

// ids gives ids to bought boards and offcuts: batch, kind and a number. The numbers of a kind go on
// after the highest that is known, on the rack or otherwise, with the same batch and kind, in
// whatever case, as an id that differs in case only is refused next month.
type ids struct {
	batch string
	known []string
	last  map[string]int64 // number given or known, by kind
}

func newIDs(job *model.Job, given ...string) *ids {
	g := &ids{batch: job.Settings.Batch, known: slices.Concat(job.Known, given),
		last: map[string]int64{}}
	for i := range job.Rack {
		g.known = append(g.known, job.Rack[i].ID)
	}
	return g
}

func (g *ids) give(kind string) string {
	prefix := kind + "-"
	if g.batch != "" {
		prefix = g.batch + "-" + prefix
	}
	if _, begun := g.last[kind]; !begun {
		folded := model.FoldName(prefix)
		for _, id := range g.known {
			g.last[kind] = max(g.last[kind], numberAfter(folded, model.FoldName(id)))
		}
	}
	g.last[kind]++
	return fmt.Sprint(prefix, g.last[kind])
}

// numberAfter is N of an id that is the prefix and N, or of alike boards under such an id, ID.1; 0
// of any other. More than twelve digits are a name, not a number to go on after.
func numberAfter(prefix, id string) int64 {
	rest, ok := strings.CutPrefix(id, prefix)
	digits, _, _ := strings.Cut(rest, ".")
	n, err := strconv.ParseUint(digits, 10, 64)
	if !ok || err != nil || len(digits) > 12 {
		return 0
	}
	return int64(n)
}
