package model

import (
	"reflect"
	"testing"
)

func shop(change func(s *Settings)) *Job {
	j := &Job{Settings: DefaultSettings()}
	if change != nil {
		change(&j.Settings)
	}
	return j
}

func part(length, width, thickness string) *Part {
	return &Part{Material: "fir", Qty: 1, Length: inch(length), Width: inch(width),
		Thickness: inch(thickness)}
}

func longWood(section Section, width, length string) *Wood {
	w := wood(section, width)
	w.Length = inch(length)
	return &w
}

// TestBlankOfGriffith: finished 3/4 x 4-1/2 x 12-1/2 is cut 1 x 4-3/4 x 13 from rough stock. Rule
// of first cut: 1/2 in over in length, 1/4 in in width, planed from 1 in rough (Griffith,
// Correlated Courses in Woodwork); the sum is computed.
func TestBlankOfGriffith(t *testing.T) {
	j := shop(func(s *Settings) {
		s.Allowance.Length, s.Allowance.Edge, s.Allowance.Thickness = inch("1/2"), inch("1/8"),
			inch("1/4")
	})
	p, w := part("12 1/2", "4 1/2", "3/4"), longWood("4/4", "6", "96")
	if got, want := j.BlankIn(p, w), (Blank{inch("13"), inch("4 3/4"), inch("1")}); got != want {
		t.Errorf("the blank is %s x %s x %s, want 1 x 4-3/4 x 13", got.Thickness.Shop(Inch),
			got.Width.Shop(Inch), got.Length.Shop(Inch))
	}
	if ok, why := j.Holds(p, &Board{Wood: *w}, FromRack); !ok {
		t.Errorf("a 4/4 board of 6 in does not hold it: %s", why)
	}
}

// TestBlankOnlyWhereMachined: a face that is left as it comes costs nothing.
func TestBlankOnlyWhereMachined(t *testing.T) {
	j, w := shop(nil), longWood("2x6", "", "96")
	for _, c := range []struct{ width, thickness, wantWidth, wantThickness string }{
		{"5 1/2", "1 1/2", "5 1/2", "1 1/2"},
		{"5 1/4", "1 1/2", "5 3/8", "1 1/2"},
		{"5 1/2", "1 1/4", "5 1/2", "1 7/16"},
		{"2 1/2", "1", "2 5/8", "1 3/16"},
	} {
		p := part("30", c.width, c.thickness)
		if got, want := j.BlankIn(p, w),
			(Blank{inch("31"), inch(c.wantWidth), inch(c.wantThickness)}); got != want {
			t.Errorf("%s x %s from 2x6 is cut %s x %s x %s, want %s x %s x 31", c.thickness,
				c.width,
				got.Thickness.Shop(Inch), got.Width.Shop(Inch), got.Length.Shop(Inch),
				c.wantThickness, c.wantWidth)
		}
	}
	longer := inch("2")
	j.Settings.Materials = map[string]Override{"fir": {Length: &longer}}
	if got := j.BlankLength(part("30", "5 1/2", "1 1/2")); got != inch("32") {
		t.Errorf("with 2 in for fir the blank is %s long, want 32", got.Shop(Inch))
	}
}

