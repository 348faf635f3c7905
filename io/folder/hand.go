package folder

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// The rack of a shop folder by itself, without any month: as its files have it, as they are written
// anew, and one board as a command line has it.

// ReadSettings reads the shop.toml of a shop folder. The error is [model.InputErrors].
func ReadSettings(shop fs.FS) (model.Settings, error) {
	r := shopReader(shop)
	s := r.settings()
	return s, r.m.Err()
}

// ReadRack reads the rack of a shop folder, with its defects; the job has its settings and no more.
// The error is [model.InputErrors].
func ReadRack(shop fs.FS) (*model.Job, []model.Note, error) {
	r := shopReader(shop)
	r.job.Settings = r.settings()
	r.unit = r.job.Settings.Units
	r.job.Settings.Yards = nil // of yard.csv, which is not looked at
	r.rack(r.job, false)
	r.job.Validate(&r.m)
	if err := r.m.Err(); err != nil {
		return nil, r.fewNotes(), err
	}
	return r.job, r.fewNotes(), nil
}

// ReadReceived reads rack.csv and defects.csv of a folder that tell of boards as they came, for a
// shop of these settings. A cell left blank is as awaited has the board of that id. Boards of
// length 0 were not delivered, and are given apart, by their ids. What is wrong between the boards
// and those of the rack is not looked at. The error is [model.InputErrors].
func ReadReceived(fsys fs.FS, s *model.Settings, awaited func(id string) *model.Board) (
	came []model.Board, missing []string, notes []model.Note, err error) {
	r := shopReader(fsys)
	r.unit, r.job.Settings = s.Units, *s
	r.job.Settings.Yards = nil
	none := map[string]bool{}
	if f, ok := r.table("rack.csv", true); ok {
		f.Received(s, awaited, func(b model.Board) {
			if none[b.ID] = b.Length == 0; none[b.ID] {
				missing = append(missing, b.ID)
			} else {
				r.job.Rack = append(r.job.Rack, b)
			}
		})
	}
	by := map[string]*model.Board{}
	for i := range r.job.Rack {
		by[r.job.Rack[i].ID] = &r.job.Rack[i]
	}
	if f, ok := r.table("defects.csv", false); ok {
		f.Defects(func(c csvfile.Cells, id string) *model.Board {
			if by[id] == nil && id != "" {
				unknownBoard(c, id, 0, r.job.Rack)
			}
			return by[id]
		})
	}
	r.job.Validate(&r.m)
	if err := r.m.Err(); err != nil {
		return nil, nil, r.fewNotes(), err
	}
	return r.job.Rack, missing, r.fewNotes(), nil
}

// shopReader reads a shop folder.
func shopReader(shop fs.FS) *jobReader {
	r := &jobReader{reader: &reader{fsys: shop, unit: model.Inch}, job: &model.Job{}}
	if entries, err := fs.ReadDir(shop, "."); err == nil {
		for _, e := range entries {
			r.names = append(r.names, e.Name())
		}
	}
	return r
}

// EncodeRack gives the bytes of rack.csv and of defects.csv, by their names.
func EncodeRack(rack []model.Board, u model.Unit) (map[string][]byte, error) {
	var boards, defects bytes.Buffer
	err := cmp.Or(csvfile.WriteRack(&boards, rack, u), csvfile.WriteDefects(&defects, rack, u))
	return map[string][]byte{"rack.csv": boards.Bytes(), "defects.csv": defects.Bytes()}, err
}

// ReadBoard reads one board from cells by the columns of rack.csv, as a row of it would be read,
// and its defects, each the cells of a row of defects.csv from the second on. The error is
// [model.InputErrors], which name columns and no file.
func ReadBoard(s *model.Settings, cells map[string]string, defects [][]string) (model.Board,
	[]model.Note, error) {
	var b model.Board
	r := &reader{unit: s.Units}
	var names, row []string
	for _, name := range slices.Sorted(maps.Keys(cells)) {
		names, row = append(names, name), append(row, cells[name])
	}
	r.line(names, row).Rack(s, func(is model.Board, _ int64) { b = is })
	b.Where = model.Where{}
	for _, d := range defects {
		columns := []string{"board", "from", "to", "kind", "left", "right"}
		if len(d) < 3 || len(d) > len(columns)-1 {
			r.m.Add(&model.InputError{Code: model.CodeRange, Column: "defect",
				Cause:  "it has not three to five parts",
				Remedy: `write from, to and kind, such as "12; 14 1/2; sound knot"`})
			continue
		}
		r.line(columns[:len(d)+1], append([]string{b.ID}, d...)).
			Defects(func(csvfile.Cells, string) *model.Board { return &b })
	}
	for i := range r.notes {
		r.notes[i].Line = 0
	}
	return b, r.notes, withoutLines(r.m.Err())
}

// line is a table of one row.
func (r *reader) line(columns, row []string) *csvfile.File {
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	w.Write(columns)
	w.Write(row)
	w.Flush() // to a buffer no write fails
	return &csvfile.File{Data: text.Bytes(), Unit: r.unit, Mistakes: &r.m, Notes: &r.notes}
}

// withoutLines takes the lines out of mistakes that are of no file.
func withoutLines(err error) error {
	list, ok := err.(model.InputErrors)
	if !ok {
		return err
	}
	for _, m := range list {
		if m.File == "" {
			m.Line = 0
		}
		m.Remedy = strings.ReplaceAll(m.Remedy, "the cell", "it")
	}
	return list
}
