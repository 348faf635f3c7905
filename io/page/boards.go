package page

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"rackwright/io/drawing"
	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/model"
)

// board is one that the plan cuts, in the list of boards.
type board struct {
	Anchor  string
	Picture string // anchor of its drawing
	InOrder bool   // its drawing stands in the order of work
	ID      string
	Wood    string
	Size    string
	From    string // rack and bin, or yard
	How     string // in which order it is broken down
	Pieces  []piece

	// for the filters: indices of its commissions joined by blanks, of its material and its bin
	Commissions, Material, Bin string
	layout                     *layout.Board
	draw                       func() (*drawn, error)
}

// piece is a part or an offcut of a board.
type piece struct{ Letter, Name, Size string }

// bought is the bin of boards that are not on the rack yet.
const bought = "bought, in no bin yet"

// boards lists those that the plan cuts, in the order of its cuts.
func (v *view) boards(all []*layout.Board) {
	commissions := map[string]int{}
	for i := range v.job.Commissions {
		commissions[v.job.Commissions[i].Name] = i
	}
	for n, l := range all {
		b := &board{Anchor: fmt.Sprintf("b%d", n+1),
			Picture: fmt.Sprintf("d%d", n+1), ID: model.Visible(l.ID), layout: l,
			draw: sync.OnceValues(func() (*drawn, error) {
				return picture(drawing.Board(l, &v.job.Settings, onScreen))
			}),
			Wood: model.Visible(l.Material() + " " + string(l.Section())),
			Size: v.size(l.Size.To, l.Size.Right), How: report.HowCut(l)}
		bin := model.Visible(l.InBin())
		switch {
		case l.Origin() != model.FromRack:
			b.From, bin = "from the yard", bought
		case bin == "":
			b.From, bin = "from the rack", "in no bin"
		default:
			b.From = "from the rack, " + bin
		}
		b.Material = index(&v.Materials, model.Visible(l.Material()))
		b.Bin = index(&v.Bins, bin)
		var whose []string
		for i := range l.Rows {
			c := &l.Rows[i]
			p := piece{Letter: l.Labels[i], Size: v.size(c.To-c.From, c.Right-c.Left)}
			switch c.Kind {
			case model.KindPart:
				p.Name = c.Commission + ", " + l.Name(i, "%s, copy %d")
				if n := fmt.Sprint(commissions[c.Commission]); !slices.Contains(whose, n) {
					whose = append(whose, n)
				}
			case model.KindOffcut:
				p.Name = "offcut " + c.Offcut
			default:
				continue
			}
			p.Name = model.Visible(p.Name)
			b.Pieces = append(b.Pieces, p)
		}
		b.Commissions = strings.Join(whose, " ")
		v.Boards = append(v.Boards, b)
	}
}

// index is that of a text in a list, which takes it in if it is new.
func index(list *[]string, text string) string {
	n := slices.Index(*list, text)
	if n < 0 {
		n, *list = len(*list), append(*list, text)
	}
	return fmt.Sprint(n)
}