// TestHolds: a board with eased edges gives up to 1/4 in less than its width, for each edge loses
// about 1/8 in (published shop pages: 2x4 leaves 3-1/4, 2x6 leaves 5-1/4).
func TestHolds(t *testing.T) {
	j := shop(func(s *Settings) { s.RackEnd = inch("1/4") })
	for _, c := range []struct {
		what                     string
		length, width, thickness string
		w                        *Wood
		why                      string
	}{
		{"as it comes", "30", "5 1/2", "1 1/2", longWood("2x6", "", "96"), ""},
		{"both edges ripped", "30", "5 1/4", "1 1/2", longWood("2x6", "", "96"), ""},
		{"both edges ripped", "30", "3 1/4", "1 1/2", longWood("2x4", "", "96"), ""},
		{"an edge would stay round", "30", "5 5/16", "1 1/2", longWood("2x6", "", "96"),
			"no board is wide enough"},
		{"wider", "30", "5 5/8", "1 1/2", longWood("2x6", "", "96"), "no board is wide enough"},
		{"square edges lose less", "30", "5 7/8", "1 13/16", longWood("8/4", "6", "96"), ""},
		{"square edges", "30", "5 15/16", "1 13/16", longWood("8/4", "6", "96"),
			"no board is wide enough"},
		{"planed by the whole allowance", "30", "5", "1 13/16", longWood("8/4", "6", "96"), ""},
		{"too thick to plane", "30", "5", "1 7/8", longWood("8/4", "6", "96"),
			"no board is thick enough"},
		{"plane_limit to the full", "30", "5", "1 5/16", longWood("8/4", "6", "96"), ""},
		{"beyond plane_limit", "30", "5", "1 1/4", longWood("8/4", "6", "96"),
			"every board is thicker than plane_limit allows to be planed away"},
		{"to the trims", "94 1/2", "5 1/2", "1 1/2", longWood("2x6", "", "96"), ""},
		{"over the trims", "94 33/64", "5 1/2", "1 1/2", longWood("2x6", "", "96"),
			"no board is long enough"},
	} {
		ok, why := j.Holds(part(c.length, c.width, c.thickness), &Board{Wood: *c.w}, FromRack)
		if ok != (c.why == "") || why != c.why {
			t.Errorf("%s: %s x %s x %s from %s: %t, %q; want %q", c.what, c.thickness, c.width,
				c.length, c.w.Section, ok, why, c.why)
		}
	}
	p := part("30", "5 1/2", "1 1/2")
	p.Section = "2x8"
	if ok, why := j.Holds(p, &Board{Wood: *longWood("2x6", "", "96")}, FromRack); ok ||
		why != "no board of this section" {
		t.Errorf("a part that names 2x8 from a 2x6: %t, %q", ok, why)
	}
	p.Section, p.Material = "", "oak"
	if ok, why := j.Holds(p, &Board{Wood: *longWood("2x6", "", "96")}, FromRack); ok ||
		why != "no board of this material" {
		t.Errorf("an oak part from fir: %t, %q", ok, why)
	}
}

// What the maker says of a board wins over its size; of several reasons the one that came nearest
// is given.
func TestHoldsByTheFactsOfABoard(t *testing.T) {
	const reserved, untouched = "every board that would do is reserved for another commission",
		"every board that would do is to stay untouched"
	const longest, named = "every board long enough is crooked or bowed and gives shorter blanks " +
		"only, by its longest",
		"no board is the one it must come from"
	for _, c := range []struct {
		what, id, from string
		o              Origin
		change         func(p *Part, b *Board)
		why            string
	}{
		{"reserved for its commission", "A", "", FromRack, func(p *Part, b *Board) {
			b.For = "Bench"
		}, ""},
		{"reserved for another", "A", "", FromRack, func(p *Part, b *Board) {
			b.For = "Table"
		}, reserved},
		{"to stay untouched", "A", "", FromRack, func(p *Part, b *Board) {
			b.Untouched = true
		}, untouched},
		{"to stay untouched for its commission", "A", "A", FromRack, func(p *Part, b *Board) {
			b.For, b.Untouched = "Bench", true
		}, untouched},
		{"longest is the blank's", "A", "", FromRack, func(p *Part, b *Board) {
			b.Longest = inch("31")
		}, ""},
		{"longest is under the blank's", "A", "", FromRack, func(p *Part, b *Board) {
			b.Longest = inch("31") - 1
		}, longest},
		{"too short, and reserved", "A", "", FromRack, func(p *Part, b *Board) {
			b.Length, b.For = inch("30"), "Table"
		}, "no board is long enough"},
		{"crooked, and reserved", "A", "", FromRack, func(p *Part, b *Board) {
			b.Longest, b.For = inch("30"), "Table"
		}, longest},
		{"the board itself", "A", "A", FromRack, nil, ""},
		{"one of its row", "A.12", "A", FromRack, nil, ""},
		{"that one of its row", "A.12", "A.12", FromRack, nil, ""},
		{"another of its row", "A.2", "A.12", FromRack, nil, named},
		{"an id that begins alike", "AB", "A", FromRack, nil, named},
		{"no number after the point", "A.x1", "A", FromRack, nil, named},
		{"nothing after the point", "A.", "A", FromRack, nil, named},
		{"a bought board of that id", "A.1", "A", FromYard, nil, named},
		{"any board for sale", "", "A", FromYard, nil, named},
	} {
		p, b := part("30", "5 1/2", "1 1/2"), &Board{ID: c.id, Wood: *longWood("2x6", "", "96")}
		if p.Commission, p.Board = "Bench", c.from; c.change != nil {
			c.change(p, b)
		}
		if ok, why := shop(nil).Holds(p, b, c.o); ok != (c.why == "") || why != c.why {
			t.Errorf("%s: %t, %q; want %q", c.what, ok, why, c.why)
		}
	}
}

