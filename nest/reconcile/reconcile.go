// Package reconcile sets what was found in a count against the rack: which board each thing found
// is, what is missing, and what is new.
//
// Start at [Count]. A board whose id was legible is that one. For the rest [Count] looks for the
// least costly assignment, and guesses nothing: where another one costs as little and comes to
// something else, it says so. Where only some bins were counted, a board of another bin is there or
// not, nobody knows. It is found only by its id; a thing without one that may be it is in doubt.
package reconcile

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// Match is a board that was found, and what it is now.
type Match struct {
	Board, Is model.Board
	Found     model.Found
	// what it differs in; Measure: its defects must be measured anew, as nobody knows where they
	// lie on a board of another size
	Bin, Size, Measure bool
}

// Agrees says whether nothing is to be put right.
func (m *Match) Agrees() bool { return !m.Bin && !m.Size }

// Doubt is something found that may be one of several boards, or a new one.
type Doubt struct {
	Found  []model.Found // alike
	Boards []model.Board
	New    bool // it may be none of them
}

// Result is what came out of a count, each in the order of the rack or of the sheet.
type Result struct {
	Matches []Match
	Missing []model.Board
	New     []model.Found
	Doubts  []Doubt
}

// Nothing says whether nothing is to be put right.
func (r *Result) Nothing() bool {
	return len(r.Missing) == 0 && len(r.New) == 0 && len(r.Doubts) == 0 &&
		!slices.ContainsFunc(r.Matches, func(m Match) bool { return !m.Agrees() })
}

// counting is a count under way.
type counting struct {
	tolerance model.Length
	rack      []model.Board
	found     []model.Found
	bins      []string // those that were counted; nil: all
	by        []int    // for each board the thing found that it is, or -1
	known     []bool
	doubts    []Doubt
}

// Count sets what was found against the rack. The error is [model.InputErrors]: ids that stand
// twice, or are of other wood, and bins that were not counted.
func Count(rack []model.Board, count *model.Count, tolerance model.Length) (*Result, error) {
	c := &counting{tolerance: tolerance, rack: rack, found: count.Found, bins: count.Bins,
		by: make([]int, len(rack)), known: make([]bool, len(count.Found))}
	for b := range c.by {
		c.by[b] = -1
	}
	if err := c.byID(); err != nil {
		return nil, err
	}
	if err := c.byCost(); err != nil {
		return nil, err
	}
	return c.result(), nil
}

// result gathers what is sure; what is in doubt stands there only.
func (c *counting) result() *Result {
	out := &Result{Doubts: c.doubts}
	matched, unsure := make([]bool, len(c.found)), map[model.Where]bool{}
	boards := map[string]bool{}
	for _, d := range c.doubts {
		for _, f := range d.Found {
			unsure[f.Where] = true
		}
		for _, b := range d.Boards {
			boards[b.ID] = true
		}
	}
	for b, f := range c.by {
		switch {
		case f < 0 && !boards[c.rack[b].ID] && model.In(c.bins, c.rack[b].Bin):
			out.Missing = append(out.Missing, c.rack[b])
		case f >= 0:
			matched[f] = true
			if !unsure[c.found[f].Where] {
				out.Matches = append(out.Matches, c.match(&c.rack[b], &c.found[f]))
			}
		}
	}
	for f := range c.found {
		if !matched[f] && !unsure[c.found[f].Where] {
			out.New = append(out.New, c.found[f])
		}
	}
	return out
}

// byID matches boards whose ids were legible. An id that is not on the rack is of no board there.
func (c *counting) byID() error {
	var m model.Mistakes
	at, lines := map[string]int{}, map[string]int{}
	for b := range c.rack {
		at[c.rack[b].ID] = b
	}
	for f := range c.found {
		n := &c.found[f]
		wrong := func(code, column, cause, remedy string) {
			m.Add(&model.InputError{Code: code, File: n.Where.File, Line: n.Where.Line,
				Column: column, Cause: cause, Remedy: remedy})
		}
		if !model.In(c.bins, n.Bin) {
			wrong(model.CodeContradiction, "bin", fmt.Sprintf("bin %q is none of those that were "+
				"counted", n.Bin), "write a row for it with the word counted, as for the others, "+
				"and one for each board in it")
			continue
		}
		if n.ID == "" {
			continue
		}
		c.known[f] = true
		if line, twice := lines[n.ID]; twice {
			wrong(model.CodeDuplicate, "board", fmt.Sprintf("board %q was found in line %d already",
				n.ID, line), "empty the cell of the one whose id is not sure")
			continue
		}
		lines[n.ID] = n.Where.Line
		b, there := at[n.ID]
		if !there {
			unknown(n, wrong)
			continue
		}
		otherWood(n, &c.rack[b], wrong)
		c.by[b] = f
	}
	return m.Err()
}

// unknown says that a board is not on the rack, if it is not described as a new one.
func unknown(n *model.Found, wrong func(code, column, cause, remedy string)) {
	if n.Material == "" || n.Section == "" || n.Length == 0 {
		wrong(model.CodeUnknownBoard, "board", fmt.Sprintf("board %q is not on the rack", n.ID),
			"write its material, section and length, too, or put the id right")
	}
}

// otherWood says that a board is of other wood on the rack.
func otherWood(n *model.Found, is *model.Board, wrong func(code, column, cause, remedy string)) {
	const remedy = "put it right, or empty the cell of the id if that is not sure"
	if n.Material != "" && model.FoldName(n.Material) != model.FoldName(is.Material) {
		wrong(model.CodeContradiction, "material", fmt.Sprintf("board %s is of %q on the rack",
			n.ID, is.Material), remedy)
	}
	if n.Section != "" && n.Section != is.Section {
		wrong(model.CodeContradiction, "section", fmt.Sprintf("board %s is of section %s on the "+
			"rack", n.ID, is.Section), remedy)
	}
}

func sameBin(b *model.Board, f *model.Found) bool {
	return model.FoldName(b.Bin) == model.FoldName(f.Bin)
}

// match says what a board is, by what was found.
func (c *counting) match(b *model.Board, f *model.Found) Match {
	m := Match{Board: *b, Is: *b, Found: *f}
	if m.Bin = !sameBin(b, f); m.Bin {
		m.Is.Bin = f.Bin
	}
	_, length := c.off(f.Length, b.Length)
	_, width := c.off(f.Width, b.Width)
	if m.Size = length || width; !m.Size {
		return m
	}
	m.Measure = len(b.Defects) > 0
	if length {
		m.Is.Length = f.Length
		m.Is.Longest = min(b.Longest, f.Length)
	}
	if width {
		m.Is.Width = f.Width
	}
	return m
}
