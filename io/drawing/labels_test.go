package drawing

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rackwright/model"
)

// What is written on the board stays within one piece, so that nobody takes it for another's.
func TestTextsStayInTheirPiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, _ := anyScene(t)
		for _, box := range k.taken {
			if !slices.ContainsFunc(k.b.Rows, func(c model.Cut) bool {
				return c.Kind != model.KindKerf && box.inside(k.rect(c.Rect()))
			}) {
				t.Errorf("%+v lies in no piece", box)
			}
		}
	})
}

// Labels stand in the order of their places, keep their gap, and no line runs through a text or
// across another line. None is left out that would have room.
func TestLabels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, from, to int) int { return rapid.IntRange(from, to).Draw(t, name) }
		where := rows{from: 0, end: n("end", 100, 2000), gap: n("gap", 0, 30), far: n("far", 0, 400),
			most: n("rows", 1, 2)}
		var labels []label
		for range n("labels", 0, 30) {
			labels = append(labels, label{at: n("at", 0, where.end), wide: n("wide", 0, 150)})
		}
		slices.SortStableFunc(labels, byPlace)
		all, dropped := where.stand(labels)
		if len(all)+len(dropped) != len(labels) {
			t.Fatalf("%d stand and %d do not, of %d", len(all), len(dropped), len(labels))
		}
		for i, l := range labels {
			s, stands := all[i]
			if !stands {
				continue
			}
			left, right := s.middle-l.wide/2, s.middle-l.wide/2+l.wide
			if left < where.from || right > where.end {
				t.Errorf("%d stands from %d to %d of %d", i, left, right, where.end)
			}
			if max(abs(s.pass-l.at), abs(s.middle-s.pass)) > where.far {
				t.Errorf("%d stands too far off", i)
			}
			for j := range i {
				other, stands := all[j]
				if !stands {
					continue
				}
				if s.pass <= other.pass || s.row == other.row && s.middle <= other.middle {
					t.Errorf("the lines of %d and %d cross", j, i)
				}
				before := other.middle - labels[j].wide/2 + labels[j].wide
				if s.row == other.row && left-before < where.gap {
					t.Errorf("%d and %d are too near", j, i)
				}
				// a line to the second row passes the texts of the first
				if s.row == 0 && other.row == 1 && left-other.pass < where.gap ||
					s.row == 1 && other.row == 0 && s.pass-before < where.gap {
					t.Errorf("the line of one of %d and %d runs through the other", j, i)
				}
			}
		}
		if len(dropped) > 0 {
			again := rows{where.from, where.end, where.gap, where.far, where.most}
			if _, ok := again.try(labels, indices(len(labels)), where.most); ok {
				t.Error("there was room for all")
			}
		}
	})
}

func indices(n int) (out []int) {
	for i := range n {
		out = append(out, i)
	}
	return out
}
