package folder

import (
	"bytes"
	"io/fs"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// ReadCount reads the sheet of a count from a folder, whose bare numbers are of a unit. The error
// is [model.InputErrors].
func ReadCount(fsys fs.FS, name string, u model.Unit) (*model.Count, []model.Note, error) {
	r := shopReader(fsys)
	r.unit = u
	count := &model.Count{}
	if f, ok := r.table(name, true); ok {
		f.Count(func(n model.Found) { count.Found = append(count.Found, n) },
			func(bin string) { count.Bins = append(count.Bins, bin) })
	}
	if err := r.m.Err(); err != nil {
		return nil, r.fewNotes(), err
	}
	return count, r.fewNotes(), nil
}

// EncodeCount gives the bytes of the sheet to fill in for a count of the rack, or of some bins.
func EncodeCount(rack []model.Board, bins []string, u model.Unit) ([]byte, error) {
	var sheet bytes.Buffer
	err := csvfile.WriteCount(&sheet, rack, bins, u)
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
