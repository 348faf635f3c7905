package nest

import (
	"fmt"

	"rackwright/model"
)

// Remarks are what is odd in a job but allowed, in words for the maker: short blanks, wood whose worth is a guess, boards of a kind that no part uses.
func Remarks(job *model.Job) (out []string) {
	out = append(out, shortBlanks(job)...)
	for _, w := range job.Valuation().Guessed {
		out = append(out, fmt.Sprintf("rack.csv: %s %s is not for sale and no board of it has a value: it counts as 1 %s a metre; give a value to one of its boards",
			w.Material, w.Section, job.Settings.Currency))
	}
	return append(out, idle(job)...)
}

// shortBlanks warns of blanks below the safe length.
func shortBlanks(job *model.Job) (out []string) {
	for i := range job.Parts {
		p := &job.Parts[i]
		blank, least := job.BlankLength(p), job.Settings.SafetyFor(p.Material, p.Section).ShortestBlank
		if blank < least {
			out = append(out, fmt.Sprintf("%s:%d: length: the blank of %s of %s is %s, shorter than the %s of [safety] shortest_blank; mill it as part of a longer piece, by the machine's manual",
				p.Where.File, p.Where.Line, p.Name, p.Commission, blank.Shop(job.Settings.Units), least.Shop(job.Settings.Units)))
		}
	}
	return out
}

// idle names the kinds of wood on the rack that no part can use; they are carried over.
func idle(job *model.Job) (out []string) {
	type kind struct {
		material string
		section  model.Section
	}
	boards, uses := map[kind]int{}, map[kind]bool{}
	var order []kind
	for i := range job.Rack {
		b := &job.Rack[i]
		k := kind{b.Material, b.Section}
		if boards[k]++; boards[k] == 1 {
			order = append(order, k)
		}
		for n := range job.Parts {
			if uses[k] {
				break
			}
			uses[k], _ = job.Holds(&job.Parts[n], &b.Wood, model.FromRack)
		}
	}
	for _, k := range order {
		if !uses[k] {
			out = append(out, fmt.Sprintf("rack.csv: %s %s: no part can use it (boards: %d); carried over", k.material, k.section, boards[k]))
		}
	}
	return out
}
