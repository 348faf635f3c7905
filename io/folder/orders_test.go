package folder

import (
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rackwright/io/csvfile"
	"rackwright/model"
)

const (
	designHead = "part,qty,material,length,width,thickness\n"
	orderHead  = "commission,design,qty\n"
	stool      = designHead + "leg,4,oak,17,2,1 1/2\nseat,1,oak,14,5 1/4,1 1/2\n"
)

// Parts of orders stand behind those of parts.csv, in the order of the orders; what one commission
// orders twice adds up.
func TestOrders(t *testing.T) {
	job, notes := readGood(t, map[string]string{
		"commissions.csv": "commission,due\nC-2,2027-03-01\n",
		"designs/stool.csv": "note;face;part;qty;material;length;width;thickness;spare;layers;" +
			"staves\nold;sound;leg;4;oak;17,5;2;1 1/2;1;2;\n;;seat;1;oak;14;5 1/4;1 1/2;0;;AUTO\n",
		"designs/rail.CSV": designHead + "\nrail,3,oak,30,2,1\n",
		"orders.csv":       orderHead + "C-2,stool,4\nC-1,rail,1\nC-1,stool,1\nC-2,stool,2\n",
	})
	in := func(file string, line int) model.Where { return model.Where{File: file, Line: line} }
	// spare copies are for all pieces together
	leg := model.Part{Commission: "C-2", Name: "leg", Qty: 24, Material: "oak",
		Layers: 2, Spare: 1, Length: 35 * in2, Width: 2 * in1, Thickness: 3 * in2, Face: model.Sound,
		Note:  "old",
		Where: in("designs/stool.csv", 2)}
	seat := model.Part{Commission: "C-2", Name: "seat", Qty: 6, Material: "oak",
		Staves: model.Auto, Length: 14 * in1, Width: 21 * in1 / 4, Thickness: 3 * in2,
		Where: in("designs/stool.csv", 3)}
	rail := model.Part{Commission: "C-1", Name: "rail", Qty: 3, Material: "oak", Length: 30 * in1,
		Width: 2 * in1, Thickness: in1, Where: in("designs/rail.CSV", 3)}
	leg1, seat1 := leg, seat
	leg1.Commission, leg1.Qty, seat1.Commission, seat1.Qty = "C-1", 4, "C-1", 1
	if d := cmp.Diff([]model.Part{leg, seat, rail, leg1, seat1}, job.Parts[1:]); d != "" ||
		job.Parts[0].Where.File != "parts.csv" {
		t.Error(d)
	}
	if d := cmp.Diff([]model.Commission{{Name: "C-2", Due: "2027-03-01"}, {Name: "Bench"},
		{Name: "C-1"}}, job.Commissions); d != "" {
		t.Error(d)
	}
	var inputs []string
	for _, f := range job.Inputs {
		inputs = append(inputs, f.Name)
	}
	if d := cmp.Diff([]string{"commissions.csv", "designs/rail.CSV", "designs/stool.csv",
		"orders.csv", "parts.csv", "rack.csv", "yard.csv"}, inputs); d != "" || len(notes) != 0 {
		t.Error(d, notes)
	}
}

const (
	in1 = model.UnitsPerInch
	in2 = model.UnitsPerInch / 2
)

