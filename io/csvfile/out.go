package csvfile

import (
	"fmt"
	"io"
	"io/fs"
	"strings"

	"rackwright/io/textfile"
	"rackwright/model"
)

// ReadOut reads the CSV files of an out folder back: Cuts, Buy, Rack with its defects, Setups and
// Costs of the plan, all else is zero. Lengths are in the shop's unit. The error is
// [model.InputErrors] with every mistake of every file.
func ReadOut(fsys fs.FS, u model.Unit) (*model.Plan, error) {
	r := &reader{fsys: fsys, unit: u}
	plan, after := &model.Plan{}, &model.Job{Settings: model.DefaultSettings()}
	plan.Cuts = readNamed(r, "cuts.csv", (*reader).cuts)
	plan.Buy = readNamed(r, "buy.csv", (*reader).buy)
	plan.Setups = readNamed(r, "setups.csv", (*reader).setups)
	plan.Costs = readNamed(r, "costs.csv", (*reader).costs)
	r.rack(after, true)
	after.Settings.Units = u
	after.Validate(&r.m)
	plan.Rack = after.Rack
	return plan, r.m.Err()
}

func readNamed[T any](r *reader, name string, read func(*reader, string, []byte) []T) []T {
	data, ok := r.file(name, true, maxBytes)
	if !ok {
		return nil
	}
	return read(r, name, data)
}

// ReadCuts reads cuts.csv; name is what errors call it.
func ReadCuts(in io.Reader, name string, u model.Unit) ([]model.Cut, error) {
	return readOne(in, name, u, (*reader).cuts)
}

// ReadBuy reads buy.csv.
func ReadBuy(in io.Reader, name string, u model.Unit) ([]model.Purchase, error) {
	return readOne(in, name, u, (*reader).buy)
}

// ReadSetups reads setups.csv.
func ReadSetups(in io.Reader, name string, u model.Unit) ([]model.Setup, error) {
	return readOne(in, name, u, (*reader).setups)
}

// ReadCosts reads costs.csv.
func ReadCosts(in io.Reader, name string) ([]model.Cost, error) {
	return readOne(in, name, model.Inch, (*reader).costs)
}

func readOne[T any](in io.Reader, name string, u model.Unit,
	read func(*reader, string, []byte) []T) ([]T, error) {
	r := &reader{unit: u}
	data, refused := textfile.Read(in, name, maxBytes)
	if refused != nil {
		r.m.Add(refused)
		return nil, r.m.Err()
	}
	list := read(r, name, data)
	return list, r.m.Err()
}

func (r *reader) cuts(name string, data []byte) (list []model.Cut) {
	rowsOf(r, name, data, cutNeeds, func(c cells, row cutRow) {
		k := model.Cut{
			Board: c.name("board", row.Board), Material: c.name("material", row.Material),
			Section: c.plainSection(row.Section),
			Origin: model.Origin(
				c.word("origin", row.Origin, string(model.FromRack), string(model.FromYard))),
			Kind: model.Kind(c.word("kind", row.Kind, string(model.KindTrim),
				string(model.KindPart), string(model.KindKerf),
				string(model.KindDefect), string(model.KindWaste), string(model.KindOffcut))),
			Step: int(c.count("step", row.Step, 0)),
			From: c.length("from", row.From), To: c.length("to", row.To),
			Left: c.length("left", row.Left), Right: c.length("right", row.Right),
			Commission: string(row.Commission), Part: string(row.Part), Offcut: string(row.Offcut),
		}
		if k.Kind == "" {
			return // what it may hold is not known
		}
		c.onlyFor(k.Kind == model.KindPart, k.Kind, []string{"commission", "part", "copy", "face"},
			string(row.Commission), string(row.Part), string(row.Copy), string(row.Face))
		c.onlyFor(k.Kind == model.KindOffcut, k.Kind, []string{"offcut"}, string(row.Offcut))
		if row.Copy != "" {
			k.Copy = c.count("copy", row.Copy, 1)
		}
		if row.Face != "" {
			k.Face, _ = model.ParseFace(c.word("face", row.Face, "show", "sound", "hidden"))
		}
		list = append(list, k)
	})
	return list
}

// onlyFor has cells filled in rows of one kind, and empty in all others.
func (c cells) onlyFor(mine bool, kind model.Kind, columns []string, values ...string) {
	for i, v := range values {
		if mine {
			c.filled(columns[i], v)
		} else if v != "" {
			c.bad(model.CodeWord, columns[i],
				fmt.Sprintf("a row of kind %q has no %s", kind, columns[i]), "empty the cell")
		}
	}
}

func (c cells) plainSection(n number) model.Section {
	c.filled("section", string(n))
	return c.section("section", n)
}

func (r *reader) buy(name string, data []byte) (list []model.Purchase) {
	rowsOf(r, name, data, buyNeeds, func(c cells, row buyRow) {
		list = append(list, model.Purchase{
			Material: c.name("material", row.Material), Section: c.plainSection(row.Section),
			Length: c.length("length", row.Length),
			Qty:    c.count("qty", row.Qty, 1), Price: c.money("price", row.Price),
			Total: c.money("total", row.Total),
			Tally: c.tally("tally", row.Tally), Width: c.length("width", row.Width),
			Yard: string(row.Yard), Grade: string(row.Grade),
			Tax: c.money("tax", row.Tax), Reserve: row.Reserve != "" &&
				c.word("reserve", row.Reserve, "yes") == "yes",
		})
	})
	return list
}

func (r *reader) setups(name string, data []byte) (list []model.Setup) {
	rowsOf(r, name, data, setupNeeds, func(c cells, row setupRow) {
		list = append(list, model.Setup{
			Saw:   c.word("saw", row.Saw, "crosscut", "rip"),
			Setup: int(c.count("setup", row.Setup, 1)), Stop: c.length("stop", row.Stop),
			Board: c.name("board", row.Board), Pieces: c.count("pieces", row.Pieces, 1),
		})
	})
	return list
}

func (r *reader) costs(name string, data []byte) (list []model.Cost) {
	rowsOf(r, name, data, costNeeds, func(c cells, row costRow) {
		list = append(list, model.Cost{
			Commission: c.name("commission", row.Commission), Cost: c.money("cost", row.Cost),
			Yard: c.money("yard_cost", row.Yard),
			Rack: c.money("rack_cost", row.Rack), Handling: c.money("handling", row.Handling),
			Credit: c.money("offcut_credit", row.Credit),
			Tally:  c.tally("tally", row.Tally),
		})
	})
	return list
}

// tally reads a decimal of at most six places into millionths.
func (c cells) tally(column string, n number) int64 {
	if !c.filled(column, string(n)) {
		return 0
	}
	units, millionths, _ := strings.Cut(c.point(n), ".")
	digits := units + millionths
	if units == "" || len(millionths) > 6 || len(units) > 12 ||
		strings.Trim(digits, "0123456789") != "" {
		c.bad(model.CodeCount, column, fmt.Sprintf("%.40q is no tally", string(n)),
			"write a number with at most six decimals")
		return 0
	}
	var v int64
	for _, d := range digits + strings.Repeat("0", 6-len(millionths)) {
		v = 10*v + int64(d-'0')
	}
	return v
}
