package reconcile

import (
	"encoding/json"
	"slices"
	"sort"

	"rackwright/model"
	"rackwright/nest/assign"
)

// With T the tolerance, and d how far what is found is off a board of the same material and
// section, in length and in width:
//
//	cost = d of the length + d of the width, of which one that was not measured is 0
//	     + 10 T  for each of them that is above T: the board has another size
//	     +  3 T  if it lies in another bin
//
// What is found and new costs 15 T, and so does what is missing. No match costs as much as both.
// So a board in a wrong bin comes before one of another length, and a length is believed to be
// another one up to 5 in off in a shop with the usual tolerance. The shares are our own.
//
// A board of a bin that was not counted is not missing, at no cost. To match it costs 15 T, if its
// size is within T, and cannot be otherwise: as much as that the thing is new. So either plan is as
// good, which is a doubt.
const (
	wrongBin  = 3
	otherSize = 10
	alone     = 15
)

// alike are boards or things found between which nobody can tell, by their places in the lists.
type alike struct {
	of    []int
	loose string // of boards: what they have in common with those in other bins
}

// boards puts boards that were not found by their ids together, if they are alike but for id and
// date.
func (c *counting) boards() []alike {
	return grouped(len(c.rack), func(i int) (string, string, bool) {
		b := c.rack[i]
		b.ID, b.Since, b.Where = "", "", model.Where{}
		whole := keyOf(b)
		b.Bin = ""
		return whole, keyOf(b), c.by[i] < 0
	})
}

// things puts things found without ids together, if they are alike but for their notes.
func (c *counting) things() []alike {
	return grouped(len(c.found), func(i int) (string, string, bool) {
		f := c.found[i]
		f.Note, f.Where = "", model.Where{}
		f.Material, f.Bin = model.FoldName(f.Material), model.FoldName(f.Bin)
		return keyOf(f), "", !c.known[i]
	})
}

func keyOf(v any) string {
	text, _ := json.Marshal(v) // of plain values no JSON fails
	return string(text)
}

func grouped(count int, key func(int) (whole, loose string, take bool)) (out []alike) {
	at := map[string]int{}
	for i := range count {
		whole, loose, take := key(i)
		if !take {
			continue
		}
		n, seen := at[whole]
		if !seen {
			n = len(out)
			at[whole] = n
			out = append(out, alike{loose: loose})
		}
		out[n].of = append(out[n].of, i)
	}
	return out
}

// byCost matches the rest at the least cost.
func (c *counting) byCost() error {
	things, boards := c.things(), c.boards()
	p := &assign.Problem{}
	for _, side := range []struct {
		from []alike
		to   *[]assign.Vertex
	}{{things, &p.Left}, {boards, &p.Right}} {
		for _, a := range side.from {
			*side.to = append(*side.to, assign.Vertex{Copies: int64(len(a.of)),
				Alone: alone * c.unit()})
		}
	}
	for r := range boards {
		if !c.wasCounted(boards, r) {
			p.Right[r].Alone = 0
		}
	}
	differs := c.edges(p, things, boards)
	plan, err := assign.Solve(p)
	if err != nil {
		return err
	}
	c.doubt(p, plan, differs, things, boards)
	next, taken := make([]int, len(things)), make([]int, len(boards))
	for e, edge := range p.Edges {
		for range plan.Matched[e] {
			c.by[boards[edge.Right].of[taken[edge.Right]]] = things[edge.Left].of[next[edge.Left]]
			next[edge.Left]++
			taken[edge.Right]++
		}
	}
	return nil
}

// edges are the matches that cost less than both alone; it says of each whether something is to be
// put right by it.
func (c *counting) edges(p *assign.Problem, things, boards []alike) (differs []bool) {
	byWood := map[model.WoodKind][]int{} // boards of a kind, the shortest first
	for r := range boards {
		k := c.kind(c.rack[boards[r].of[0]].Material, c.rack[boards[r].of[0]].Section)
		byWood[k] = append(byWood[k], r)
	}
	length := func(r int) model.Length { return c.rack[boards[r].of[0]].Length }
	for _, list := range byWood {
		slices.SortStableFunc(list, func(a, b int) int { return int(length(a) - length(b)) })
	}
	farthest := model.Length(2 * alone * c.unit())
	for l := range things {
		f := &c.found[things[l].of[0]]
		list := byWood[c.kind(f.Material, f.Section)]
		from := sort.Search(len(list), func(i int) bool {
			return length(list[i]) >= f.Length-farthest
		})
		for _, r := range list[from:] {
			if length(r) > f.Length+farthest {
				break
			}
			cost, other := c.cost(&c.rack[boards[r].of[0]], f)
			if !c.wasCounted(boards, r) {
				if cost >= otherSize*c.unit() {
					continue
				}
				cost = alone * c.unit()
			}
			if cost < 2*alone*c.unit() {
				p.Edges = append(p.Edges, assign.Edge{Left: l, Right: r, Cost: cost})
				differs = append(differs, other)
			}
		}
	}
	return differs
}

// wasCounted says whether boards lie in a bin that was counted.
func (c *counting) wasCounted(boards []alike, r int) bool {
	return model.In(c.bins, c.rack[boards[r].of[0]].Bin)
}

func (c *counting) kind(material string, s model.Section) model.WoodKind {
	return model.WoodKind{Material: model.FoldName(material), Section: s}
}

// off is the cost of a size that was found to be another, and whether it is another one.
func (c *counting) off(is, was model.Length) (cost int64, other bool) {
	d := max(is-was, was-is)
	if is == 0 || d == 0 {
		return 0, false
	}
	if cost = int64(d); d > c.tolerance {
		return cost + otherSize*c.unit(), true
	}
	return cost, false
}

// unit is T; where no tolerance is given, the finest length.
func (c *counting) unit() int64 { return max(1, int64(c.tolerance)) }

// cost is that of a match, and whether something is to be put right by it.
func (c *counting) cost(b *model.Board, f *model.Found) (cost int64, differs bool) {
	length, longer := c.off(f.Length, b.Length)
	width, wider := c.off(f.Width, b.Width)
	cost, differs = length+width, longer || wider
	if !sameBin(b, f) {
		return cost + wrongBin*c.unit(), true
	}
	return cost, differs
}
