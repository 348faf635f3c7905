package shopbook

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/report"
)

// A month folder may be renamed or copied after a plan in it was booked. The book knows the plan by
// the folder that it was booked in.

// bookedAs is the life of the plan that a folder holds, if it was booked in another folder; or nil.
func (o *outFolder) bookedAs(lives []book.Life) *book.Life {
	text, err := os.ReadFile(filepath.Join(o.dir, "plan.json"))
	if err != nil {
		return nil
	}
	sum := sha256.Sum256(text)
	for i := range lives {
		if l := &lives[i]; l.Plan != o.plan && l.Hash == hex.EncodeToString(sum[:]) {
			return l
		}
	}
	return nil
}

// unknown refuses a folder that the book does not know.
func (o *outFolder) unknown(lives []book.Life) error {
	if l := o.bookedAs(lives); l != nil {
		return command.Refuse("%s: its plan is booked as %s; name that folder, which need not be "+
			"there: %s", o.dir, l.Plan, report.ShellWord(o.path(l.Plan)))
	}
	return command.Refuse("%s: it is not booked; `rackwright book %s` does that", o.dir,
		report.ShellWord(o.dir))
}

// notMoved refuses to write over a booked plan whose folder was renamed. Over a copy one may write.
func (o *outFolder) notMoved(lives []book.Life) error {
	l := o.bookedAs(lives)
	if l == nil {
		return nil
	}
	if _, err := os.Stat(filepath.Join(o.path(l.Plan), "plan.json")); err == nil {
		return nil
	}
	return command.Refuse("%s: its plan is booked as %s, and stays; give the month folder its old "+
		"name, or name another folder with --out", o.dir, l.Plan)
}
