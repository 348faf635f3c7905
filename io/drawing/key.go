package drawing

import (
	"cmp"
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
	text := what + "; " + k.show(c.To-c.From) + " x " + k.show(c.Right-c.Left) + ", " +
		k.place(c.Rect())
	switch {
	case c.Kind == model.KindPart:
		text += "; face: " + c.Face.String()
	case k.b.Bin != "":
		text += "; " + k.b.InBin()
	}
	return KeyLine{k.b.Labels[i], clean(text)}
}

// place says where a rectangle lies.
func (k *sketch) place(r model.Rect) string {
	text := "from " + k.show(r.From) + " to " + k.show(r.To)
	if r.Left == 0 && r.Right == k.b.Size.Right {
		return text
	}
	return text + ", across from " + k.show(r.Left) + " to " + k.show(r.Right)
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
