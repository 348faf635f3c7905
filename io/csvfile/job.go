package csvfile

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"rackwright/io/settings"
	"rackwright/io/textfile"
	"rackwright/model"
)

// Note is something odd in the input that is allowed, such as a length that was rounded.
type Note = model.Note

// ReadJob reads a job folder: shop.toml (optional), parts.csv or parts/*.csv, orders.csv and the
// designs/NAME.csv that it names (parts or orders may be missing), commissions.csv (optional),
// rack.csv, defects.csv (optional) and yard.csv. The error is [model.InputErrors] with every
// mistake of every file, and the job is then nil.
func ReadJob(fsys fs.FS) (*model.Job, []Note, error) {
	r := &reader{fsys: fsys, unit: model.Inch}
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		r.m.Add(unreadable("", err, "name a job folder that can be read"))
		return nil, nil, r.m.Err()
	}
	for _, e := range entries {
		r.names = append(r.names, e.Name())
	}
	job := &model.Job{Settings: r.settings()}
	r.unit = job.Settings.Units
	r.yard(job)
	boards := r.rack(job, false)
	commissions := r.commissions(job)
	r.parts(job)
	r.orders(job)
	r.noPart(job)
	forget(job, boards, commissions && r.whole)
	job.Inputs = r.inputs
	slices.SortFunc(job.Inputs, func(a, b model.Input) int { return cmp.Compare(a.Name, b.Name) })
	job.Validate(&r.m)
	if err := r.m.Err(); err != nil {
		return nil, r.fewNotes(), err
	}
	return job, r.fewNotes(), nil
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

// mostNotes of one file are told one by one.
const mostNotes = 10

// fewNotes gives the notes in the order of file and line; where a file has many, the rest of them
// is counted.
func (r *reader) fewNotes() (few []Note) {
	slices.SortStableFunc(r.notes, func(a, b Note) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
	})
	for len(r.notes) > 0 {
		file := r.notes[0].File
		n := slices.IndexFunc(r.notes, func(n Note) bool { return n.File != file })
		if n < 0 {
			n = len(r.notes)
		}
		few = append(few, r.notes[:min(n, mostNotes)]...)
		if n > mostNotes {
			few = append(few, Note{File: file,
				Text: fmt.Sprintf("%d more lengths are rounded", n-mostNotes)})
		}
		r.notes = r.notes[n:]
	}
	return few
}

// reader reads the files of one folder.
type reader struct {
	fsys   fs.FS
	names  []string // what lies in the folder
	unit   model.Unit
	inputs []model.Input
	notes  []Note
	m      model.Mistakes

	sources []string        // files that say which parts are wanted
	whole   bool            // every row of them could be given
	known   map[string]bool // commissions
}

func unreadable(name string, err error, remedy string) *model.InputError {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		err = p.Err // the path in it is not for the maker's eyes twice
	}
	return &model.InputError{Code: model.CodeUnreadable, File: name,
		Cause: "it cannot be read (" + err.Error() + ")", Remedy: remedy}
}

// file gives the bytes of one file and notes their hash; false where it is not there or not
// readable.
func (r *reader) file(name string, required bool, limit int64) ([]byte, bool) {
	const remedy = "see that it is a plain file that may be read"
	data, refused := []byte(nil), (*model.InputError)(nil)
	// before it is opened: opening a pipe would wait for its writer
	info, err := fs.Stat(r.fsys, name)
	switch {
	case r.isLink(name):
		refused = linked(name)
	case errors.Is(err, fs.ErrNotExist):
		if required {
			r.missing(name)
		}
		return nil, false
	case err != nil:
		refused = unreadable(name, err, remedy)
	case !info.Mode().IsRegular():
		refused = unreadable(name, errors.New("it is a folder or a device"), remedy)
	case info.Size() > limit:
		refused = textfile.TooBig(name, limit)
	default:
		f, err := r.fsys.Open(name)
		if err != nil {
			refused = unreadable(name, err, remedy)
			break
		}
		defer f.Close()
		data, refused = textfile.Read(f, name, limit)
	}
	if refused != nil {
		r.m.Add(refused)
		return nil, false
	}
	sum := sha256.Sum256(data)
	r.inputs = append(r.inputs, model.Input{Name: name, SHA256: hex.EncodeToString(sum[:])})
	return data, true
}

