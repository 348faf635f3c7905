package papers

import (
	"cmp"
	"slices"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
	"rackwright/model/makeup"
)

// piece is a blank or an offcut that comes off a board.
type piece struct {
	id    string          // of ASCII, one of its own in the plan
	row   *model.Cut      // of cuts.csv
	wood  *model.Wood     // of its board
	part  *model.Part     // of a blank; nil where the job has no such part
	blank model.Blank     // what the part needs in this wood
	bin   string          // of an offcut
	size  [3]model.Length // as it comes off: length, width, thickness
}

// offcut says whether a piece goes back to the rack.
func (p *piece) offcut() bool { return p.row.Kind == model.KindOffcut }

// shop is a job with its plan, and what papers look up in them.
type shop struct {
	job    *model.Job
	plan   *model.Plan
	boards []*layout.Board
	pieces []*piece // as they come off the saw
	parts  map[[2]string]*model.Part
	blanks map[*model.Part][]*piece // by copy
}

func newShop(job *model.Job, plan *model.Plan) *shop {
	s := &shop{job: job, plan: plan, boards: layout.Boards(job, plan),
		parts: map[[2]string]*model.Part{}, blanks: map[*model.Part][]*piece{}}
	for i := range job.Parts {
		p := &job.Parts[i]
		s.parts[[2]string{p.Commission, p.Name}] = p
	}
	s.pieces = s.inOrder(s.cutFrom())
	for _, p := range s.pieces {
		if p.part != nil {
			s.blanks[p.part] = append(s.blanks[p.part], p)
		}
	}
	for _, list := range s.blanks {
		slices.SortStableFunc(list, func(a, b *piece) int {
			return cmp.Compare(a.row.Copy, b.row.Copy)
		})
	}
	return s
}

// woods gives the wood of every board that is used.
func (s *shop) woods() map[string]*model.Wood {
	out, lines := map[string]*model.Wood{}, map[int]*model.Wood{}
	for i := range s.job.Rack {
		out[s.job.Rack[i].ID] = &s.job.Rack[i].Wood
	}
	for i := range s.job.Yard {
		lines[s.job.Yard[i].Where.Line] = &s.job.Yard[i].Wood
	}
	for i := range s.plan.Placements {
		if x := &s.plan.Placements[i]; x.Offer > 0 {
			out[x.Board] = lines[x.Offer]
		}
	}
	return out
}

// cutFrom gives the pieces of each board in the order of its rows, nil where a row gives none.
func (s *shop) cutFrom() map[string][]*piece {
	woods, out := s.woods(), map[string][]*piece{}
	bins := map[string]string{}
	for i := range s.plan.Rack {
		bins[s.plan.Rack[i].ID] = s.plan.Rack[i].Bin
	}
	taken := map[string]bool{}
	for _, b := range s.boards {
		taken[b.ID] = true
	}
	for i := range s.job.Rack {
		taken[s.job.Rack[i].ID] = true
	}
	for i := range s.plan.Cuts {
		taken[s.plan.Cuts[i].Offcut] = true
	}
	for _, b := range s.boards {
		list := make([]*piece, len(b.Rows))
		for i := range b.Rows {
			row := &b.Rows[i]
			if row.Kind != model.KindPart && row.Kind != model.KindOffcut {
				continue
			}
			p := &piece{row: row, wood: woods[b.ID]}
			if p.wood == nil { // a plan that was written by hand
				p.wood = &model.Wood{Material: row.Material, Section: row.Section}
			}
			p.size = [3]model.Length{row.To - row.From, row.Right - row.Left, p.wood.Thickness}
			if p.offcut() {
				p.id, p.bin = row.Offcut, bins[row.Offcut]
			} else {
				p.id = blankID(b.ID, b.Labels[i], taken)
				if p.part = s.parts[[2]string{row.Commission, row.Part}]; p.part != nil {
					p.blank = s.job.BlankIn(p.part, p.wood)
				}
			}
			list[i] = p
		}
		out[b.ID] = list
	}
	return out
}

// blankID is the id of a blank: that of its board and its letter on it. Where something else in the
// shop goes by that name, there is one more stroke between the two.
func blankID(board, letter string, taken map[string]bool) string {
	for between := "/"; ; between += "/" {
		if id := ascii(board) + between + letter; !taken[id] {
			taken[id] = true
			return id
		}
	}
}

// inOrder puts the pieces in the order in which they come off the saw. A board without a cut is its
// only piece; such pieces come first.
func (s *shop) inOrder(of map[string][]*piece) (out []*piece) {
	type cut struct {
		board string
		step  int
	}
	byID, come := map[string]*layout.Board{}, map[cut][]*piece{}
	for _, b := range s.boards {
		byID[b.ID] = b
		made, _ := b.Cuts()
		for _, c := range made {
			for _, r := range []model.Rect{c.Near, c.Far} {
				at := slices.IndexFunc(b.Rows, func(row model.Cut) bool { return row.Rect() == r })
				if at >= 0 && of[b.ID][at] != nil {
					come[cut{b.ID, c.Step}] = append(come[cut{b.ID, c.Step}], of[b.ID][at])
					of[b.ID][at] = nil
				}
			}
		}
		for at, p := range of[b.ID] { // no cut frees it
			if p != nil {
				out, of[b.ID][at] = append(out, p), nil
			}
		}
	}
	for i := range s.plan.Order {
		at := cut{s.plan.Order[i].Board, s.plan.Order[i].Step}
		out = append(out, come[at]...)
		delete(come, at)
	}
	for _, b := range s.boards { // of cuts that stand in no order
		made, _ := b.Cuts()
		for _, c := range made {
			at := cut{b.ID, c.Step}
			out = append(out, come[at]...)
			delete(come, at)
		}
	}
	return out
}

// pieceName names a blank by what it makes; empty: it makes nothing but its part.
func (s *shop) pieceName(p *piece) string {
	if p.part == nil {
		return ""
	}
	return makeup.NameOf(p.part, p.row.Copy)
}

// length writes a length for people.
func (s *shop) length(l model.Length) string { return s.job.Settings.Show(l) }

func (s *shop) sizes(list ...model.Length) string { return sizes(&s.job.Settings, list...) }

// sizes writes lengths as they are said: length by width by thickness. Millimetres stand at the end
// only.
func sizes(s *model.Settings, list ...model.Length) string {
	const unit = model.NoBreakSpace + "mm"
	var words []string
	for _, l := range list {
		if l > 0 {
			words = append(words, s.Show(l))
		}
	}
	for n := range max(0, len(words)-1) {
		words[n] = strings.TrimSuffix(words[n], unit)
	}
	return strings.Join(words, " x ")
}

// asCut says how a blank comes off the saw where that is not the size that it needs: the plan
// leaves the rest to the bench.
func (s *shop) asCut(p *piece) string {
	var words []string
	if p.size[0] != p.blank.Length {
		words = append(words, s.length(p.size[0])+" long")
	}
	if p.size[1] != p.blank.Width {
		words = append(words, s.length(p.size[1])+" wide")
	}
	if p.size[2] != p.blank.Thickness {
		words = append(words, s.length(p.size[2])+" thick")
	}
	if len(words) == 0 {
		return ""
	}
	return "as cut " + strings.Join(words, ", ")
}
