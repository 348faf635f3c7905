package model

import (
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// What is explained is what is planned: each wood is accounted for once and as Holds and the
// defects say, the sums give the blank that BlankIn gives, a choice costs its rate for the blank
// and a kerf, and that rate is what its basis says.
func TestExplainIsWhatIsPlanned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawExplained(t)
		v := j.Valuation()
		for i := range j.Parts {
			p := &j.Parts[i]
			e := j.Explain(p, v)
			seen := 0
			check := func(w *Board, o Origin, f *Fit, clear bool) {
				seen++
				b := j.BlankIn(p, &w.Wood)
				held, _ := j.Holds(p, w, o)
				if (f != nil) != (held && clear) {
					t.Fatalf("%+v: held %v, clear %v, explained %v", w, held, clear, f)
				}
				if f != nil &&
					(f.Section != w.Section || f.Surface != w.Surface ||
						b != Blank{e.Length.Total(), f.Width.Total(), f.Thickness.Total()} ||
						w.Thickness > f.Thickest || b.Width > f.Usable.Total()) {
					t.Fatalf("%+v: blank %+v, explained %+v", w, b, f)
				}
			}
			woods := func(w Woods, f *Fit) {
				for _, b := range w.Rack {
					check(b, FromRack, f, j.HasRun(p, b, FromRack))
				}
				for _, o := range w.Yard {
					check(&Board{Wood: o.Wood}, FromYard, f, o.Available == nil || *o.Available > 0)
				}
			}
			for n := range e.Fits {
				woods(e.Fits[n].Woods, &e.Fits[n])
			}
			for n := range e.Refused {
				woods(e.Refused[n].Woods, nil)
			}
			if seen != len(j.Rack)+len(j.Yard) {
				t.Fatalf("%d woods, %d explained", len(j.Rack)+len(j.Yard), seen)
			}
			for n, c := range e.Choices {
				num, den := big.NewInt(c.Share.Num*int64(c.Price)),
					big.NewInt(c.Share.Den*int64(c.Per))
				num.Mul(num, big.NewInt(int64(e.Length.Total()+e.Kerf))).Mul(num,
					big.NewInt(int64(c.Width)))
				den.Mul(den, big.NewInt(int64(c.Wide)))
				if want := Money(new(big.Int).Quo(num, den).Int64()); c.Cost != want ||
					n > 0 && c.Cost < e.Choices[n-1].Cost {
					t.Fatalf("choice %d costs %v, its basis makes it %v", n, c.Cost, want)
				}
				// the slope is rounded down once for each cell, and of a board of its own value
				// the basis has its area as a length of its width, rounded down
				charged := func(b Board) bool {
					exact := new(big.Rat).SetFrac(num, den)
					exact.Mul(exact, big.NewRat(v.Ticks(1), 1))
					cells := int64(e.Length.Total()+e.Kerf) / int64(v.Unit) *
						int64(c.Width/v.Unit)
					got := big.NewRat(v.SlopeOfBoard(&b).Whole*cells, 1)
					least := new(big.Rat).Sub(exact, big.NewRat(cells, 1))
					if b.Value != nil {
						least.Sub(least, new(big.Rat).Quo(exact, big.NewRat(int64(c.Per), 1)))
					}
					return c.Section == b.Section && c.Width == b.Width &&
						got.Cmp(exact) <= 0 && got.Cmp(least) > 0
				}
				if c.Origin == FromRack && !slices.ContainsFunc(j.Rack, charged) {
					t.Fatalf("choice %d costs %v, and no board is charged so", n, c.Cost)
				}
			}
			if next := e.RunnerUp(); next != nil && next.Section == e.Choices[0].Section &&
				len(e.Choices) > 2 {
				t.Fatalf("%d choices and the runner-up is of the same section", len(e.Choices))
			}
		}
	})
}

// drawExplained draws a small job of few sizes, so that much is alike.
func drawExplained(t *rapid.T) *Job {
	j := &Job{Settings: DefaultSettings()}
	j.Settings.RackEnd = Length(rapid.IntRange(0, 2).Draw(t, "trim")) * UnitsPerInch / 4
	j.Settings.Allowance.EasedEdge = rapid.SampledFrom(
		[]Length{0, UnitsPerInch / 16, UnitsPerInch / 8}).Draw(t, "eased")
	inches := func(from, to int) Length {
		return Length(rapid.IntRange(4*from, 4*to).Draw(t, "")) * UnitsPerInch / 4
	}
	wood := func() Wood {
		w := Wood{Material: rapid.SampledFrom([]string{"oak", "pine"}).Draw(t, ""),
			Section: rapid.SampledFrom([]Section{"1x4", "1x6", "2x4", "4/4", "38x140mm"}).Draw(t,
				""), Length: inches(5, 60)}
		if w.Thickness, w.Width = w.Section.Actual(Condition{}); w.Width == 0 ||
			rapid.Bool().Draw(t, "measured") {
			w.Width = inches(3, 6)
		}
		switch w.Section {
		case "4/4":
			w.Surface = rapid.SampledFrom(Surfaces).Draw(t, "surface")
		case "38x140mm":
			w.Surface = rapid.SampledFrom([]Surface{"", Rough, S2S}).Draw(t, "surface")
		}
		return w
	}
	for range rapid.IntRange(0, 6).Draw(t, "rack") {
		b := Board{Wood: wood()}
		if rapid.IntRange(0, 3).Draw(t, "valued") == 0 {
			v := Money(rapid.IntRange(0, 200000).Draw(t, "value"))
			b.Value = &v
		}
		if rapid.Bool().Draw(t, "defect") {
			b.Defects = []Defect{
				{From: b.Length / 2, To: b.Length/2 + UnitsPerInch, Right: b.Width,
					Kind: rapid.SampledFrom([]string{"split", "stain", "check"}).Draw(t, "")}}
		}
		j.Rack = append(j.Rack, b)
	}
	for range rapid.IntRange(0, 4).Draw(t, "yard") {
		o := Offer{Wood: wood(), Price: Money(rapid.IntRange(1, 500000).Draw(t, "price"))}
		if n := int64(rapid.IntRange(0, 3).Draw(t, "available")); n < 2 {
			o.Available = &n
		}
		j.Yard = append(j.Yard, o)
	}
	for range 3 {
		p := Part{Material: "oak", Qty: 1, Length: inches(4, 40), Width: inches(2, 6),
			Thickness: rapid.SampledFrom(
				[]Length{UnitsPerInch / 2, 3 * UnitsPerInch / 4, UnitsPerInch}).Draw(t, ""),
			Face: Face(rapid.IntRange(0, Faces-1).Draw(t, "face"))}
		if rapid.IntRange(0, 4).Draw(t, "named") == 0 {
			p.Section = "1x6"
		}
		j.Parts = append(j.Parts, p)
	}
	return j
}
