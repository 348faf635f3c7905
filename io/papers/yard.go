package papers

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/io/report"
	"rackwright/model"
)

// Type of the yard paper: it is read at arm's length, in a shed.
const (
	headType  = 18.0
	woodType  = 14.0
	boardType = 12.0
	plainType = 10.0
	writing   = 8.5 // from line to line where somebody writes
)

// Yard writes what to buy: a page or more for each yard, with a box and the id of each board, room
// for its measured length and for what was paid.
func Yard(w io.Writer, job *model.Job, plan *model.Plan, opt Options) error {
	s := &yard{newSheet(job, plan, opt, "To buy"), newShop(job, plan)}
	var yards []string
	for i := range plan.Buy {
		if !slices.Contains(yards, plan.Buy[i].Yard) {
			yards = append(yards, plan.Buy[i].Yard)
		}
	}
	if len(yards) == 0 {
		s.page()
		s.set(woodType, true)
		s.para(side, "Nothing to buy.")
		s.y += 4
	}
	for _, name := range yards {
		s.page()
		s.from(name)
	}
	s.missing()
	return s.write(w)
}

type yard struct {
	*sheet
	shop *shop
}

// from lists what to buy at one yard.
func (s *yard) from(name string) {
	var used, spare []*model.Purchase
	var paid, tax model.Money
	var qty, tally int64
	var longest model.Length
	for i := range s.shop.plan.Buy {
		b := &s.shop.plan.Buy[i]
		if b.Yard != name {
			continue
		}
		if b.Reserve {
			spare = append(spare, b)
		} else {
			used = append(used, b)
		}
		paid, tax = paid+b.Total+b.Tax, tax+b.Tax
		qty, tally, longest = qty+b.Qty, tally+b.Tally, max(longest, b.Length)
	}
	title := name
	if title == "" {
		title = "At the yard"
	}
	s.set(headType, true)
	s.mark(title, 0)
	s.para(side, title)
	s.set(boardType, false)
	text := fmt.Sprintf("%s, %s %s, the longest %s. To pay: %s %s", report.Count(int(qty), "board"),
		report.Tally(s.shop.job, tally), report.Measure(s.shop.job), s.yardLength(longest),
		report.Money(paid), s.shop.job.Settings.Currency)
	if tax > 0 {
		text += ", tax of " + report.Money(tax) + " included"
	}
	s.para(side, text+".")
	s.y += 1.5
	s.set(plainType, false)
	s.para(side, "Measure each board and write down what it measures. A board that is shorter or "+
		"narrower than it is sold for may not hold its pieces.")
	s.y += 3
	for _, b := range used {
		s.row(b)
	}
	if len(spare) > 0 {
		s.reserve(spare)
	}
	s.total()
}

func (s *yard) yardLength(l model.Length) string { return s.shop.job.Settings.ShowAtYard(l) }

// reserve lists what to buy on top.
func (s *yard) reserve(rows []*model.Purchase) {
	s.need(30)
	s.y += 2
	s.set(woodType, true)
	s.para(side, "Reserve")
	s.set(plainType, false)
	s.para(side, "Not all bought wood is clear. Nothing is cut from these boards: they go on the "+
		"rack, each with an id of yours.")
	s.y += 2
	for _, b := range rows {
		s.row(b)
	}
}

// row is one row of buy.csv with a line for each of its boards.
func (s *yard) row(b *model.Purchase) {
	facts := []string{}
	for _, f := range []string{b.Grade, string(b.Surface)} {
		if f != "" {
			facts = append(facts, f)
		}
	}
	facts = append(facts, s.shop.length(b.Width)+" wide", report.Money(b.Price)+" each",
		report.Money(b.Total)+" in all")
	if b.Tax > 0 {
		facts = append(facts, "tax "+report.Money(b.Tax))
	}
	facts = append(facts, report.Tally(s.shop.job, b.Tally)+" "+report.Measure(s.shop.job))
	s.need(woodType*point*lead + plainType*point*lead + 2*writing)
	s.rule(side, s.w-side, s.y-1, fine)
	s.set(woodType, true)
	s.para(side, fmt.Sprintf("%d x %s %s, %s", b.Qty, b.Material, b.Section, s.yardLength(b.Length)))
	s.set(plainType, false)
	s.para(side, strings.Join(facts, ", "))
	s.y += 1
	s.boards(b)
	s.set(plainType, false)
	s.need(writing)
	s.blankLine(s.w-side-60, s.w-side, "paid")
	s.y += writing + 2
}

// blankLine sets a word with a line to write on behind it.
func (s *yard) blankLine(from, to float64, word string) {
	s.put(from, s.y, word)
	s.rule(from+s.width(word)+1.5, to, s.y+s.base()+0.8, hair)
}

// boards sets a box for each board of a row, in two columns where their ids are short.
func (s *yard) boards(b *model.Purchase) {
	ids := slices.Clone(b.Boards)
	for int64(len(ids)) < b.Qty { // of a reserve: the maker gives them
		ids = append(ids, "")
	}
	s.set(boardType, false)
	widest := s.width("2027-03-buy-1")
	for _, id := range ids {
		widest = max(widest, s.width(id))
	}
	words := []string{"length"}
	if thick, wide := b.Section.Nominal(); thick > 0 && wide == 0 { // of random widths
		words = append(words, "width")
	}
	asked := 34 * float64(len(words))
	columns, room := 1, s.w-2*side
	if half := (room - 6) / 2; s.boxSize()+2+widest+3+asked <= half {
		columns, room = 2, half
	}
	for n, id := range ids {
		x := side + float64(n%columns)*(room+6)
		if n%columns == 0 {
			s.need(writing)
		}
		s.board(x, room, widest, id, words)
		if n%columns == columns-1 || n == len(ids)-1 {
			s.y += writing
		}
	}
}

// board sets one board: its box, its id, and a line for each thing to measure.
func (s *yard) board(x, room, widest float64, id string, words []string) {
	s.set(boardType, false)
	s.box(x, s.y)
	at := x + s.boxSize() + 2
	if id == "" {
		s.rule(at, at+widest, s.y+s.base()+0.8, hair)
	} else {
		s.put(at, s.y, id)
	}
	at += widest + 3
	each := (x + room - at + 2) / float64(len(words))
	s.set(plainType, false)
	for k, word := range words {
		s.blankLine(at+float64(k)*each, at+float64(k+1)*each-2, word)
	}
}

// total is where the sum that was paid is written down.
func (s *yard) total() {
	s.set(boardType, true)
	s.need(2 * writing)
	s.y += 3
	s.blankLine(s.w-side-90, s.w-side, "paid in all, "+s.shop.job.Settings.Currency)
	s.y += writing
}

// missing names what no list of this paper gives wood for.
func (s *yard) missing() {
	_, reserve := report.Reserve(s.shop.job, s.shop.plan)
	if len(reserve)+len(s.shop.plan.Shortages) == 0 {
		return
	}
	s.set(woodType, true)
	s.need(30)
	s.y += 4
	s.para(side, "Not on this list")
	s.set(plainType, false)
	for _, text := range reserve {
		s.para(side, text)
	}
	for i := range s.shop.plan.Shortages {
		if i == 0 {
			s.para(side, "Short: these cannot be cut from what is on the rack and for sale.")
		}
		for n, text := range report.Shortage(s.shop.job, &s.shop.plan.Shortages[i]) {
			s.para(side+3+3*float64(n), text)
		}
	}
}
