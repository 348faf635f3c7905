package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

// What is said to be held by nothing is what a plan is short of for another reason than that the
// boards do not suffice, with the same words. What staves a glue-up is to be made of is what trying
// ever more of them finds first.
func TestForeseenIsWhatAPlanFinds(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 5))
	met := map[string]int{}
	for n := range 400 {
		job := randomJob(r)
		if r.IntN(2) == 0 {
			job.Yard = nil
		}
		job.Settings.Allowance.Panel = model.Length(r.IntN(3)) * in / 4
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
				if _, text, ok := strings.Cut(rest, "glue it up: "); ok {
					var staves model.Length
					fmt.Sscan(text, &staves)
					name, _, _ := strings.Cut(rest, " of ")
					fewest := fewestStaves(job, name)
					if met["glue-up"]++; staves != fewest {
						t.Errorf("job %d: %s; %d staves would do", n, line, fewest)
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
		"another face", "glue-up") {
		if met[what] < 3 {
			t.Errorf("%s: met %d times only", what, met[what])
		}
	}
}

// fewestStaves tries two staves and more, each as wide as its share of the panel, sawn on both
// edges, until a board holds one.
func fewestStaves(job *model.Job, name string) model.Length {
	i := slices.IndexFunc(job.Parts, func(p model.Part) bool { return p.Name == name })
	panel := job.Parts[i].Width + job.Settings.Allowance.Panel
	boards := slices.Clone(job.Rack)
	for _, o := range job.Yard {
		if o.Available == nil || *o.Available > 0 {
			boards = append(boards, model.Board{Wood: o.Wood, Note: "yard"})
		}
	}
	for n := model.Length(1); ; n++ {
		stave := job.Parts[i]
		stave.Width = (panel + n - 1) / n
		for k := range boards {
			b, origin := &boards[k], model.FromRack
			if b.Note == "yard" {
				origin = model.FromYard
			}
			_, why := job.Holds(&job.Parts[i], b, origin)
			if ok, _ := job.Holds(&stave, b, origin); ok && why == model.TooNarrow &&
				!stave.Whole(&b.Wood) && job.HasRun(&stave, b, origin) {
				return n
			}
		}
	}
}
