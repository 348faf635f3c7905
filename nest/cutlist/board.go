package cutlist

import (
	"fmt"
	"strings"

	"rackwright/model"
)

// Board is one board in use and the pieces cut from it.
type Board struct {
	model.Board              // of a bought one its wood; Write gives it an id
	Offer       *model.Offer // by which it is bought; nil: it is on the rack
	Row         int          // index of Job.Rack, or of Job.Yard
	Rate        model.Rate   // of its offcuts
	Cost        model.Money  // price with tax, or worth on the rack
	First       model.First
	Pieces      []Piece // in the order of the cuts
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
	return &Board{Board: *b, Row: row, Rate: worth.RateOfBoard(b), Cost: worth.WorthOfBoard(b)}
}

// Bought is a board bought by a row of the yard, without pieces.
func Bought(job *model.Job, worth *model.Valuation, row int) *Board {
	o := &job.Yard[row]
	return &Board{Board: model.Board{Wood: o.Wood}, Offer: o, Row: row,
		Rate: worth.RateOfOffer(o), Cost: job.PaidFor(o)}
}

func (b *Board) origin() model.Origin {
	if b.Offer != nil {
		return model.FromYard
	}
	return model.FromRack
}

// ids gives ids to bought boards and offcuts: batch, kind and a number, and none that the rack has,
// in whatever case.
type ids struct {
	batch string
	taken map[string]bool // lower case
	last  map[string]int  // number given, by kind
}

func newIDs(job *model.Job) *ids {
	g := &ids{batch: job.Settings.Batch, taken: map[string]bool{}, last: map[string]int{}}
	for i := range job.Rack {
		g.taken[strings.ToLower(job.Rack[i].ID)] = true
	}
	return g
}

func (g *ids) give(kind string) string {
	prefix := kind + "-"
	if g.batch != "" {
		prefix = g.batch + "-" + prefix
	}
	for {
		g.last[kind]++
		id := fmt.Sprint(prefix, g.last[kind])
		if !g.taken[strings.ToLower(id)] {
			return id
		}
	}
}
