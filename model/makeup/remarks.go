package makeup

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// Remarks are what a maker should know of the parts that a plan makes up before there is one, each
// kind by itself and in the order of the parts. What no way makes is left out: see [Hindrance].
type Remarks struct {
	Ways     []string // how many ways there are for a part, and the cheapest by area
	Machines []string // what is wider or shorter than [machine] says that it may be
	Knotty   []string // glue-ups of a show face, for which all wood on hand has knots
}

// RemarksOn looks through the parts of a job.
func RemarksOn(job *model.Job) (r Remarks) {
	for i := range job.Parts {
		p := &job.Parts[i]
		l := &look{job: job, part: p, of: p.Name + " of " + p.Commission,
			column: fmt.Sprintf("%s:%d: ", p.Where.File, p.Where.Line)}
		if !p.ByWays() {
			r.Machines = append(r.Machines, l.alone()...)
			continue
		}
		if l.choice = ChoiceOf(job, p); len(l.choice.Ways)+len(l.choice.Covers) == 0 {
			continue
		}
		r.Ways = append(r.Ways, l.ways())
		r.Machines = append(r.Machines, slices.Concat(l.wide(), l.faces(), l.short())...)
		r.Knotty = append(r.Knotty, l.knotty()...)
	}
	return r
}

// look is at one part.
type look struct {
	job        *model.Job
	part       *model.Part
	choice     *Choice // of a part that is glued up
	of, column string  // what it is called, and where it stands
}

func (l *look) shop(v model.Length) string { return v.Shop(l.job.Settings.Units) }

// name is the column that says how the part is made up.
func (l *look) name() string {
	if l.part.Staves == 0 {
		return "layers"
	}
	return "staves"
}

// ways counts how the part can be made up.
func (l *look) ways() string {
	n := len(l.choice.Ways) + len(l.choice.Covers)
	count := fmt.Sprintf("in %d ways; by area the cheapest is ", n)
	if n == 1 {
		count = "in one way: "
	}
	cost, made := Cheapest(l.job, l.choice)
	price := "; no yard sells the wood"
	if cost != nil {
		cents := (*cost + 50) / 100
		price = fmt.Sprintf(", for %d.%02d %s of wood", cents/100, cents%100,
			l.job.Settings.Currency)
	}
	if l.part.InOne != 0 {
		return fmt.Sprintf("%slength: %s is too short to be cut alone, so several come out of one "+
			"blank, %s%s%s", l.column, l.of, count, made, price)
	}
	return fmt.Sprintf("%s%s: %s can be made up %s%s%s", l.column, l.name(), l.of, count, made,
		price)
}

// glued are the ways in which pieces are glued.
func (l *look) glued() (out []*Way) {
	for n := range l.choice.Ways {
		if w := &l.choice.Ways[n]; w.Pieces > 1 {
			out = append(out, w)
		}
	}
	return out
}

// knotty tells of a glue-up of a show face that boards on hand are large enough for, and none is
// clear enough.
func (l *look) knotty() []string {
	if l.part.Face != model.Show {
		return nil
	}
	var large, sound *model.Board
	for i := range l.job.Rack {
		b := &l.job.Rack[i]
		for _, q := range l.narrowest() {
			switch ok, _ := l.job.Holds(&q, b, model.FromRack); {
			case !ok:
				continue
			case l.job.HasRun(&q, b, model.FromRack):
				return nil
			case large == nil:
				large = b
			}
			if q.Face = model.Sound; sound == nil && l.job.HasRun(&q, b, model.FromRack) {
				sound = b
			}
		}
	}
	if large == nil {
		return nil
	}
	text := fmt.Sprintf("%sface: the pieces of %s are bought: no board on the rack has a clear "+
		"run that is long enough for its show face, though %s is large enough", l.column, l.of,
		large.ID)
	if sound != nil {
		text += fmt.Sprintf("; for a sound face %s would do", sound.ID)
	}
	return []string{text}
}

// narrowest are the narrowest pieces that the part may be of, one of each wood and thickness.
func (l *look) narrowest() (out []model.Part) {
	take := func(q *model.Part) {
		n := slices.IndexFunc(out, func(o model.Part) bool {
			return o.Section == q.Section && o.Thickness == q.Thickness && o.Length == q.Length
		})
		if n < 0 {
			out = append(out, *q)
		} else if q.Width < out[n].Width {
			out[n] = *q
		}
	}
	for n := range l.choice.Ways {
		take(&l.choice.Ways[n].Piece)
	}
	for n := range l.choice.Covers {
		take(&l.choice.Covers[n].Staves[0].Piece)
	}
	return out
}
