package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"rackwright/model"
)

// pieceLine tells all of a piece that has a letter.
func (k *sketch) pieceLine(i int) KeyLine {
	c := &k.b.Rows[i]
	what := "offcut " + c.Offcut
	if c.Kind == model.KindPart {
		what = c.Commission + ", " + k.b.Name(i, "%s %d")
	}
	text := fmt.Sprintf("%s; %s x %s, %s", what, k.show(c.To-c.From), k.show(c.Right-c.Left),
		k.place(c.Rect()))
	switch {
	case c.Kind == model.KindPart:
		text += fmt.Sprintf("; face: %v", c.Face)
	case k.b.Bin != "":
		text += "; " + k.b.InBin()
	}
	return KeyLine{k.b.Labels[i], clean(text)}
}

// place says where a rectangle lies.
func (k *sketch) place(r model.Rect) string {
	text := fmt.Sprintf("from %s to %s", k.show(r.From), k.show(r.To))
	if r.Left == 0 && r.Right == k.b.Size.Right {
		return text
	}
	return text + fmt.Sprintf(", across from %s to %s", k.show(r.Left), k.show(r.Right))
}

// sortKey puts the pieces first, then the defects and then the cuts, by their numbers.
func sortKey(key []KeyLine) {
	slices.SortStableFunc(key, func(a, b KeyLine) int { return cmp.Compare(rank(a), rank(b)) })
}

// rank is 0 for a piece, 1 for a defect and more for a cut.
func rank(line KeyLine) int {
	if line.Letter == defectLetter {
		return 1
	}
	number, n := line.Letter, 0
	for n < len(number) && '0' <= number[n] && number[n] <= '9' {
		n++
	}
	if step, err := strconv.Atoi(number[:n]); err == nil {
		return step + 1
	}
	return 0
}

// defectLetter stands before a defect in the key.
const defectLetter = "#"
