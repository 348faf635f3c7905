package folder

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"rackwright/io/csvfile"
	"rackwright/io/textfile"
	"rackwright/model"
)

// reader reads the files of one folder, and of the shop folder above it.
type reader struct {
	fsys     fs.FS
	names    []string        // what lies in the folder; none where nobody asks
	shop     fs.FS           // the folder above; nil where there is none, or nobody asks
	above    map[string]bool // what is taken from it
	notTaken string          // why nothing is taken from it, though it would be of use
	unit     model.Unit
	ours     bool          // the folder is an out folder
	inputs   []model.Input // files read so far
	notes    []model.Note
	m        model.Mistakes
}

// name is what a file is called by where it is read from.
func (r *reader) name(file string) string {
	if r.above[file] {
		return model.Above + file
	}
	return file
}

// at gives the folder that a file lies in, and its name there.
func (r *reader) at(name string) (fs.FS, string) {
	if inShop, above := strings.CutPrefix(name, model.Above); above {
		return r.shop, inShop
	}
	return r.fsys, name
}

// table gives a CSV file of the folder to be read; false where it is not there or not readable.
func (r *reader) table(name string, required bool) (*csvfile.File, bool) {
	data, ok := r.file(name, required, csvfile.MaxBytes)
	return &csvfile.File{Name: name, Data: data, Unit: r.unit, Ours: r.ours, Mistakes: &r.m,
		Notes: &r.notes}, ok
}

// file gives the bytes of one file and notes their hash; false where it is not there or not
// readable.
func (r *reader) file(name string, required bool, limit int64) ([]byte, bool) {
	const remedy = "see that it is a plain file that may be read"
	data, refused := []byte(nil), (*model.InputError)(nil)
	// before it is opened: opening a pipe would wait for its writer
	fsys, within := r.at(name)
	info, err := fs.Stat(fsys, within)
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
		f, err := fsys.Open(within)
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

// SystemFile says whether a file is one that an operating system or a spreadsheet keeps in a folder
// for itself: how the folder is shown, or that a table is open.
func SystemFile(name string) bool {
	low := strings.ToLower(name)
	return slices.Contains([]string{".ds_store", "thumbs.db", "desktop.ini", ".directory"}, low) ||
		strings.HasPrefix(name, "._") || strings.HasPrefix(name, "~$") ||
		strings.HasPrefix(name, ".~lock.") && strings.HasSuffix(name, "#")
}

// isLink says whether a name of the folder leads elsewhere; what lies there can change or be
// nobody's business, and no hash of the folder tells.
func (r *reader) isLink(name string) bool {
	info, err := fs.Lstat(r.at(name))
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
	if r.shop != nil && r.notTaken != "" && there(r.shop, name) {
		remedy += fmt.Sprintf("; %s%s is not read: %s", model.Above, name, r.notTaken)
	} else if r.above != nil && slices.Contains(ShopFiles(), name) {
		remedy += ", or into the shop folder above"
	}
	r.m.Add(&model.InputError{Code: model.CodeMissingFile, File: name, Cause: "the file is missing",
		Remedy: remedy})
}

func unreadable(name string, err error, remedy string) *model.InputError {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		err = p.Err // the path in it is not for the maker's eyes twice
	}
	return &model.InputError{Code: model.CodeUnreadable, File: name,
		Cause: "it cannot be read (" + err.Error() + ")", Remedy: remedy}
}

// mostNotes of one file are told one by one.
const mostNotes = 10

// fewNotes gives the notes in the order of file and line; where a file has many, the rest of them
// is counted.
func (r *reader) fewNotes() (few []model.Note) {
	slices.SortStableFunc(r.notes, func(a, b model.Note) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
	})
	for len(r.notes) > 0 {
		file := r.notes[0].File
		n := slices.IndexFunc(r.notes, func(n model.Note) bool { return n.File != file })
		if n < 0 {
			n = len(r.notes)
		}
		few = append(few, r.notes[:min(n, mostNotes)]...)
		if n > mostNotes {
			few = append(few, model.Note{File: file,
				Text: fmt.Sprintf("%d more lengths are rounded", n-mostNotes)})
		}
		r.notes = r.notes[n:]
	}
	return few
}
