package makeup

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// Laid is one stave or layer of a glue-up, as it is laid beside or on the others.
type Laid struct {
	Commission    string
	Part          string // that is made
	Copy          int64
	Layer, Layers int64
	Stave, Staves int64
	Board         string       // that it comes from
	Net           model.Length // width, joints off
	// width of its layer when it is glued; 0: not all of its staves are in the job, as they were
	// cut before
	Glued model.Length
	Cut   model.Length // finished width, to which it is cut
}

// LaidOf lists the staves and layers that a plan cuts in the order to lay them: by part in the
// order of the job, by copy, by layer, by stave. Which board each comes from, the cuts say.
func LaidOf(job *model.Job, cuts []model.Cut) []Laid {
	if !GluesUp(job) {
		return nil
	}
	boards := map[model.Piece]string{}
	for i := range cuts {
		if c := &cuts[i]; c.Kind == model.KindPart {
			boards[model.Piece{Commission: c.Commission, Part: c.Part, Copy: c.Copy}] = c.Board
		}
	}
	var out []Laid
	rank, glued := map[[2]string]int{}, map[layer]*sum{}
	for i := range job.Parts {
		p := &job.Parts[i]
		if !IsGlued(p) {
			continue
		}
		name := [2]string{p.Commission, p.Makes.Part}
		if _, met := rank[name]; !met {
			rank[name] = len(rank)
		}
		for n := range p.Makes.Of {
			m := &p.Makes.Of[n]
			l := Laid{Commission: p.Commission, Part: p.Makes.Part, Copy: m.Copies[0],
				Layer: m.Layer, Layers: m.Layers, Stave: m.Stave, Staves: m.Staves,
				Net: p.Makes.Net, Cut: p.Makes.Width}
			if l.Staves == 1 {
				l.Net = p.Width
			}
			if glued[l.layer()] == nil {
				glued[l.layer()] = &sum{}
			}
			glued[l.layer()].add(l.Net)
			piece := model.Piece{Commission: p.Commission, Part: p.Name, Copy: int64(n) + 1}
			if l.Board = boards[piece]; l.Board != "" {
				out = append(out, l)
			}
		}
	}
	for i := range out {
		if l := &out[i]; glued[l.layer()].staves == l.Staves {
			l.Glued = glued[l.layer()].width
		}
	}
	slices.SortStableFunc(out, func(a, b Laid) int {
		return cmp.Or(cmp.Compare(rank[[2]string{a.Commission, a.Part}],
			rank[[2]string{b.Commission, b.Part}]), cmp.Compare(a.Copy, b.Copy),
			cmp.Compare(a.Layer, b.Layer), cmp.Compare(a.Stave, b.Stave))
	})
	return out
}

// layer is one layer of one copy of a part.
type layer struct {
	commission, part string
	copy, number     int64
}

func (l *Laid) layer() layer { return layer{l.Commission, l.Part, l.Copy, l.Layer} }

// sum adds up the staves of a layer.
type sum struct {
	staves int64
	width  model.Length
}

func (s *sum) add(net model.Length) { s.staves, s.width = s.staves+1, s.width+net }
