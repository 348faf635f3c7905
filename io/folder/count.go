package folder

import (
	"bytes"
	"io/fs"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// ReadCount reads the sheet of a count from a folder, whose bare numbers are of a unit. The error
// is [model.InputErrors].
func ReadCount(fsys fs.FS, name string, u model.Unit) ([]model.Found, []model.Note, error) {
	r := shopReader(fsys)
	r.unit = u
	var found []model.Found
	if f, ok := r.table(name, true); ok {
		f.Count(func(n model.Found) { found = append(found, n) })
	}
	if err := r.m.Err(); err != nil {
		return nil, r.fewNotes(), err
	}
	return found, r.fewNotes(), nil
}

// EncodeCount gives the bytes of the sheet to fill in for a count of the rack.
func EncodeCount(rack []model.Board, u model.Unit) ([]byte, error) {
	var sheet bytes.Buffer
	err := csvfile.WriteCount(&sheet, rack, u)
	return sheet.Bytes(), err
}

// ReadPrices reads yard.csv of a shop folder, where there is one, into a job with its settings, so
// that wood on hand has its worth. The error is [model.InputErrors].
func ReadPrices(shop fs.FS) (*model.Job, error) {
	r := shopReader(shop)
	r.job.Settings = r.settings()
	r.unit = r.job.Settings.Units
	if there(shop, "yard.csv") {
		r.yard()
	} else {
		r.job.Settings.Yards = nil
	}
	r.job.Validate(&r.m)
	return r.job, r.m.Err()
}
