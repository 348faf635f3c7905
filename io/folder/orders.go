package folder

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// Repeat work is typed once: designs/NAME.csv lists the parts of one piece, orders.csv says how
// many of them a commission has. A part of an order is a part like any other, in as many copies as
// all orders of its commission ask for; its place is the design's row.

// design is one file of the folder designs.
type design struct {
	file, name string
	parts      []model.Part
	copies     int64 // of all parts of one piece
	read, used bool
}

// orderedPart is where a part of a commission stands in the job, and how many copies one piece of
// its design has.
type orderedPart struct {
	index int
	each  int64
}

// orderBook takes the rows of orders.csv.
type orderBook struct {
	*jobReader
	designs []*design
	// commissions, by their names, and where each is written first
	spelled map[string]model.Where
	folded  map[string]string // the same names, by what they have in common with others
	// parts of each commission: commission, name of the part, case and blanks apart
	parts   map[[2]string]model.Where
	ordered map[[2]string][]orderedPart
	copies  int64 // of all parts of the job
}

// orders reads orders.csv and the designs that it names.
func (r *jobReader) orders() {
	const name = "orders.csv"
	b := &orderBook{jobReader: r, designs: r.designs(), spelled: map[string]model.Where{},
		folded: map[string]string{},
		parts:  map[[2]string]model.Where{}, ordered: map[[2]string][]orderedPart{}}
	if slices.Contains(r.names, name) {
		b.meet()
		r.sources = append(r.sources, name)
		f, ok := r.table(name, true)
		ok = ok && f.Orders(b.order)
		r.complete = r.complete && ok
	}
	b.idle()
}

// designs lists the folder designs, where there is one.
func (r *jobReader) designs() (out []*design) {
	if !slices.Contains(r.names, "designs") && !r.above["designs"] {
		return nil
	}
	files, ok := r.listed(r.name("designs"))
	r.complete = r.complete && ok
	first := map[string]string{}
	for _, f := range files {
		d := &design{file: f, name: strings.TrimSuffix(path.Base(f), path.Ext(f))}
		if before, again := first[model.FoldName(d.name)]; again {
			r.m.Add(&model.InputError{Code: model.CodeSpelling, File: f,
				Cause:  fmt.Sprintf("the name differs from %s in case or blanks only", before),
				Remedy: "give each design a name of its own"})
			continue
		}
		first[model.FoldName(d.name)] = f
		out = append(out, d)
	}
	return out
}

// meet notes the commissions and parts that are in the job already.
func (b *orderBook) meet() {
	for i := range b.job.Parts {
		p := &b.job.Parts[i]
		b.spell(p.Commission, p.Where)
		b.parts[partKey(p.Commission, p.Name)] = p.Where
		b.copies += p.Qty
	}
	for _, c := range b.job.Commissions {
		b.spell(c.Name, model.Where{File: "commissions.csv"})
	}
}

func (b *orderBook) spell(name string, w model.Where) {
	if _, met := b.folded[model.FoldName(name)]; !met {
		b.folded[model.FoldName(name)], b.spelled[name] = name, w
	}
}

func partKey(commission, part string) [2]string {
	return [2]string{model.FoldName(commission), model.FoldName(part)}
}

// order takes one row.
func (b *orderBook) order(c csvfile.Cells, o csvfile.Order) {
	name, qty := o.Commission, o.Qty
	if other, met := b.folded[model.FoldName(name)]; met && other != name && name != "" {
		c.Bad(model.CodeSpelling, "commission",
			fmt.Sprintf("%q is written %q in %s", name, other, placeOf(b.spelled[other])),
			"write it the same everywhere")
		name = other
	}
	b.spell(name, c.Where())
	d := b.find(c, o.Design)
	if d == nil || name == "" || qty == 0 {
		b.complete = false
		return
	}
	if all := b.copies + qty*d.copies; all > model.MostCopies {
		if b.copies <= model.MostCopies { // else the lists of parts are blamed for it
			c.Bad(model.CodeTooBig, "qty",
				fmt.Sprintf("with this row there are %d copies of parts in all, more than %d", all,
					model.MostCopies), "order fewer, or plan fewer at once")
		}
		return
	}
	b.copies += qty * d.copies
	key := [2]string{name, d.name}
	if _, again := b.ordered[key]; !again {
		b.ordered[key] = b.bring(c, name, d)
	}
	for _, o := range b.ordered[key] {
		b.job.Parts[o.index].Qty += qty * o.each
	}
}