// TestFourTimes24From96: with a 1/8 kerf only three fit, the last would be 23-5/8 (published worked
// example).
func TestFourTimes24From96(t *testing.T) {
	j := shop(nil)
	p, w := part("23", "5 1/2", "1 1/2"), longWood("2x6", "", "96")
	for n := range 4 {
		ok, _ := j.Holds(p, &Board{Wood: *w}, FromRack)
		if ok != (n < 3) {
			t.Errorf("piece %d of 24 in: fits %t, with %s left", n+1, ok, w.Length.Shop(Inch))
		}
		if n == 3 && w.Length != inch("23 5/8") {
			t.Errorf("after three, %s is left, want 23-5/8", w.Length.Shop(Inch))
		}
		w.Length -= j.BlankLength(p) + j.Settings.CrosscutKerf
	}
}

func TestWidenedRects(t *testing.T) {
	j := shop(nil)
	b := &Board{Wood: *longWood("2x6", "", "96"), Defects: []Defect{
		{From: inch("40"), To: inch("41"), Left: inch("1"), Right: inch("2"), Kind: "sound knot"},
		{From: inch("95 7/8"), To: inch("96"), Right: inch("5 1/2"), Kind: "split"},
		{From: 0, To: inch("1/8"), Right: inch("1/8"), Kind: "check"},
		{From: inch("40"), To: inch("40 1/2"), Left: inch("5 1/4"), Right: inch("5 1/2"),
			Kind: "loose knot"},
	}}
	all := []Rect{
		{0, inch("3/8"), 0, inch("3/8")},
		{inch("39 3/4"), inch("40 3/4"), inch("5"), inch("5 1/2")},
		{inch("39 3/4"), inch("41 1/4"), inch("3/4"), inch("2 1/4")},
		{inch("95 5/8"), inch("96"), 0, inch("5 1/2")},
	}
	if got := j.WidenedRects(b, nil); !reflect.DeepEqual(got, all) {
		t.Errorf("all defects widened: %v, want %v", got, all)
	}
	hidden := func(kind string) bool { return j.Settings.Tolerates(Hidden, kind) }
	if got, want := j.WidenedRects(b, hidden),
		[]Rect{all[1], all[3]}; !reflect.DeepEqual(got, want) {
		t.Errorf("defects that a hidden face does not tolerate: %v, want %v", got, want)
	}
	show := func(kind string) bool { return j.Settings.Tolerates(Show, kind) }
	if got := j.WidenedRects(b, show); !reflect.DeepEqual(got, all) {
		t.Errorf("defects that a show face does not tolerate: %v, want all: %v", got, all)
	}
}

func TestClearRuns(t *testing.T) {
	for _, c := range []struct {
		what     string
		from, to Length
		bad      []Span
		want     []Span
	}{
		{"nothing bad", 0, 100, nil, []Span{{0, 100}}},
		{"one in the middle", 0, 100, []Span{{40, 50}}, []Span{{0, 40}, {50, 100}}},
		{"bad ends", 0, 100, []Span{{0, 10}, {90, 100}}, []Span{{10, 90}}},
		{"overlap and nest", 0, 100, []Span{{10, 60}, {20, 30}, {50, 70}},
			[]Span{{0, 10}, {70, 100}}},
		{"touching", 0, 100, []Span{{10, 20}, {20, 30}}, []Span{{0, 10}, {30, 100}}},
		{"of no length", 0, 100, []Span{{50, 50}}, []Span{{0, 50}, {50, 100}}},
		{"outside", 30, 60, []Span{{0, 10}, {80, 90}}, []Span{{30, 60}}},
		{"across the ends", 30, 60, []Span{{0, 40}, {50, 90}}, []Span{{40, 50}}},
		{"all bad", 30, 60, []Span{{0, 90}}, nil},
		{"no span", 60, 60, nil, nil},
	} {
		if got := ClearRuns(c.from, c.to, c.bad); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}