// isLink says whether a name of the folder leads elsewhere; what lies there can change or be
// nobody's business, and no hash of the folder tells.
func (r *reader) isLink(name string) bool {
	info, err := fs.Lstat(r.fsys, name)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

func linked(name string) *model.InputError {
	return unreadable(name, errors.New("it is a link"),
		"put into the folder what it leads to, not a link")
}

// missing reports a file that must be there, with a like name that lies in the folder.
func (r *reader) missing(name string) {
	remedy := "put it into the folder, its header line at least"
	if name == "parts.csv" {
		remedy += "; or order designs in orders.csv"
	}
	for _, n := range r.names {
		if strings.EqualFold(strings.TrimSuffix(n, ".txt"), name) ||
			n == strings.TrimSuffix(name, ".csv") {
			remedy = fmt.Sprintf("rename %s to %s", n, name)
		}
	}
	r.m.Add(&model.InputError{Code: model.CodeMissingFile, File: name, Cause: "the file is missing",
		Remedy: remedy})
}

// settings reads shop.toml. After mistakes in it the files are judged by the default settings, in
// its units where they were readable.
func (r *reader) settings() model.Settings {
	const name = "shop.toml"
	data, ok := r.file(name, false, 1<<20)
	if !ok {
		return model.DefaultSettings()
	}
	s, err := settings.Read(strings.NewReader(string(data)), name)
	if err != nil {
		r.m.AddAll(name, err)
		units := s.Units
		s = model.DefaultSettings()
		s.Units = units
	}
	return s
}

// table reads one CSV file of the folder and gives each row with its cells; it says whether every
// row could be given.
func table[R any](r *reader, name string, required bool, needs int, row func(cells, R)) bool {
	data, ok := r.file(name, required, maxBytes)
	return ok && rowsOf(r, name, data, needs, row)
}

func rowsOf[R any](r *reader, name string, data []byte, needs int, row func(cells, R)) bool {
	s, rows := readSheet[R](&r.m, name, data, needs)
	whole := s.mistakes == 0
	for i := range rows {
		row(cells{s, s.lines[i], r.unit, &r.notes}, rows[i])
	}
	return whole
}

func (r *reader) yard(job *model.Job) {
	whole := table(r, "yard.csv", true, yardNeeds, func(c cells, row yardRow) {
		o := model.Offer{Wood: c.wood(&job.Settings, row.Material, row.Section, row.Length,
			row.Width, row.Thickness), Where: c.where()}
		o.Price, o.Yard, o.Grade = c.money("price", row.Price), string(row.Yard), string(row.Grade)
		if row.Per != "" && row.Per != "piece" {
			o.Per = model.Per(
				c.word("per", row.Per, "piece", string(model.PerLength), string(model.PerBoardFoot),
					string(model.PerCubicMetre)))
		}
		if row.Available != "" {
			n := c.count("available", row.Available, 0)
			o.Available = &n
		}
		job.Yard = append(job.Yard, o)
	})
	if !whole { // which yards there are is not known
		job.Settings.Yards = nil
	}
}

// wood reads what rack and yard rows have in common: sizes as measured, else those that the section
// has as it comes.
func (c cells) wood(s *model.Settings, material text, section, length, width,
	thickness number) model.Wood {
	w := model.Wood{Material: c.name("material", material), Length: c.length("length", length)}
	if c.filled("section", string(section)) {
		w.Section = c.section("section", section)
	}
	w.Thickness, w.Width = w.Section.Actual(s.ConditionFor(w.Material, w.Section))
	if thickness != "" {
		w.Thickness = c.length("thickness", thickness)
	}
	switch {
	case width != "":
		w.Width = c.length("width", width)
	case w.Section != "" && w.Width == 0:
		c.bad(model.CodeNoWidth, "width",
			fmt.Sprintf("boards of section %s come in random widths", w.Section),
			"measure the width and write it in a column width")
	case w.Section == "": // reported; let nothing follow from it
		w.Width, w.Thickness = 1, max(1, w.Thickness)
	}
	return w
}

// commissions reads commissions.csv; it says whether every row could be given.
func (r *reader) commissions(job *model.Job) bool {
	first := map[string]model.Commission{}
	lines := map[string]int{}
	return !slices.Contains(r.names, "commissions.csv") ||
		table(r, "commissions.csv", false, commissionNeeds, func(c cells, row commissionRow) {
			n := model.Commission{Name: c.name("commission", row.Commission),
				Due: c.date("due", row.Due), Note: string(row.Note)}
			fold := model.FoldName(n.Name)
			if before, again := first[fold]; again && n.Name != "" {
				cause, code := fmt.Sprintf("%q stands in line %d already", n.Name, lines[fold]),
					model.CodeDuplicate
				if before.Name != n.Name {
					cause, code = fmt.Sprintf(
						"%q differs from %q in line %d in case or blanks only",
						n.Name, before.Name, lines[fold]), model.CodeSpelling
				}
				c.bad(code, "commission", cause, "give each commission one row")
				return
			}
			if n.Name == "" {
				return
			}
			first[fold], lines[fold] = n, c.line
			job.Commissions = append(job.Commissions, n)
		})
}

// parts reads parts.csv, or else every CSV file of the folder parts.
func (r *reader) parts(job *model.Job) {
	r.sources, r.whole = r.partFiles()
	for _, name := range r.sources {
		ok := table(r, name, true, partNeeds, func(c cells, row partRow) {
			p := c.part(&row)
			p.Commission = c.name("commission", row.Commission)
			r.take(job, p)
		})
		r.whole = r.whole && ok
	}
}

// part reads what parts and designs have in common.
func (c cells) part(row *partRow) model.Part {
	p := model.Part{
		Name: c.name("part", row.Part), Qty: c.count("qty", row.Qty, 1),
		Material: c.name("material", row.Material),
		Length:   c.length("length", row.Length), Width: c.length("width", row.Width),
		Thickness: c.length("thickness", row.Thickness),
		Section:   c.section("section", row.Section), Board: string(row.Board),
		Note: string(row.Note), Where: c.where(),
	}
	if row.Face != "" {
		p.Face, _ = model.ParseFace(c.word("face", row.Face, "show", "sound", "hidden"))
	}
	return p
}

// take adds a part to the job, and its commission where it is new.
func (r *reader) take(job *model.Job, p model.Part) {
	if r.known == nil {
		r.known = map[string]bool{}
		for _, c := range job.Commissions {
			r.known[c.Name] = true
		}
	}
	job.Parts = append(job.Parts, p)
	if !r.known[p.Commission] {
		r.known[p.Commission] = true
		job.Commissions = append(job.Commissions, model.Commission{Name: p.Commission})
	}
}

// noPart reports a job without a part, unless one was there that could not be given.
func (r *reader) noPart(job *model.Job) {
	if len(job.Parts) == 0 && len(r.sources) > 0 && r.whole {
		r.m.Add(&model.InputError{Code: model.CodeEmptyFile, File: r.sources[0],
			Cause: "there is no part in it", Remedy: "write a row for each part that is wanted"})
	}
}

// partFiles lists where parts are to be read from; false where that is in doubt.
func (r *reader) partFiles() ([]string, bool) {
	switch has := func(name string) bool { return slices.Contains(r.names, name) }; {
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
	if ok && len(files) == 0 && !slices.Contains(r.names, "orders.csv") {
		r.m.Add(&model.InputError{Code: model.CodeMissingFile, File: "parts",
			Cause:  "there is no CSV file in the folder",
			Remedy: "put the lists of parts there, or write parts.csv"})
		return nil, false
	}
	return files, ok
}

// listed gives the CSV files of a folder in the job folder; false where it cannot be read.
func (r *reader) listed(folder string) (files []string, ok bool) {
	if r.isLink(folder) {
		r.m.Add(linked(folder))
		return nil, false
	}
	entries, err := fs.ReadDir(r.fsys, folder)
	if err != nil {
		r.m.Add(unreadable(folder, err, "see that it is a folder that can be read"))
		return nil, false
	}
	for _, e := range entries {
		if strings.EqualFold(path.Ext(e.Name()), ".csv") && !strings.HasPrefix(e.Name(), ".") {
			files = append(files, folder+"/"+e.Name())
		} else {
			r.notes = append(r.notes,
				Note{File: folder + "/" + e.Name(),
					Text: "it is not read: its name begins with a point or does not end in .csv"})
		}
	}
	return files, true
}
