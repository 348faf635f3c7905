package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/makeup"
)

// What is said to be held by nothing is what a plan is short of for another reason than that the
// boards do not suffice, with the same words. With the cells written as is said for a glue-up there
// are ways whose pieces are held; where none is said, no number of staves would do.
func TestForeseenIsWhatAPlanFinds(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 5))
	met := map[string]int{}
	for n := range 400 {
		job := randomJob(r)
		if r.IntN(2) == 0 {
			job.Yard = nil
		}
		job.Settings.GlueUp.Panel = model.Length(r.IntN(3)) * in / 4
		for i := range job.Parts {
			if p := &job.Parts[i]; r.IntN(3) == 0 {
				p.Width, p.Thickness = model.Length(1+r.IntN(20))*in, model.Length(1+r.IntN(8))*in/4
				p.Length = model.Length(1+r.IntN(140)) * in
			}
			if p := &job.Parts[i]; r.IntN(8) == 0 {
				p.Length, p.Width = p.Width, p.Length
			}
		}
		plan, err := Plan(context.Background(), job, Options{Work: 1e6})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		var want, got []string
		for _, s := range plan.Shortages {
			if s.Reason != model.NotEnough {
				want = append(want, fmt.Sprintf("%s of %s, so it will be short: %s; ", s.Part,
					s.Commission, s.Reason))
				met[s.Reason]++
			}
		}
		for _, line := range Remarks(job) {
			if _, rest, ok := strings.Cut(line, ": nothing holds "); ok {
				got = append(got, rest)
				met["turned"] += strings.Count(rest, "exchanged")
				met["another face"] += strings.Count(rest, "face, ")
				name, _, _ := strings.Cut(rest, " of ")
				if _, text, ok := strings.Cut(rest, "write auto in "); ok {
					if met["glue-up"]++; !heldAsWritten(t, job, name, text) {
						t.Errorf("job %d: %s; that is not held", n, line)
					}
				} else if strings.Contains(rest, "a wider board would help") {
					if met["no glue-up"]++; anyStaves(job, name) {
						t.Errorf("job %d: %s; there are staves that would do", n, line)
					}
				}
			}
		}
		slices.Sort(want)
		slices.Sort(got)
		if len(got) != len(want) {
			t.Fatalf("job %d: %d are foreseen, %d found:\n%q\n%q", n, len(got), len(want), got,
				want)
		}
		for k := range want {
			if !strings.HasPrefix(got[k], want[k]) || len(got[k]) < len(want[k])+10 {
				t.Errorf("job %d: foreseen %q, found %q", n, got[k], want[k])
			}
		}
	}
	t.Log(met)
	for _, what := range append(slices.Clone(model.Hindrances[3:7]), model.NoClearRun, "turned",
		"another face", "glue-up", "no glue-up") {
		if met[what] < 3 {
			t.Errorf("%s: met %d times only", what, met[what])
		}
	}
}

// heldAsWritten writes auto into the cells of a part that a text names, and says whether a board
// holds the pieces that it may be of then.
func heldAsWritten(t *testing.T, job *model.Job, name, text string) bool {
	m := regexp.MustCompile(`^(staves|layers|staves and layers): .* would make it$`).
		FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("%q says nothing to write", text)
	}
	q := job.Parts[slices.IndexFunc(job.Parts, func(p model.Part) bool { return p.Name == name })]
	if strings.Contains(m[1], "staves") {
		q.Staves = model.Auto
	}
	if strings.Contains(m[1], "layers") {
		q.Layers = model.Auto
	}
	c := makeup.ChoiceOf(job, &q)
	for n := range c.Ways {
		if w := &c.Ways[n]; w.Pieces < 2 || !slices.ContainsFunc(boardsOf(job),
			func(b model.Board) bool { return holdsAt(job, &w.Piece, &b) }) {
			return false
		}
	}
	for n := range c.Covers {
		if v := &c.Covers[n]; !slices.ContainsFunc(boardsOf(job), func(b model.Board) bool {
			return holdsAt(job, &v.Staves[0].Piece, &b)
		}) {
			return false
		}
	}
	return len(c.Ways)+len(c.Covers) > 0
}

// anyStaves tries two staves and more, each as wide as its share of the panel, until they would be
// narrower than staves are. The joints of these jobs take what sawn edges do.
func anyStaves(job *model.Job, name string) bool {
	i := slices.IndexFunc(job.Parts, func(p model.Part) bool { return p.Name == name })
	g := &job.Settings.GlueUp
	panel := job.Parts[i].Width + g.Panel
	for n := model.Length(2); panel/n >= g.Narrowest; n++ {
		stave := job.Parts[i]
		if stave.Width = (panel + n - 1) / n; stave.Width <= g.Widest &&
			slices.ContainsFunc(boardsOf(job), func(b model.Board) bool {
				return holdsAt(job, &stave, &b) && !stave.Whole(&b.Wood)
			}) {
			return true
		}
	}
	return false
}

// boardsOf are the boards of the rack and one of each row of the yard that can be had.
func boardsOf(job *model.Job) []model.Board {
	boards := slices.Clone(job.Rack)
	for _, o := range job.Yard {
		if o.Available == nil || *o.Available > 0 {
			boards = append(boards, model.Board{Wood: o.Wood, Note: "yard"})
		}
	}
	return boards
}

// holdsAt says whether one of these boards has a place for a part.
func holdsAt(job *model.Job, p *model.Part, b *model.Board) bool {
	origin := model.FromRack
	if b.Note == "yard" {
		origin = model.FromYard
	}
	ok, _ := job.Holds(p, b, origin)
	return ok && job.HasRun(p, b, origin)
}
