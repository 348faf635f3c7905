package folder

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rackwright/io/csvfile"
	"rackwright/model"
	"rackwright/model/makeup"
)

// Names hold everything that CSV and spreadsheets stumble over.
var (
	names = rapid.StringMatching(`['=+\-@]{0,2}[a-z,;"/|.é= ]{0,6}[a-z0-9"]`).Filter(
		func(s string) bool { return strings.TrimSpace(s) == s })
	notes   = rapid.OneOf(rapid.Just(""), names)
	lengths = rapid.Custom(func(t *rapid.T) model.Length {
		return model.Length(rapid.Int64Range(0, int64(model.LongestLength)).Draw(t, "length"))
	})
	sizes  = rapid.Custom(func(t *rapid.T) model.Length { return max(1, lengths.Draw(t, "size")) })
	moneys = rapid.Custom(func(t *rapid.T) model.Money {
		return model.Money(rapid.Int64Range(-1e12, 1e12).Draw(t, "money"))
	})
	prices = rapid.Custom(func(t *rapid.T) model.Money {
		return model.Money(rapid.Int64Range(1, int64(model.DearestBoard)).Draw(t, "price"))
	})
	pieces   = rapid.SampledFrom([]model.Pieces{0, 0, model.Auto, 2, 5})
	spares   = rapid.Int64Range(0, 4)
	counts   = rapid.Int64Range(1, 1000)
	few      = rapid.Int64Range(1, 20) // such as of a part: of all there are only so many
	sections = rapid.SampledFrom(
		[]model.Section{"2x6", "1x8", "5/4x6", "4x4", "4/4", "8/4", "38x140mm"})
	units = rapid.SampledFrom([]model.Unit{model.Inch, model.Millimetre})
	dates = rapid.SampledFrom([]string{"", "2026-04-01", "2024-02-29"})
)

func draw[T any](t *rapid.T, g *rapid.Generator[T]) T { return g.Draw(t, "") }

func drawWood(t *rapid.T) model.Wood {
	w := model.Wood{Material: draw(t, names), Section: draw(t, sections),
		Length: min(draw(t, sizes), model.LongestBoard),
		Width:  min(draw(t, sizes), model.WidestBoard), Thickness: draw(t, sizes)}
	if strings.HasSuffix(string(w.Section), "/4") {
		w.Surface = draw(t, rapid.SampledFrom(model.Surfaces))
	} else if strings.HasSuffix(string(w.Section), "mm") {
		w.Surface = draw(t, rapid.SampledFrom([]model.Surface{"", model.Rough, model.S2S}))
	}
	return w
}

func drawCut(t *rapid.T) model.Cut {
	c := model.Cut{
		Board:    draw(t, names),
		Origin:   draw(t, rapid.SampledFrom([]model.Origin{model.FromRack, model.FromYard})),
		Material: draw(t, names),
		Section:  draw(t, sections), Step: int(draw(t, counts)), From: draw(t, lengths),
		To: draw(t, lengths), Left: draw(t, lengths), Right: draw(t, lengths),
		Kind: draw(t, rapid.SampledFrom(
			[]model.Kind{model.KindTrim, model.KindPart, model.KindKerf, model.KindDefect,
				model.KindWaste, model.KindOffcut})),
	}
	switch c.Kind {
	case model.KindPart:
		c.Commission, c.Part, c.Copy, c.Face = draw(t, names), draw(t, names), draw(t, counts),
			model.Face(draw(t, rapid.IntRange(0, model.Faces-1)))
	case model.KindOffcut:
		c.Offcut = draw(t, names)
	}
	return c
}

// fresh draws a list with no two names alike but for case and blanks.
func fresh[T any](t *rapid.T, item func(*rapid.T) T, key func(T) string) []T {
	return rapid.SliceOfNDistinct(rapid.Custom(item), 0, 6, func(v T) string {
		return model.FoldName(key(v))
	}).Draw(t, "")
}

