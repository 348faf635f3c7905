package book

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"regexp"
	"slices"

	"rackwright/io/book/pages"
	"rackwright/model"
)

// What is left of a book is read page by page, past what is damaged. An event counts only if its
// hash follows from the one before, and if it may follow: so garbage never counts, and where a page
// was moved and both copies are there, the sound one does.

// pageSize is that of a book's file, in bytes.
const pageSize = 4096

// Rest is what can be had of a book, sound or not.
type Rest struct {
	Events []Event // the first ones, up to where one is missing or bad
	Bad    *Broken // that one; nil where none is known of
	Lost   []Trace // from that one on, as far as they can be read
	// plans that these events book and whose files are not in the book, by their folders
	NoFiles []string
	packed  map[string][]byte // the files of the others, by their hash
	inLog   int               // how many of the events stand behind a damaged page of the log only
}

// Trace is what can be read of an event that cannot be relied upon.
type Trace struct {
	Number int64
	Date   string
	Kind   Kind
}

// Salvage reads what is left of the book at a path, however damaged it is, and changes nothing.
func Salvage(path string) (*Rest, error) {
	var file, log []byte
	err := regular(path)
	if err == nil {
		file, err = os.ReadFile(path)
	}
	if err != nil {
		return nil, err
	}
	if err = regular(path + "-wal"); err == nil {
		log, err = os.ReadFile(path + "-wal")
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	image := pages.Read(file, log, pageSize)
	r := restOf(image)
	if behind := image.Behind(); behind != nil {
		if all := restOf(image, behind); len(all.Events) > len(r.Events) {
			r, all.inLog = all, len(all.Events)-len(r.Events)
		}
	}
	return r, nil
}

func restOf(images ...*pages.Image) *Rest {
	found := map[int64][]entry{}
	last := int64(0)
	rows := func(take func(pages.Row)) {
		for _, image := range images {
			image.Rows(take)
		}
	}
	rows(func(row pages.Row) {
		if n, ok := entryOf(row); ok {
			found[n.number] = append(found[n.number], n)
			last = max(last, n.number)
		}
	})
	r, t, hash := &Rest{packed: map[string][]byte{}}, newTally(), ""
	for n := int64(1); n <= last; n++ {
		e, is, why := choose(t, found[n], n, hash)
		if why != nil {
			r.Bad = why
			break
		}
		r.Events = append(r.Events, e)
		hash = is
	}
	for _, n := range slices.Sorted(maps.Keys(found)) {
		if n > int64(len(r.Events)) {
			r.Lost = append(r.Lost, Trace{n, found[n][0].date, Kind(found[n][0].kind)})
		}
	}
	r.findFiles(rows)
	return r
}

// findFiles finds the files of the plans that are booked: a row has their hash, so it is known by
// itself.
func (r *Rest) findFiles(rows func(take func(pages.Row))) {
	wanted := map[string]bool{}
	for i := range r.Events {
		if b := r.Events[i].Booking; b != nil {
			wanted[b.Files] = true
		}
	}
	if len(wanted) == 0 {
		return
	}
	rows(func(row pages.Row) {
		if len(row.Cells) != 2 {
			return
		}
		hash, is := text(row.Cells[0])
		packed, are := text(row.Cells[1])
		if !is || !are || !wanted[hash] {
			return
		}
		if f, err := unpack([]byte(packed)); err == nil && f.Hash() == hash {
			r.packed[hash] = []byte(packed)
			delete(wanted, hash)
		}
	})
	for i := range r.Events {
		if b := r.Events[i].Booking; b != nil && wanted[b.Files] {
			r.NoFiles = append(r.NoFiles, r.Events[i].Plan)
		}
	}
}

// text is a cell as a text; one bit makes bytes of a text, and the other way round.
func text(cell any) (string, bool) {
	switch is := cell.(type) {
	case string:
		return is, true
	case []byte:
		return string(is), true
	}
	return "", false
}

// choose finds which of the entries with a number is the event that follows, adds it up, and gives
// its hash.
func choose(t *tally, of []entry, number int64, hash string) (e Event, is string, why *Broken) {
	why = &Broken{number, "it is missing, or stands where nothing can be read"}
	for i := range of {
		e, err := of[i].event(number-1, hash)
		if err == nil {
			if err = t.add(&e); err == nil {
				return e, of[i].hash, nil
			}
			err = &Broken{number, err.Error()}
		}
		if broken, is := errors.AsType[*Broken](err); is && i == 0 {
			why = broken
		}
	}
	return Event{}, "", why
}

var (
	kindForm = regexp.MustCompile(`^[a-z]{1,20}$`)
	hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// mostEvents is more than any shop enters: a number above is none of an event.
const mostEvents = 1 << 40

// entryOf says whether a row is one of events, by its looks.
func entryOf(row pages.Row) (n entry, ok bool) {
	if len(row.Cells) != 5 || row.Number < 1 || row.Number > mostEvents {
		return n, false
	}
	n.number = row.Number
	for i, to := range []*string{&n.date, &n.kind, &n.says, &n.hash} {
		if *to, ok = text(row.Cells[i+1]); !ok {
			return n, false
		}
	}
	return n, model.ValidDate(n.date) && kindForm.MatchString(n.kind) &&
		hashForm.MatchString(n.hash)
}