// find looks a design up and reads it when it is first named.
func (b *orderBook) find(c csvfile.Cells, wanted string) *design {
	if wanted == "" {
		return nil
	}
	var names []string
	for _, d := range b.designs {
		if d.name == wanted {
			if d.used = true; !d.read {
				d.read = true
				ok := b.read(d)
				b.complete = b.complete && ok
				if ok && len(d.parts) == 0 {
					b.m.Add(&model.InputError{Code: model.CodeEmptyFile, File: d.file,
						Cause:  "there is no part in it",
						Remedy: "write a row for each part of the design"})
				}
			}
			return d
		}
		names = append(names, d.name)
	}
	cause, remedy := fmt.Sprintf("there is no %.100s", b.name("designs")+"/"+wanted+".csv"),
		"put it into the folder"
	if len(names) > 0 {
		remedy += ", or write " + model.Nearest(wanted, names)
	}
	c.Bad(model.CodeUnknownDesign, "design", cause, remedy)
	return nil
}

// read reads the rows of a design and judges them by themselves; it says whether every row could be
// given.
func (r *reader) read(d *design) (complete bool) {
	f, ok := r.table(d.file, true)
	ok = ok && f.Design(func(p model.Part) {
		p.Commission = "one piece" // until it is ordered
		d.parts = append(d.parts, p)
		d.copies += p.Qty
	})
	alone := &model.Job{Settings: model.DefaultSettingsIn(r.unit), Parts: d.parts}
	alone.Validate(&r.m)
	return ok
}

// bring puts the parts of a design, none of them wanted yet, among those of a commission.
func (b *orderBook) bring(c csvfile.Cells, commission string, d *design) (out []orderedPart) {
	for _, p := range d.parts {
		key := partKey(commission, p.Name)
		// in one file it is reported there
		if first, again := b.parts[key]; again && first.File != d.file {
			b.m.Add(&model.InputError{Code: model.CodeDuplicate, File: d.file, Line: p.Where.Line,
				Column: "part",
				Cause: fmt.Sprintf("a part of this name stands in %s already, and %s has both (%s)",
					placeOf(first), commission, placeOf(c.Where())),
				Remedy: "give one of the two another name"})
		} else if !again {
			b.parts[key] = p.Where
			out = append(out, orderedPart{len(b.job.Parts), p.Qty})
			p.Commission, p.Qty = commission, 0
			b.take(p)
		}
	}
	return out
}

// idle tells of designs that no order names; mistakes in them do not stand in the way of a plan.
// Those of a shop folder are for all months, and need not be named in this one.
func (b *orderBook) idle() {
	var names []string
	for _, d := range b.designs {
		if d.used {
			continue
		}
		names = append(names, d.name)
		alone := &reader{fsys: b.fsys, shop: b.shop, unit: b.unit}
		alone.read(d)
		if err, wrong := alone.m.Err().(model.InputErrors); wrong {
			b.notes = append(b.notes,
				model.Note{File: err[0].File, Line: err[0].Line, Column: err[0].Column,
					Text: err[0].Cause + "; no order names the design"})
		}
	}
	if len(names) > 0 && !b.above["designs"] {
		b.notes = append(b.notes,
			model.Note{File: "designs", Text: "no order names " + strings.Join(names, ", ")})
	}
}

func placeOf(w model.Where) string {
	if w.Line == 0 {
		return w.File
	}
	return fmt.Sprintf("%s:%d", w.File, w.Line)
}
