package book

import (
	"testing"
)

// Whatever stands in the file, an event is read as it would be written or not at all, and what
// cannot follow the events before it is refused without a panic; plans read by themselves stand as
// they do among all events.
func FuzzEvents(f *testing.F) {
	f.Add("booked", `{"plan":"march/out","booking":{"hash":"`+hash(1)+`","files":"`+hash(2)+
		`","uses":["B-1"],"buys":[{"board":{"board":"N-1","material":"pine","section":"2x4",`+
		`"length":487680,"width":24384,"thickness":8128},"price":3.5000}]},"changes":[]}`,
		"received", `{"plan":"march/out","missing":["N-1"],"changes":[]}`)
	f.Add("added", `{"changes":[{"is":{"board":"B-2","material":"pine","section":"2x4",`+
		`"length":1,"width":1,"thickness":1}}]}`, "undone", `{"of":2,"changes":[{"was":{"board":`+
		`"B-2","material":"pine","section":"2x4","length":1,"width":1,"thickness":1}}]}`)
	f.Add("cut", `{"plan":"a","done":[{"board":"B-1","parts":1,"spoiled":2,"kerf":3,"trim":4,`+
		`"waste":5}],"changes":[]}`, "undone", `{"of":2,"changes":[]}`)
	is := plank("B-1", "a", 50)
	f.Fuzz(func(t *testing.T, kind, says, kind2, says2 string) {
		events := []Event{{Number: 1, Date: day, Kind: Opened, Changes: []Change{{Is: &is}}}}
		short := &plans{}
		for _, text := range [][2]string{{kind, says}, {kind2, says2}} {
			e := Event{Number: int64(len(events) + 1), Date: day, Kind: Kind(text[0])}
			if e.decode(text[1]) != nil {
				return
			}
			if again, err := e.encode(); err != nil || again != text[1] {
				t.Fatalf("%q is written %q (%v)", text[1], again, err)
			}
			events = append(events, e)
			lives, err := Lives(events)
			if err != nil {
				return
			}
			brief := Event{Number: e.Number, Date: day, Kind: e.Kind}
			if err := brief.glance(text[1]); err != nil {
				t.Fatal(err)
			}
			short.add(&brief)
			if len(short.all) != len(lives) {
				t.Fatalf("%d plans, and by themselves %d", len(lives), len(short.all))
			}
		}
	})
}