func drawRack(t *rapid.T) []model.Board {
	var oak string // one spelling of each material
	rack := fresh(t, func(t *rapid.T) model.Board {
		b := model.Board{ID: draw(t, names), Wood: drawWood(t), Bin: draw(t, notes),
			Since: draw(t, dates), Note: draw(t, notes)}
		if rapid.Bool().Draw(t, "") {
			v := max(0, draw(t, prices)-1)
			b.Value = &v
		}
		b.For, b.Untouched = draw(t, notes), rapid.Bool().Draw(t, "")
		if rapid.Bool().Draw(t, "") {
			b.Longest = min(b.Length, draw(t, sizes))
		}
		for range rapid.IntRange(0, 3).Draw(t, "") {
			d := model.Defect{
				From: model.Length(rapid.Int64Range(0, int64(b.Length)-1).Draw(t, "")),
				To:   b.Length, Right: b.Width, Kind: "sound knot"}
			if rapid.Bool().Draw(t, "") {
				d.Left = model.Length(rapid.Int64Range(0, int64(b.Width)-1).Draw(t, ""))
			}
			if rapid.Bool().Draw(t, "") {
				d.Right = model.Length(
					rapid.Int64Range(int64(d.Left)+1, int64(b.Width)).Draw(t, ""))
			}
			b.Defects = append(b.Defects, d)
		}
		return b
	}, func(b model.Board) string { return b.ID })
	for i := range rack {
		if oak == "" {
			oak = rack[i].Material
		}
		rack[i].Material = oak
	}
	return rack
}

func written(t *rapid.T, write func(io.Writer) error) []byte {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Every table that is written reads back to the same values, and those write the same bytes.
func TestWriteReadWrite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := draw(t, units)
		plan := &model.Plan{
			Cuts: rapid.SliceOfN(rapid.Custom(drawCut), 0, 8).Draw(t, "cuts"), Rack: drawRack(t),
			Buy: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Purchase {
				return model.Purchase{Material: draw(t, names), Section: draw(t, sections),
					Length: draw(t, lengths), Qty: draw(t, counts), Price: draw(t, moneys),
					Total: draw(t, moneys),
					Tally: rapid.Int64Range(0, 1e18-1).Draw(t, "tally"), Width: draw(t, lengths),
					Surface: draw(t,
						rapid.SampledFrom([]model.Surface{"", model.Rough, model.S2S})),
					Yard: draw(t, notes), Grade: draw(t, notes), Tax: draw(t, moneys),
					Reserve: rapid.Bool().Draw(t, ""),
					Boards: rapid.SliceOfN(rapid.StringMatching(`=?[a-zA-Z0-9._]{1,24}-buy-\d{1,12}`),
						0, 3).Draw(t, "boards")}
			}), 0, 4).Draw(t, "buy"),
			Order: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Sawing {
				return model.Sawing{Pass: int(draw(t, counts)), Sequence: int(draw(t, counts)),
					Saw:     draw(t, rapid.SampledFrom([]string{model.Crosscut, model.Rip})),
					Setting: draw(t, lengths), Board: draw(t, names), Step: int(draw(t, counts)),
					Piece: draw(t, names)}
			}), 0, 4).Draw(t, "order"),
			Costs: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Cost {
				return model.Cost{Commission: draw(t, names), Cost: draw(t, moneys),
					Yard: draw(t, moneys), Rack: draw(t, moneys), Handling: draw(t, moneys),
					Ripping: draw(t, moneys),
					Credit:  draw(t, moneys), Tally: rapid.Int64Range(0, 1e18-1).Draw(t, "tally")}
			}), 0, 4).Draw(t, "costs"),
		}
		first := outFolder(t, plan, u)
		got, err := readOut(first, u)
		if err != nil {
			t.Fatal(err)
		}
		ignoreWhere := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".Where"
		}, cmp.Ignore())
		if d := cmp.Diff(plan, got, cmpopts.EquateEmpty(), ignoreWhere); d != "" {
			t.Fatal(d)
		}
		if d := cmp.Diff(first, outFolder(t, got, u)); d != "" {
			t.Fatal(d)
		}
		for name, f := range first {
			if bytes.Contains(f.Data, []byte("\r")) || bytes.HasPrefix(f.Data, []byte("\xef")) ||
				f.Data[len(f.Data)-1] != '\n' {
				t.Fatalf("%s: %q", name, f.Data)
			}
		}
	})
}

