package along_test

import (
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
)

// The table gives what the best of all layouts gives, on the grid or off it, where any number of
// copies may be used.
func TestBestIsTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var table along.Table
	worthless, keep0, narrow, tolerated := 0, 0, 0, 0
	for n := range 10000 {
		unit := model.Length(handmade.Pick(r, 1, 1, 2, 3, 5))
		b, items, kerf := brute.RandomBoard(r, 60/int(unit), unit)
		got, want := table.Best(&b, items, kerf), brute.MostOfAny(&b, items, kerf)
		if got != want {
			t.Fatalf("board %d: got %d, the best layout gives %d: %+v items %v kerf %d", n, got,
				want,
				b, items, kerf)
		}
		if got == 0 {
			worthless++
		}
		if b.Keep == 0 {
			keep0++
		}
		for _, s := range b.Spots {
			if s.To-s.From < kerf {
				narrow++
			}
			for _, i := range items {
				if s.Tolerated[i.Face] {
					tolerated++
				}
			}
		}
	}
	if worthless > 4000 || keep0 < 1000 || narrow < 2000 || tolerated < 4000 {
		t.Errorf("%d boards are worth nothing, %d keep all; %d spots are narrower than the kerf, "+
			"%d tolerated: too few to trust", worthless, keep0, narrow, tolerated)
	}
}

// No layout, on the grid or off it, gives more than most says. On a linked board most is what the
// best of all layouts gives with any number of copies; on any other it lies between that and the
// best with no more copies than wanted. With one clear run it is the latter, exactly.
func TestMostIsTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var most along.Most
	linked, limited, runs := 0, 0, 0
	for n := range 8000 {
		unit := model.Length(handmade.Pick(r, 1, 2, 3, 4))
		b, items, kerf := brute.RandomBoard(r, 60/int(unit), unit)
		got := most.Of(&b, items, kerf, b.To-b.From+model.Length(r.IntN(9)))
		few, any := brute.Most(&b, items, kerf), brute.MostOfAny(&b, items, kerf)
		what := ""
		switch {
		case b.Linked(items, kerf):
			linked++
			if got != any {
				what = "it is linked"
			}
		case len(b.Spots) == 0:
			if few < any {
				limited++
			}
			if got != few {
				what = "it has one run"
			}
		default:
			runs++
			if got < few || got > any {
				what = "it has several runs"
			}
		}
		if what != "" {
			t.Fatalf("board %d: most is %d, %s, the best layout of the copies wanted gives %d, of "+
				"any number %d: %+v items %v kerf %d", n, got, what, few, any, b, items, kerf)
		}
	}
	if linked < 3000 || limited < 300 || runs < 500 {
		t.Errorf("only %d boards were linked, on %d the copies wanted gave less, %d had runs",
			linked,
			limited, runs)
	}
}

func BenchmarkMost(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, c := range []struct {
		name      string
		positions model.Length
		items     int
		spots     int
		faces     int
	}{
		{"3000 positions, 20 blanks, clear", 3000, 20, 0, 1},
		{"3000 positions, 20 blanks, 4 spots, show", 3000, 20, 4, 1},
		{"3000 positions, 20 blanks, 4 spots, all faces", 3000, 20, 4, 3},
		{"400000 positions, 20 blanks, 4 spots, all faces", 400000, 20, 4, 3},
	} {
		b.Run(c.name, func(b *testing.B) {
			bar := along.Board{From: 0, To: c.positions, Slope: 119_993, Keep: c.positions / 16}
			for range c.spots {
				from := model.Length(r.Int64N(int64(c.positions)))
				bar.Spots = append(bar.Spots,
					along.Spot{
						Span: model.Span{From: from,
							To: min(c.positions, from+c.positions/60)},
						Tolerated: [model.Faces]bool{false, false, true}})
			}
			var items []along.Item
			for range c.items {
				l := c.positions/10 + model.Length(r.Int64N(int64(c.positions)/2))
				worth := int64(l) * bar.Slope
				items = append(items,
					along.Item{Length: l, Face: model.Face(r.IntN(c.faces)),
						Dual: worth + r.Int64N(worth/5+1), Demand: 20})
			}
			var most along.Most
			for b.Loop() {
				most.Of(&bar, items, c.positions/500, c.positions)
			}
		})
	}
}
