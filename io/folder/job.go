package folder

import (
	"bytes"
	"cmp"
	"io/fs"
	"path"
	"slices"
	"strings"

	"rackwright/io/settings"
	"rackwright/model"
	"rackwright/model/makeup"
)

// ReadJob reads a job folder: shop.toml (optional), parts.csv or parts/*.csv, orders.csv and the
// designs/NAME.csv that it names (parts or orders may be missing), commissions.csv (optional),
// rack.csv, defects.csv (optional) and yard.csv. The error is [model.InputErrors] with every
// mistake of every file, and the job is then nil.
func ReadJob(fsys fs.FS) (*model.Job, []model.Note, error) { return ReadMonth(fsys, nil) }

// ReadMonth is [ReadJob] for a job folder with another folder above it, which is nil where there is
// none. Where that is a shop folder, what the job folder has no file for is read from there: see
// [ShopFiles]. Such files are named with [model.Above] before their names.
func ReadMonth(fsys, shop fs.FS) (*model.Job, []model.Note, error) {
	r := &jobReader{reader: &reader{fsys: fsys, unit: model.Inch}, job: &model.Job{}}
	return r.month(shop)
}

// ReadMonthAt is [ReadMonth] with the rack that the shop had at another time in place of that of
// its rack.csv. A part that must come from a board which was not there may come from any.
func ReadMonthAt(fsys, shop fs.FS, rack []model.Board) (*model.Job, []model.Note, error) {
	r := &jobReader{reader: &reader{fsys: fsys, unit: model.Inch}, job: &model.Job{}, then: rack,
		earlier: true}
	return r.month(shop)
}

func (r *jobReader) month(shop fs.FS) (*model.Job, []model.Note, error) {
	fsys := r.fsys
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		r.m.Add(unreadable("", err, "name a job folder that can be read"))
		return nil, nil, r.m.Err()
	}
	for _, e := range entries {
		r.names = append(r.names, e.Name())
	}
	if shop != nil {
		r.look(shop)
	}
	job := r.job
	job.Settings = r.settings()
	r.unit = job.Settings.Units
	r.yard()
	boards := !r.parted && r.rack(job, false)
	r.leftOut()
	commissions := r.commissions()
	r.parts()
	r.orders()
	r.atThatTime()
	r.noPart()
	forget(job, boards, commissions && r.complete)
	job.Inputs = r.inputs
	slices.SortFunc(job.Inputs, func(a, b model.Input) int { return cmp.Compare(a.Name, b.Name) })
	job.Validate(&r.m)
	if err := r.m.Err(); err != nil {
		return nil, r.fewNotes(), err
	}
	makeup.MarkShort(job)
	return job, r.fewNotes(), nil
}

// jobReader reads a job folder.
type jobReader struct {
	*reader
	job *model.Job

	sources  []string        // files that say which parts are wanted
	complete bool            // every row of them could be given
	known    map[string]bool // commissions
	parted   bool            // the rack is in one folder and its defects in the other
	left     bool            // the shop's defects are left out, as the month has a rack of its own
	earlier  bool            // the rack of the shop is that of another time
	then     []model.Board   // that rack
}

// atThatTime puts the rack of another time in place of the one that was read.
func (r *jobReader) atThatTime() {
	if !r.earlier || !r.above["rack.csv"] {
		return
	}
	r.job.Rack = slices.Clone(r.then)
	for i := range r.job.Rack {
		r.job.Rack[i].Where = model.Where{File: r.name("rack.csv"), Line: i + 2}
	}
	for i := range r.job.Parts {
		if p := &r.job.Parts[i]; !slices.ContainsFunc(r.then,
			func(b model.Board) bool { return b.Answers(p.Board) }) {
			p.Board = ""
		}
	}
}

// forget takes out what names a board or a commission that may have stood in a row which could not
// be given: that row is blamed alone.
func forget(job *model.Job, boards, commissions bool) {
	for i := range job.Parts {
		if !boards {
			job.Parts[i].Board = ""
		}
	}
	for i := range job.Rack {
		if !commissions {
			job.Rack[i].For = ""
		}
	}
}