// drawFacts makes reservations ones of the job, and lets parts name a board that may give them.
func drawFacts(t *rapid.T, job *model.Job) {
	for i := range job.Rack {
		if b := &job.Rack[i]; b.For != "" {
			b.For = draw(t, rapid.SampledFrom(job.Commissions)).Name
		}
	}
	for i := range job.Parts {
		if p := &job.Parts[i]; len(job.Rack) > 0 && rapid.Bool().Draw(t, "") {
			b := draw(t, rapid.SampledFrom(job.Rack))
			p.Board, p.Section, p.Length = b.ID, b.Section,
				min(p.Length, max(1, b.Length-job.BlankLength(p)+p.Length))
			p.Width, p.Thickness = min(p.Width, b.Width), b.Thickness
			var m model.Mistakes
			if job.Validate(&m); m.Err() != nil {
				p.Board = ""
			}
		}
	}
}

// A job that is written reads back to the same job.
func TestJobWriteRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := draw(t, units)
		job := &model.Job{Settings: model.DefaultSettingsIn(u), Rack: drawRack(t)}
		material := "oak"
		if len(job.Rack) > 0 {
			material = job.Rack[0].Material
		}
		job.Commissions = fresh(t, func(t *rapid.T) model.Commission {
			return model.Commission{Name: draw(t, names), Due: draw(t, dates), Note: draw(t, notes)}
		},
			func(c model.Commission) string { return c.Name })
		if len(job.Commissions) == 0 {
			job.Commissions = []model.Commission{{Name: "Bench"}}
		}
		job.Parts = fresh(t, func(t *rapid.T) model.Part {
			p := model.Part{Commission: draw(t, rapid.SampledFrom(job.Commissions)).Name,
				Name: draw(t, names), Qty: draw(t, few), Material: material,
				Length: draw(t, sizes), Width: draw(t, sizes), Thickness: draw(t, sizes),
				Face: model.Face(draw(t, rapid.IntRange(0, model.Faces-1))), Note: draw(t, notes)}
			if rapid.Bool().Draw(t, "") {
				p.Section = draw(t, sections)
			}
			p.Staves, p.Layers, p.Spare = draw(t, pieces), draw(t, pieces), draw(t, spares)
			return p
		}, func(p model.Part) string { return p.Commission + "/" + p.Name })
		job.Yard = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Offer {
			o := model.Offer{Wood: drawWood(t), Price: draw(t, prices),
				Yard:  draw(t, rapid.SampledFrom([]string{"", "north", "=south"})),
				Grade: draw(t, notes)}
			if o.Price > 1 { // a length and a price per length that give a price within the limits
				o.Length, o.Price, o.Per = max(in, o.Length), max(model.UnitsOfMoney, o.Price/100),
					draw(t, rapid.SampledFrom([]model.Per{model.PerPiece, model.PerLength}))
			}
			if o.Material = material; rapid.Bool().Draw(t, "") {
				n := draw(t, counts) - 1
				o.Available = &n
			}
			return o
		}), 0, 4).Draw(t, "yard")
		if len(job.Parts) == 0 {
			job.Parts = []model.Part{
				{Commission: job.Commissions[0].Name, Name: "Leg", Qty: 1, Material: material,
					Length: 1, Width: 1, Thickness: 1}}
		}
		drawFacts(t, job)
		got, _, err := ReadJob(fstest.MapFS{
			"shop.toml": {Data: []byte("units = \"" + string(u) + "\"\n")},
			"parts.csv": {
				Data: written(t, func(w io.Writer) error { return writeParts(w, job.Parts, u) })},
			"commissions.csv": {
				Data: written(t, func(w io.Writer) error {
					return writeCommissions(w, job.Commissions)
				})},
			"rack.csv": {
				Data: written(t, func(w io.Writer) error {
					return csvfile.WriteRack(w, job.Rack, u)
				})},
			"defects.csv": {
				Data: written(t, func(w io.Writer) error {
					return csvfile.WriteDefects(w, job.Rack, u)
				})},
			"yard.csv": {
				Data: written(t, func(w io.Writer) error { return writeYard(w, job.Yard, u) })},
		})
		if err != nil {
			t.Fatal(err)
		}
		ignore := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".Where" || p.Last().String() == ".Inputs"
		}, cmp.Ignore())
		makeup.MarkShort(job) // as the reader does
		if d := cmp.Diff(job, got, cmpopts.EquateEmpty(), ignore); d != "" {
			t.Fatal(d)
		}
	})
}
