package folder

import (
	"fmt"
	"strconv"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// rack reads rack.csv and defects.csv into the job; defects.csv may be missing unless it is needed.
// It says whether every board could be given.
func (r *reader) rack(job *model.Job, needDefects bool) (complete bool) {
	at := map[string]int{}       // boards by id, also those with mistakes in their rows
	pieces := map[string]int64{} // qty of the rows that were parted
	f, ok := r.table(r.name("rack.csv"), true)
	ok = ok && f.Rack(&job.Settings, func(b model.Board, qty int64) {
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
	complete = ok && len(job.Rack) <= model.MostBoards
	if f, ok := r.table(r.name("defects.csv"), needDefects); ok {
		f.Defects(func(c csvfile.Cells, id string) *model.Board {
			if i, known := at[id]; known {
				return &job.Rack[i]
			}
			if id != "" && complete {
				unknownBoard(c, id, pieces[id], job.Rack)
			}
			return nil
		})
	}
	return complete
}

// unknownBoard reports the defect of a board that is not on the rack.
func unknownBoard(c csvfile.Cells, id string, pieces int64, rack []model.Board) {
	remedy := "write a board of rack.csv"
	if pieces > 0 {
		remedy = fmt.Sprintf("name one of its pieces, %s.1 to %s.%d", id, id, pieces)
	} else if len(rack) > 0 && c.Mistakes()*len(rack) < 1_000_000 {
		// each search is through the whole rack
		ids := make([]string, len(rack))
		for i := range rack {
			ids[i] = rack[i].ID
		}
		remedy = "write a board of rack.csv, the nearest is " + model.Nearest(id, ids)
	}
	c.Bad(model.CodeUnknownBoard, "board", fmt.Sprintf("board %q is not on the rack", id), remedy)
}
