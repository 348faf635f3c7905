package csvfile

import (
	"fmt"
	"strconv"

	"rackwright/model"
)

// yes is the word in a cell that says yes; no is a blank.
const yes = "yes"

// rack reads rack.csv and defects.csv into the job; defects.csv may be missing unless it is needed.
// It says whether every board could be given.
func (r *reader) rack(job *model.Job, needDefects bool) bool {
	at := map[string]int{}       // boards by id, also those with mistakes in their rows
	pieces := map[string]int64{} // qty of the rows that were parted
	whole := table(r, "rack.csv", true, rackNeeds, func(c cells, row rackRow) {
		b := model.Board{
			ID: c.name("board", row.Board),
			Wood: c.wood(&job.Settings, row.Material, row.Section, row.Length, row.Width,
				row.Thickness),
			Bin: string(row.Bin), Since: c.date("since", row.Since), For: string(row.For),
			Note: string(row.Note), Where: c.where(),
		}
		if row.Value != "" {
			v := c.money("value", row.Value)
			b.Value = &v
		}
		if b.Untouched = row.Untouched == yes; !b.Untouched && row.Untouched != "" {
			c.bad(model.CodeWord, "untouched",
				fmt.Sprintf("%.40q is neither yes nor blank", string(row.Untouched)),
				"write yes, or empty the cell")
		}
		if row.Longest != "" {
			if b.Longest = c.length("longest", row.Longest); b.Longest == 0 {
				c.bad(model.CodeRange, "longest", "a longest blank of 0",
					"write a length above 0, or empty the cell")
			}
		}
		qty := int64(1)
		if row.Qty != "" {
			qty = max(1, c.count("qty", row.Qty, 1))
		}
		if qty > 1 {
			pieces[b.ID] = qty
		}
		for n := int64(1); n <= qty && len(job.Rack) <= model.MostBoards; n++ {
			one := b
			if qty > 1 {
				one.ID = b.ID + "." + strconv.FormatInt(n, 10)
			}
			if _, again := at[one.ID]; !again {
				at[one.ID] = len(job.Rack)
			}
			job.Rack = append(job.Rack, one)
		}
	})
	table(r, "defects.csv", needDefects, defectNeeds, func(c cells, row defectRow) {
		before := c.mistakes
		id := c.name("board", row.Board)
		d := model.Defect{From: c.length("from", row.From), To: c.length("to", row.To),
			Kind: model.DefectKind(c.name("kind", row.Kind))}
		i, known := at[id]
		if !known {
			if id != "" && whole && len(job.Rack) <= model.MostBoards {
				c.unknownBoard(id, pieces[id], job.Rack)
			}
			return
		}
		b := &job.Rack[i]
		if d.Right = b.Width; row.Right != "" {
			d.Right = c.length("right", row.Right)
		}
		if row.Left != "" {
			d.Left = c.length("left", row.Left)
		}
		if c.mistakes > before || b.Length == 0 || b.Width == 0 {
			return // what was not readable cannot be judged
		}
		if e := b.Fault(d, c.unit); e != nil {
			c.bad(e.Code, e.Column, e.Cause, e.Remedy)
			return
		}
		b.Defects = append(b.Defects, d)
	})
	return whole && len(job.Rack) <= model.MostBoards
}

func (c cells) unknownBoard(id string, pieces int64, rack []model.Board) {
	remedy := "write a board of rack.csv"
	if pieces > 0 {
		remedy = fmt.Sprintf("name one of its pieces, %s.1 to %s.%d", id, id, pieces)
	} else if len(rack) > 0 && c.mistakes*len(rack) < 1_000_000 {
		// each search is through the whole rack
		ids := make([]string, len(rack))
		for i := range rack {
			ids[i] = rack[i].ID
		}
		remedy = "write a board of rack.csv, the nearest is " + model.Nearest(id, ids)
	}
	c.bad(model.CodeUnknownBoard, "board", fmt.Sprintf("board %q is not on the rack", id), remedy)
}
