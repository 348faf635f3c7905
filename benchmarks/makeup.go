package benchmarks

import (
	"fmt"
	"math/rand/v2"

	"rackwright/model"
	"rackwright/model/makeup"
)

// MakeUp has a fifth of the rows of a month made up, in turn
//
//   - a panel, two to five times as wide as a board of its wood, one of each; its staves are left
//     to the plan;
//   - a post of two layers, left to the plan, too;
//   - a row of short blocks, which come out of gangs;
//   - parts of which spare copies are welcome.
//
// It gives a job of its own. A seed fixes what is drawn.
func MakeUp(job *model.Job, seed int64) *model.Job {
	out := *job
	out.Parts = append([]model.Part{}, job.Parts...)
	rng := rand.New(rand.NewPCG(uint64(seed), 5))
	first, kind := rng.IntN(5), rng.IntN(4)
	for i := first; i < len(out.Parts); i += 5 {
		p := &out.Parts[i]
		step := model.Length(model.UnitsPerInch / 4)
		if job.Settings.Units == model.Millimetre {
			step = 5 * model.UnitsPerMillimetre
		}
		switch kind++; kind % 4 {
		case 0:
			wide := widest(job, p)
			p.Width = (wide*2 + model.Length(rng.Int64N(int64(3*wide)))) / step * step
			p.Qty, p.Staves = 1, model.Auto
		case 1:
			p.Thickness, p.Layers = 2*p.Thickness-step/2, model.Auto
		case 2:
			p.Length = step * model.Length(10+rng.Int64N(20))
			p.Qty = 4 + rng.Int64N(8)
		case 3:
			p.Spare = 1 + rng.Int64N(2)
		}
		p.Name = fmt.Sprintf("%s, %d", p.Name, i)
	}
	makeup.MarkShort(&out)
	return &out
}

// widest is the width of the widest board that a part may come from.
func widest(job *model.Job, p *model.Part) (wide model.Length) {
	for i := range job.Yard {
		if w := &job.Yard[i].Wood; w.Material == p.Material &&
			(p.Section == "" || p.Section == w.Section) {
			wide = max(wide, w.Width)
		}
	}
	return max(wide, p.Width)
}
