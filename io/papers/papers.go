package papers

import (
	"io"

	"rackwright/model"
)

// Paper is one of the papers: the name of its file, and what writes it.
type Paper struct {
	File  string
	Write func(w io.Writer, job *model.Job, plan *model.Plan, opt Options) error
}

// All are the papers of a plan, in the order in which they are needed.
func All() []Paper {
	return []Paper{{"yard.pdf", Yard}, {"saw.pdf", Saw}, {"bench.pdf", Bench}, {"labels.pdf", Labels}}
}
