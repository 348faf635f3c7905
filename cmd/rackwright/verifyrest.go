package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"rackwright/cmd/rackwright/place"
	"rackwright/model"
)

// sameRest compares the rest of a job, in a revision, with the job folder: the files that it was
// read from, but for the rack, which has changed since, and the parts of which it wants some
// copies. found is what differs file by file.
func sameRest(job, in *model.Job, found []model.Finding) []model.Finding {
	found = slices.DeleteFunc(found, func(f model.Finding) bool { return !notOfBook(f) })
	parts := map[[2]string]*model.Part{}
	for i := range job.Parts {
		parts[[2]string{job.Parts[i].Commission, job.Parts[i].Name}] = &job.Parts[i]
	}
	for i := range in.Parts {
		p := in.Parts[i]
		whole := parts[[2]string{p.Commission, p.Name}]
		if whole == nil {
			found = append(found, model.Finding{Where: "plan.json: job", What: fmt.Sprintf(
				"wants %s of %s, which these files do not", p.Name, p.Commission)})
			continue
		}
		if p.Board == "" { // its board may be gone by now
			p.Board = whole.Board
		}
		all := p.All()
		if p.Qty, p.Copies, p.Of = whole.Qty, nil, 0; all != whole.Qty ||
			!reflect.DeepEqual(p, *whole) {
			found = append(found, model.Finding{Where: "plan.json: job", What: fmt.Sprintf(
				"has %s of %s otherwise than these files", p.Name, p.Commission)})
		}
	}
	return found
}

// onlyOfBoards says whether nothing else is wrong with a job folder but that parts name boards that
// are gone, or cannot give them any more: those of a month that was begun.
func onlyOfBoards(err error) bool {
	all, _ := err.(model.InputErrors)
	return len(all) > 0 && !slices.ContainsFunc(all, func(e *model.InputError) bool {
		return e.Code != model.CodeUnknownBoard && e.Code != model.CodeContradiction
	})
}

// sameFiles compares the files that a job was read from by their hashes alone, but for those of the
// rack.
func sameFiles(dir string, in *model.Job) (found []model.Finding) {
	above := filepath.Dir(place.WholePath(dir))
	for _, f := range in.Inputs {
		path := filepath.Join(dir, filepath.FromSlash(f.Name))
		if name, shop := strings.CutPrefix(f.Name, model.Above); shop {
			path = filepath.Join(above, filepath.FromSlash(name))
		}
		say := func(what string) {
			if one := (model.Finding{Where: f.Name, What: what}); notOfBook(one) {
				found = append(found, one)
			}
		}
		text, err := os.ReadFile(path)
		if sum := sha256.Sum256(text); err != nil {
			say("was read when the plan was made, and cannot be read now")
		} else if hex.EncodeToString(sum[:]) != f.SHA256 {
			say("has changed since the plan was made")
		}
	}
	return found
}
