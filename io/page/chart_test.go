package page

import (
	"encoding/xml"
	"strconv"
	"strings"
	"testing"

	"rackwright/model"
)

// drawnChart are the parts of a chart that tell something.
type drawnChart struct {
	Rects []struct {
		Class string `xml:"class,attr"`
		X     int    `xml:"x,attr"`
		Width string `xml:"width,attr"`
	} `xml:"rect"`
	Texts []string `xml:"text"`
	Desc  string   `xml:"desc"`
}

func chartOf(t *testing.T, value, bound model.Money, ways []Way) *drawnChart {
	t.Helper()
	job := &model.Job{Settings: model.DefaultSettings()}
	plan := &model.Plan{Value: value, Bound: bound, Groups: []model.Group{{}}}
	var out strings.Builder
	if err := Savings(&out, job, plan, ways); err != nil {
		t.Fatal(err)
	}
	var c drawnChart
	if err := xml.Unmarshal([]byte(out.String()), &c); err != nil {
		t.Fatal(err)
	}
	c.Rects = c.Rects[1:] // the sheet
	for _, s := range c.Texts {
		if s != "" && !strings.Contains(c.Desc, s) {
			t.Errorf("the description lacks %q", s)
		}
	}
	return &c
}

// Bars begin at 0 on one line, and are as long as what they cost.
func TestChartIsToScale(t *testing.T) {
	const unit = model.UnitsOfMoney
	c := chartOf(t, 50*unit, 40*unit, []Way{{"a", model.Measure{Value: 100 * unit}},
		{"b", model.Measure{Value: 75 * unit}}, {"c", model.Measure{Value: 50 * unit, Short: 1}}})
	if len(c.Rects) != 3 {
		t.Fatalf("%d bars", len(c.Rects))
	}
	for i, want := range []int{barsWide, barsWide * 3 / 4, barsWide / 2} {
		if r := c.Rects[i]; r.X != 0 || r.Width != strconv.Itoa(want) {
			t.Errorf("bar %d is from %d, %s wide, in place of %d", i, r.X, r.Width, want)
		}
	}
	if c.Rects[2].Class != "plan" || c.Rects[0].Class != "rule" {
		t.Error("the plan's bar is like the others")
	}
	all := strings.Join(c.Texts, "\n")
	for _, want := range []string{"100.00", "75.00", "50.00", "the plan saves 50.00 %",
		"the plan saves 33.34 %", "cuts other pieces", "broken line: bound, 40.00"} {
		if !strings.Contains(all, want) {
			t.Errorf("the chart lacks %q", want)
		}
	}
}

// A plan may cost nothing, or give back more than it takes.
func TestChartBelowZero(t *testing.T) {
	const unit = model.UnitsOfMoney
	c := chartOf(t, -50*unit, -50*unit, []Way{{"a", model.Measure{Value: 50 * unit}}})
	half := strconv.Itoa(barsWide / 2)
	if a, b := c.Rects[0], c.Rects[1]; a.X != barsWide/2 || a.Width != half || b.X != 0 ||
		b.Width != half {
		t.Errorf("bars %+v", c.Rects)
	}
	if c := chartOf(t, 0, 0, []Way{{"a", model.Measure{}}}); len(c.Rects) != 2 {
		t.Errorf("bars %+v", c.Rects)
	}
}
