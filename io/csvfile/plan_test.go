package csvfile

import (
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

// read reads one table; the error is all that is wrong in it.
func read(table func(*File), text string) error {
	var m model.Mistakes
	table(&File{Name: "table.csv", Data: []byte(text), Unit: model.Inch, Mistakes: &m,
		Notes: new([]model.Note)})
	return m.Err()
}

// Each mistake in a file of the out folder is refused with its place.
func TestBadOutFiles(t *testing.T) {
	const (
		cutHead = "board,origin,material,section,step,kind,from,to,left,right,commission,part," +
			"copy,face,offcut\n"
		buyHead = "material,section,length,qty,price,total,tally,width,surface,yard,grade,tax," +
			"reserve,boards\n"
		costHead = "commission,cost,yard_cost,rack_cost,handling,ripping,offcut_credit,tally\n"
	)
	cuts := func(f *File) { f.Cuts() }
	costs := func(f *File) { f.Costs() }
	buy := func(f *File) { f.Buy() }
	order := func(f *File) { f.Order() }
	const orderHead = "pass,sequence,saw,setting,board,step,piece\n"
	for _, c := range []struct {
		table  func(*File)
		text   string
		line   int
		column string
		code   string
	}{
		{cuts, "", 0, "", model.CodeEmptyFile},
		{cuts, strings.Replace(cutHead, ",offcut", "", 1), 1, "offcut", model.CodeMissingColumn},
		{cuts, cutHead + "A1,shed,oak,2x6,1,trim,0,1,0,5,,,,,\n", 2, "origin", model.CodeWord},
		{cuts, cutHead + "A1,rack,oak,2x6,1,chip,0,1,0,5,,,,,\n", 2, "kind", model.CodeWord},
		{cuts, cutHead + "A1,rack,oak,2x6,1,part,0,1,0,5,Bench,Leg,,show,\n", 2, "copy",
			model.CodeEmptyCell},
		{cuts, cutHead + "A1,rack,oak,2x6,1,kerf,0,1,0,5,Bench,,,,\n", 2, "commission",
			model.CodeWord},
		{cuts, cutHead + "A1,rack,oak,2x6,1,offcut,0,1,0,5,,,,,\n", 2, "offcut",
			model.CodeEmptyCell},
		{cuts, cutHead + "A1,rack,oak,2x6,-1,waste,0,1,0,5,,,,,\n", 2, "step", model.CodeCount},
		{buy, buyHead + "oak,2x6,96,0,1,0,8,5,,,,0,,\n", 2, "qty", model.CodeCount},
		{buy, buyHead + "oak,2x6,96,1,1,1,,5,,,,0,,\n", 2, "tally", model.CodeEmptyCell},
		{buy, buyHead + "oak,2x6,96,1,1,1,-8,5,,,,0,,\n", 2, "tally", model.CodeCount},
		{buy, strings.Replace(buyHead, ",tally", "", 1) + "oak,2x6,96,1,1,1,5,,,,0,,\n", 1, "tally",
			model.CodeMissingColumn},
		{buy, buyHead + "oak,2x6,96,1,1,1,8,5,,,,,,\n", 2, "tax", model.CodeEmptyCell},
		{buy, buyHead + "oak,2x6,96,1,1,1,8,5,,,,0,no,\n", 2, "reserve", model.CodeWord},
		{buy, strings.Replace(buyHead, ",boards", "", 1) + "oak,2x6,96,1,1,1,8,5,,,,0,\n", 1,
			"boards", model.CodeMissingColumn},
		{order, orderHead + "1,1,band,3,A1,1,trim\n", 2, "saw", model.CodeWord},
		{order, orderHead + "1,1,Rip,3,A1,1,trim\n", 2, "saw", model.CodeWord},
		{order, orderHead + "1,1,rip,3 a,A1,1,trim\n", 2, "setting", model.CodeLength},
		{order, orderHead + "1,1,rip,3,A1,1,\n", 2, "piece", model.CodeEmptyCell},
		{order, orderHead + "1,1,rip,3,,1,trim\n", 2, "board", model.CodeEmptyCell},
		{order, orderHead + "0,1,rip,3,A1,1,trim\n", 2, "pass", model.CodeCount},
		{order, orderHead + "1,0,rip,3,A1,1,trim\n", 2, "sequence", model.CodeCount},
		{order, orderHead + "1,1,rip,3,A1,0,trim\n", 2, "step", model.CodeCount},
		{cuts, cutHead + "A1,rack,oak,2x6,1,waste,0,1,0,,,,,,\n", 2, "right", model.CodeEmptyCell},
		{cuts, cutHead + "A1,rack,oak,2x6,1,waste,0,1,-1,5,,,,,\n", 2, "left", model.CodeLength},
		{costs, costHead + "Bench,1,1,0,0,0,0,1.0000001\n", 2, "tally", model.CodeCount},
		{costs, costHead + "Bench,1,1,0,0,0,1e2,1\n", 2, "offcut_credit", model.CodeMoney},
		{costs, costHead + "Bench,1,1,0,0,a foot,0,1\n", 2, "ripping", model.CodeMoney},
		{costs, strings.Replace(costHead, ",ripping", "", 1) + "Bench,1,1,0,0,0,1\n", 1,
			"ripping", model.CodeMissingColumn},
	} {
		all, ok := read(c.table, c.text).(model.InputErrors)
		if !ok || len(all) != 1 || all[0].Line != c.line || all[0].Column != c.column ||
			all[0].Code != c.code {
			t.Errorf("%q: want line %d, column %s, code %s; got %v", c.text, c.line, c.column,
				c.code, all)
		}
	}
}

// The ids of many boards are more than a cell may hold elsewhere.
func TestManyBoards(t *testing.T) {
	one := model.Purchase{Material: "oak", Section: "2x6", Qty: 1}
	written := func(n int) string {
		one.Boards = slices.Repeat([]string{"m-buy-1"}, n)
		var b strings.Builder
		if err := WriteBuy(&b, []model.Purchase{one}, model.Inch); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	var back []model.Purchase
	buy := func(f *File) { back = f.Buy() }
	if err := read(buy, written(200_000)); err != nil || len(back) != 1 ||
		!slices.Equal(back[0].Boards, one.Boards) {
		t.Errorf("of 200000 boards %d rows are read, %.200v", len(back), err)
	}
	all, _ := read(buy, written(1<<21+1)).(model.InputErrors)
	if len(all) != 1 || all[0].Code != model.CodeTooBig || all[0].Column != "boards" {
		t.Errorf("of 16 MB of ids it is said: %.200v", all)
	}
}
