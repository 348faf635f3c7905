package check

import (
	"fmt"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// A reserve that is not the one of the rule is refused, whichever way it differs; so is a board
// that cannot be carried.
func TestCheckJudgesYardAndReserve(t *testing.T) {
	// L is 106 + 206 = 312, so 35 more; the cheapest that covers it holds a shelf of 70: 106 for
	// 1000, of which 2 are for sale
	with := func() (*model.Job, *model.Plan) {
		j, p := handmade.Tiny()
		j.Settings.Usable = model.Fraction{Num: 9, Den: 10}
		r := p.Buy[0]
		r.Reserve, r.Boards = true, nil
		p.Buy = append(p.Buy, r)
		return j, p
	}
	for _, f := range checked(with()) {
		t.Fatalf("%s: %s", f.Where, f.What)
	}
	load := model.Length(206)
	for _, c := range []handmade.Spoilt{
		{What: "a reserve too little", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy = p.Buy[:2]
		}, Want: "buy.csv: line 4: is missing"},
		{What: "one too many", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[2].Qty, p.Buy[2].Total = 2, 2000
		}, Want: "buy.csv: line 4: qty is 2, it should be 1"},
		{What: "a dearer one", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[2] = p.Buy[1]
			p.Buy[2].Reserve = true
		}, Want: "buy.csv: line 4: length"},
		{What: "not said to be a reserve", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[2].Reserve = false
		}, Want: `buy.csv: line 4: reserve is "", it should be "yes"`},
		{What: "said to be a reserve", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Reserve = true
		}, Want: `buy.csv: line 2: reserve is "yes", it should be ""`},
		{What: "all of it usable", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Usable = model.Fraction{Num: 1, Den: 1}
		}, Want: "buy.csv: line 4: is one row too many"},
		// 312 more: 1 of 106, then the 206
		{What: "more is needed than one", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Usable = model.Fraction{Num: 1, Den: 2}
		}, Want: "buy.csv: line 5: is missing"},
		{What: "none is left", Spoil: func(j *model.Job, p *model.Plan) {
			*j.Yard[0].Available = 1
		}, Want: "buy.csv: line 4: length"},
		{What: "too long for the load", Spoil: func(j *model.Job, p *model.Plan) {
			short := load - 1
			j.Yard[1].Yard, j.Settings.Yards = "north",
				map[string]model.YardFacts{"north": {LongestLoad: &short}}
		}, Want: "buy.csv: 1 boards are bought by line 3 of yard.csv, which are longer than the " +
			"longest_load of north"},
		{What: "a yard", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Yard = "north"
		}, Want: `buy.csv: line 2: yard is "north", it should be ""`},
		{What: "a grade", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Grade = "FAS"
		}, Want: "buy.csv: line 2: grade"},
		{What: "a width", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Width++
		}, Want: "buy.csv: line 2: width"},
		{What: "a tax", Spoil: func(j *model.Job, p *model.Plan) {
			p.Buy[0].Tax = 1
		}, Want: "buy.csv: line 2: tax is 0.0001, it should be 0.00"},
		{What: "a tax that is owed", Spoil: func(j *model.Job, p *model.Plan) {
			j.Yard[0].Yard, p.Buy[0].Yard, p.Buy[2].Yard = "north", "north", "north"
			j.Settings.Yards = map[string]model.YardFacts{
				"north": {TaxPercent: &model.Fraction{Num: 1, Den: 1}}}
		}, Want: "buy.csv: line 2: tax is 0.00, it should be 0.001"},
	} {
		t.Run(c.What, func(t *testing.T) {
			j, p := with()
			c.Spoil(j, p)
			found := ""
			for _, f := range checked(j, p) {
				found += fmt.Sprintf("%s: %s\n", f.Where, f.What)
			}
			if !strings.Contains(found, c.Want) {
				t.Errorf("want %q, got %s", c.Want, found)
			}
		})
	}
	j, p := with()
	j.Yard[1].Yard, j.Settings.Yards = "north",
		map[string]model.YardFacts{"north": {LongestLoad: &load}}
	p.Buy[1].Yard = "north"
	for _, f := range checked(j, p) {
		t.Errorf("a load just as long: %s: %s", f.Where, f.What)
	}
}
