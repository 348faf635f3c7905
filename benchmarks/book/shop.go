package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"time"

	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/model"
)

// shop is an invented shop: what happened to its boards, and those on its rack in the end.
type shop struct {
	events []book.Event
	rack   []model.Board
	r      *rand.Rand
	next   int
}

// What is drawn.
var (
	woods = []model.Wood{{Material: "pine", Section: "1x6"}, {Material: "pine", Section: "1x8"},
		{Material: "pine", Section: "2x4"}, {Material: "fir", Section: "2x6"}}
	first = time.Date(2020, 1, 2, 0, 0, 0, 0, time.UTC)
)

const (
	bins      = 100
	aDay      = 60 // events
	ofThePlan = 40 // boards of the wood that the month of the shop wants
)

// invent makes a shop of so many events with so many boards on the rack after the last, if so many
// can have come by then.
func invent(seed int64, events, boards int) *shop {
	s := &shop{r: rand.New(rand.NewPCG(uint64(seed), 14))}
	for range boards / 2 {
		s.rack = append(s.rack, s.board())
	}
	for n := range ofThePlan {
		b := s.board()
		b.Material, b.Section, b.Length = "ash", "1x6", model.Length(60+n%30)*model.UnitsPerInch
		b.Thickness, b.Width = b.Section.Actual(model.Condition{})
		s.rack = append(s.rack, b)
	}
	s.enter(book.Opened, book.Changes(nil, slices.Clone(s.rack))...)
	for len(s.events) < events {
		missing := boards - len(s.rack)
		switch at := s.r.IntN(len(s.rack)); {
		case missing >= events-len(s.events) || missing > 0 && s.r.IntN(3) == 0:
			b := s.board()
			s.rack = append(s.rack, b)
			s.enter(book.Added, book.Change{Is: &b})
		case s.r.IntN(4) == 0 && s.rack[at].Material != "ash":
			was := s.rack[at]
			s.rack = slices.Delete(s.rack, at, at+1)
			s.enter(book.Scrapped, book.Change{Was: &was})
		default:
			was, is := s.rack[at], s.rack[at]
			is.Bin = s.bin()
			if is.Bin == was.Bin {
				continue
			}
			s.rack[at] = is
			s.enter(book.Moved, book.Change{Was: &was, Is: &is})
		}
	}
	return s
}

func (s *shop) bin() string { return fmt.Sprintf("A%02d", s.r.IntN(bins)) }

// date is that of the next event.
func (s *shop) date() string {
	return first.AddDate(0, 0, len(s.events)/aDay).Format(time.DateOnly)
}

// board is one that comes.
func (s *shop) board() model.Board {
	s.next++
	w := woods[s.r.IntN(len(woods))]
	w.Length = model.Length(8*(10+s.r.IntN(86))+s.r.IntN(8)) * model.UnitsPerInch / 8
	w.Thickness, w.Width = w.Section.Actual(model.Condition{})
	return model.Board{ID: fmt.Sprintf("B-%06d", s.next), Wood: w, Bin: s.bin(), Since: s.date()}
}

func (s *shop) enter(kind book.Kind, changes ...book.Change) {
	s.events = append(s.events, book.Event{Number: int64(len(s.events) + 1), Date: s.date(),
		Kind: kind, Changes: changes})
}

// write lays the shop folder down, with a month that uses boards and buys some.
func (s *shop) write(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, month), 0o777); err != nil {
		return err
	}
	rack, err := book.Rack(s.events) // in the order in which they came
	if err != nil {
		return err
	}
	files, err := folder.EncodeRack(rack, model.Inch)
	if err != nil {
		return err
	}
	files["shop.toml"] = nil
	files["yard.csv"] = []byte("material,section,length,price\npine,1x6,96,8\nash,1x6,96,14\n")
	files[month+"/parts.csv"] = []byte("commission,part,qty,material,length,width,thickness\n" +
		"C-1 bench,rail,40,ash,34,5,1/2\nC-1 bench,leg,24,ash,17 1/2,5,1/2\n" +
		"C-2 rack,slat,60,ash,22,5,1/2\n")
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			return err
		}
	}
	return book.Make(filepath.Join(dir, "book.db"), s.events)
}

const month = "2027-03"