// settings reads shop.toml. After mistakes in it the files are judged by the default settings, in
// its units where they were readable.
func (r *jobReader) settings() model.Settings {
	name := r.name("shop.toml")
	data, ok := r.file(name, false, 1<<20)
	if !ok {
		return model.DefaultSettings()
	}
	s, err := settings.Read(bytes.NewReader(data), name)
	if err != nil {
		r.m.AddAll(name, err)
		s = model.DefaultSettingsIn(s.Units)
	} else if s.Batch != "" && r.above["shop.toml"] {
		r.notes = append(r.notes, model.Note{File: name, Column: "batch",
			Text: "it begins the new ids of every month, so that ids may come twice; leave it " +
				"out, then the name of the month's folder begins them"})
	}
	return s
}

// yard reads yard.csv.
func (r *jobReader) yard() {
	f, ok := r.table(r.name("yard.csv"), true)
	ok = ok && f.Yard(&r.job.Settings, func(o model.Offer) { r.job.Yard = append(r.job.Yard, o) })
	if !ok { // which yards there are is not known
		r.job.Settings.Yards = nil
	}
}

// commissions reads commissions.csv, where there is one; it says whether every row could be given.
func (r *jobReader) commissions() (complete bool) {
	const name = "commissions.csv"
	if !slices.Contains(r.names, name) {
		return true
	}
	f, ok := r.table(name, false)
	return ok && f.Commissions(func(c model.Commission) {
		r.job.Commissions = append(r.job.Commissions, c)
	})
}

// parts reads parts.csv, or else every CSV file of the folder parts.
func (r *jobReader) parts() {
	r.sources, r.complete = r.partFiles()
	for _, name := range r.sources {
		f, ok := r.table(name, true)
		ok = ok && f.Parts(r.take)
		r.complete = r.complete && ok
	}
}

// take adds a part to the job, and its commission where it is new.
func (r *jobReader) take(p model.Part) {
	if r.known == nil {
		r.known = map[string]bool{}
		for _, c := range r.job.Commissions {
			r.known[c.Name] = true
		}
	}
	r.job.Parts = append(r.job.Parts, p)
	if !r.known[p.Commission] {
		r.known[p.Commission] = true
		r.job.Commissions = append(r.job.Commissions, model.Commission{Name: p.Commission})
	}
}

// noPart reports a job without a part, unless one was there that could not be given.
func (r *jobReader) noPart() {
	if len(r.job.Parts) == 0 && len(r.sources) > 0 && r.complete {
		r.m.Add(&model.InputError{Code: model.CodeEmptyFile, File: r.sources[0],
			Cause: "there is no part in it", Remedy: "write a row for each part that is wanted"})
	}
}

// partFiles lists where parts are to be read from; false where that is in doubt.
func (r *jobReader) partFiles() ([]string, bool) {
	has := func(name string) bool { return slices.Contains(r.names, name) }
	switch {
	case !has("parts") && !has("parts.csv") && has("orders.csv"):
		return nil, true
	case !has("parts"):
		return []string{"parts.csv"}, true
	case has("parts.csv"):
		r.m.Add(&model.InputError{Code: model.CodeTwoSources, File: "parts.csv",
			Cause: "there is a folder parts beside it", Remedy: "keep one of the two"})
		return nil, false
	}
	files, ok := r.listed("parts")
	if ok && len(files) == 0 && !has("orders.csv") {
		r.m.Add(&model.InputError{Code: model.CodeMissingFile, File: "parts",
			Cause:  "there is no CSV file in the folder",
			Remedy: "put the lists of parts there, or write parts.csv"})
		return nil, false
	}
	return files, ok
}

// listed gives the CSV files of a folder below one that is read; false where it cannot be read.
func (r *jobReader) listed(within string) (files []string, ok bool) {
	if r.isLink(within) {
		r.m.Add(linked(within))
		return nil, false
	}
	entries, err := fs.ReadDir(r.at(within))
	if err != nil {
		r.m.Add(unreadable(within, err, "see that it is a folder that can be read"))
		return nil, false
	}
	for _, e := range entries {
		name := within + "/" + e.Name()
		if SystemFile(e.Name()) {
			continue
		}
		if strings.EqualFold(path.Ext(name), ".csv") && !strings.HasPrefix(e.Name(), ".") {
			files = append(files, name)
		} else {
			r.notes = append(r.notes, model.Note{File: name,
				Text: "it is not read: its name begins with a point or does not end in .csv"})
		}
	}
	return files, true
}