// A design that nobody orders stands in no plan's way: it is told, with its first mistake, and it
// is no input.
func TestIdleDesigns(t *testing.T) {
	job, notes := readGood(t, map[string]string{
		"designs/bed.csv": stool, "designs/chair.csv": designHead +
			"leg,4,oak,17,2,0\nleg,x,oak,17,2,1\n", "designs/notes.txt": "x", "designs/.a.csv": "x",
	})
	want := []string{
		"designs: no order names bed, chair",
		"designs/.a.csv: it is not read: its name begins with a point or does not end in .csv",
		"designs/chair.csv:2: thickness: a thickness of 0 in; no order names the design",
		"designs/notes.txt: it is not read: its name begins with a point or does not end in .csv",
	}
	var got []string
	for _, n := range notes {
		got = append(got, n.String())
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if slices.ContainsFunc(job.Inputs, func(i model.Input) bool {
		return strings.HasPrefix(i.Name, "designs")
	}) {
		t.Error(job.Inputs)
	}
}

// What contradicts is refused with the lines that do, all at once; a mistake in a design is told
// once, however often it is ordered.
func TestBadOrders(t *testing.T) {
	for name, test := range map[string]struct {
		files map[string]string
		want  string
	}{
		"neither parts nor orders": {map[string]string{"parts.csv": ""},
			"parts.csv: the file is missing; put it into the folder, its header line at least; " +
				"or order designs in orders.csv"},
		"no order": {map[string]string{"parts.csv": "", "orders.csv": orderHead},
			"orders.csv: there is no part in it; write a row for each part that is wanted"},
		"design not there": {
			map[string]string{"parts.csv": "", "orders.csv": orderHead + "C-1,stol,4\n"},
			"orders.csv:2: design: there is no designs/stol.csv; put it into the folder, or " +
				"write stool"},
		"no folder of designs": {
			map[string]string{"designs/stool.csv": "", "orders.csv": orderHead + "C-1,stool,4\n"},
			"orders.csv:2: design: there is no designs/stool.csv; put it into the folder"},
		"design by case": {map[string]string{"orders.csv": orderHead + "C-1,Stool,4\n"},
			"orders.csv:2: design: there is no designs/Stool.csv; put it into the folder, or " +
				"write stool"},
		"cells": {map[string]string{
			"orders.csv": orderHead + ",stool,4\nC-1,,4\nC-1,stool,0\nC-1,stool\nC-1,stool,4.5\n"},
			"orders.csv:2: commission: the cell is empty; write the commission\n" +
				"orders.csv:3: design: the cell is empty; write the design\n" +
				"orders.csv:4: qty: \"0\" is not a whole number of 1 or more; write a whole " +
				"number such as 1\n" +
				"orders.csv:5: the row has 2 cells, the header has 3; write 3 cells, parted by " +
				"commas, and put a cell that has this sign in it in quotes\n" +
				"orders.csv:6: qty: \"4.5\" is not a whole number of 1 or more; write a whole " +
				"number such as 1"},
		"column": {map[string]string{
			"orders.csv": "commission,desing,design,qty\nC-1,stool,stool,1\n"},
			"orders.csv:1: desing: there is no such column; the nearest known one is design; all " +
				"are commission, design, qty"},
		"commission in a design": {
			map[string]string{"designs/stool.csv": partHead,
				"orders.csv": orderHead + "C-1,stool,4\n"},
			"designs/stool.csv:1: commission: there is no such column; the nearest known one is " +
				"section; all are part, qty, material, length, width, thickness, " +
				"section, face, staves, layers, spare, note"},
		"commission by case": {
			map[string]string{"designs/stool.csv": designHead + "seat,1,oak,14,5 1/4,1 1/2\n",
				"orders.csv": orderHead + "bench,stool,4\nC 1,stool,1\nC1,stool,1\n"},
			"orders.csv:2: commission: \"bench\" is written \"Bench\" in parts.csv:2; write it " +
				"the same everywhere\n" +
				"orders.csv:4: commission: \"C1\" is written \"C 1\" in orders.csv:3; write it " +
				"the same everywhere"},
		"empty design": {map[string]string{"designs/stool.csv": designHead,
			"orders.csv": orderHead + "C-1,stool,4\n"},
			"designs/stool.csv: there is no part in it; write a row for each part of the design"},
		"design in itself": {map[string]string{"designs/stool.csv": stool + "Leg,1,Oak,9,2,x\n",
			"orders.csv": orderHead + "C-1,stool,4\nC-2,stool,1\n"},
			"designs/stool.csv:4: material: \"Oak\" is written \"oak\" in designs/stool.csv:2; " +
				"write it the same everywhere\n" +
				"designs/stool.csv:4: part: \"Leg\" differs from \"leg\" in designs/stool.csv:2 " +
				"in case or blanks only; give each part of a commission a name of its own, or " +
				"put both in one row\n" +
				"designs/stool.csv:4: thickness: \"x\" is no length"},
		"design and parts": {map[string]string{"designs/stool.csv": stool + "Leg 2,1,oak,9,2,1\n",
			"parts.csv": partHead +
				"C-1,leg2,4,oak,9,2,1,,\nC-1,leg,4,oak,9,2,1,,\n", "orders.csv": orderHead +
				"C-2,stool,1\nC-1,stool,4\n"},
			"designs/stool.csv:2: part: a part of this name stands in parts.csv:3 already, and " +
				"C-1 has both (orders.csv:3); give one of the two another name\n" +
				"designs/stool.csv:4: part: a part of this name stands in parts.csv:2 already, " +
				"and C-1 has both (orders.csv:3); give one of the two another name"},
		"two designs": {map[string]string{"designs/bed.csv": stool,
			"orders.csv": orderHead + "C-1,stool,4\nC-1,bed,1\n"},
			"designs/bed.csv:2: part: a part of this name stands in designs/stool.csv:2 already, " +
				"and C-1 has both (orders.csv:3); give one of the two another name\n" +
				"designs/bed.csv:3: part: a part of this name stands in designs/stool.csv:3 " +
				"already, and C-1 has both (orders.csv:3); give one of the two another name"},
		"two files of a name": {map[string]string{"designs/sto ol.CSV": stool},
			"designs/stool.csv: the name differs from designs/sto ol.CSV in case or blanks only; " +
				"give each design a name of its own"},
		"too many": {map[string]string{
			"orders.csv": orderHead + "C-1,stool,2400\nC-1,stool,1\nC-2,stool,12000\n"},
			"orders.csv:2: qty: with this row there are 12004 copies of parts in all, more " +
				"than 12000; order fewer, or plan fewer at once\n" +
				"orders.csv:4: qty: with this row there are 60009 copies of parts in all, more " +
				"than 12000; order fewer, or plan fewer at once"},
		"as many as a row may have": {map[string]string{
			"designs/stool.csv": designHead +
				"leg,12000,oak,17,2,1\n", "orders.csv": orderHead +
				"C-1,stool,12000\n"},
			"orders.csv:2: qty: with this row there are 144000004 copies of parts in all, " +
				"more than 12000; order fewer, or plan fewer at once"},
		"a folder": {map[string]string{"designs/stool.csv": "", "designs/stool.csv/x": "x",
			"orders.csv": orderHead + "C-1,stool,1\n"},
			"designs/stool.csv: it cannot be read (it is a folder or a device); see that it is a " +
				"plain file that may be read"},
		"a file for the folder": {map[string]string{"designs/stool.csv": "", "designs": "x"},
			"designs: it cannot be read ("},
	} {
		files := map[string]string{"designs/stool.csv": stool}
		for k, v := range test.files {
			files[k] = v
		}
		job, _, err := ReadJob(jobFolder(files))
		if err == nil || job != nil {
			t.Errorf("%s: job %v, error %v", name, job, err)
			continue
		}
		got, want := strings.Split(err.Error(), "\n"), strings.Split(test.want, "\n")
		same := slices.EqualFunc(want, got, func(w, g string) bool {
			return g == w || strings.HasPrefix(g, w) && !strings.Contains(w, "; ")
		})
		if !same {
			t.Errorf("%s: %s", name, cmp.Diff(want, got))
		}
	}
}

// A link among the designs, or in place of their folder, is refused.
func TestLinkedDesigns(t *testing.T) {
	for _, name := range []string{"designs", "designs/stool.csv", "orders.csv"} {
		fsys := jobFolder(map[string]string{"designs/stool.csv": stool,
			"orders.csv": orderHead + "C-1,stool,1\n"})
		if name == "designs" {
			delete(fsys, "designs/stool.csv")
		}
		fsys[name] = &fstest.MapFile{Data: []byte("rack.csv"), Mode: fs.ModeSymlink | 0o777}
		_, _, err := ReadJob(fsys)
		if all, _ := err.(model.InputErrors); len(all) == 0 || all[0].File != name ||
			!strings.Contains(all[0].Cause, "link") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A job with orders is the job whose parts.csv has all their parts in it.
func TestOrdersAreParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := draw(t, units)
		part := func(name string) model.Part {
			p := model.Part{Name: name, Qty: draw(t, few), Material: "oak",
				Length: draw(t, sizes), Width: draw(t, sizes), Thickness: draw(t, sizes),
				Face: model.Face(draw(t, rapid.IntRange(0, model.Faces-1))), Note: draw(t, notes)}
			if rapid.Bool().Draw(t, "") {
				p.Section = draw(t, sections)
			}
			return p
		}
		fsys := fstest.MapFS{"shop.toml": {Data: []byte("units = \"" + string(u) + "\"\n")}}
		file := func(name string, write func(io.Writer) error) {
			fsys[name] = &fstest.MapFile{Data: written(t, write), Mode: 0o644}
		}
		var designs [][]model.Part
		for n := range rapid.IntRange(1, 3).Draw(t, "designs") {
			var parts []model.Part
			for _, name := range fresh(t, func(t *rapid.T) string {
				return draw(t, names)
			}, func(s string) string { return s }) {
				parts = append(parts, part(fmt.Sprint(name, "/", n)))
			}
			parts = append(parts, part(fmt.Sprint("leg/", n)))
			designs = append(designs, parts)
			file(fmt.Sprintf("designs/%d.csv", n), func(w io.Writer) error {
				return writeDesign(w, parts, u)
			})
		}
		commissions := rapid.SliceOfNDistinct(names, 1, 3, model.FoldName).Draw(t, "commissions")
		orders := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) csvfile.Order {
			return csvfile.Order{Commission: draw(t, rapid.SampledFrom(commissions)),
				Design: fmt.Sprint(rapid.IntRange(0, len(designs)-1).Draw(t, "")),
				Qty:    rapid.Int64Range(1, 20).Draw(t, "")}
		}), 0, 5).Draw(t, "orders")
		want := []model.Part{part("lone")} // beside the orders
		want[0].Commission = draw(t, rapid.SampledFrom(commissions))
		file("parts.csv", func(w io.Writer) error { return writeParts(w, want, u) })
		file("orders.csv", func(w io.Writer) error { return writeOrders(w, orders) })
		file("rack.csv", func(w io.Writer) error { return csvfile.WriteRack(w, nil, u) })
		file("yard.csv", func(w io.Writer) error { return writeYard(w, nil, u) })
		for _, o := range orders {
			for _, p := range designs[o.Design[0]-'0'] {
				same := func(q model.Part) bool {
					return q.Commission == o.Commission && q.Name == p.Name
				}
				if n := slices.IndexFunc(want, same); n >= 0 {
					want[n].Qty += o.Qty * p.Qty
				} else {
					p.Commission, p.Qty = o.Commission, o.Qty*p.Qty
					want = append(want, p)
				}
			}
		}
		got, _, err := ReadJob(fsys)
		if err != nil {
			t.Fatal(err)
		}
		ignore := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".Where" || p.Last().String() == ".Inputs"
		}, cmp.Ignore())
		if d := cmp.Diff(want, got.Parts, ignore); d != "" {
			t.Fatal(d)
		}
		delete(fsys, "orders.csv")
		file("parts.csv", func(w io.Writer) error { return writeParts(w, got.Parts, u) })
		again, _, err := ReadJob(fsys)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(got, again, cmpopts.EquateEmpty(), ignore); d != "" {
			t.Fatal(d)
		}
	})
}
