package assign

import (
	"testing"

	"pgregory.net/rapid"
)

// every lists every plan of a problem, as copies by edge, with its cost.
func every(p *Problem, take func(matched []int64, cost int64)) {
	matched := make([]int64, len(p.Edges))
	left, right := make([]int64, len(p.Left)), make([]int64, len(p.Right))
	var from func(e int)
	from = func(e int) {
		if e == len(p.Edges) {
			var cost int64
			for i, n := range matched {
				cost += n * p.Edges[i].Cost
			}
			for i, v := range p.Left {
				cost += (v.Copies - left[i]) * v.Alone
			}
			for i, v := range p.Right {
				cost += (v.Copies - right[i]) * v.Alone
			}
			take(matched, cost)
			return
		}
		l, r := p.Edges[e].Left, p.Edges[e].Right
		for n := int64(0); left[l]+n <= p.Left[l].Copies && right[r]+n <= p.Right[r].Copies; n++ {
			matched[e] = n
			left[l], right[r] = left[l]+n, right[r]+n
			from(e + 1)
			left[l], right[r] = left[l]-n, right[r]-n
		}
		matched[e] = 0
	}
	from(0)
}

// Against all plans of small problems: the cost is the least, and what is said to vary is what
// differs between the plans that cost as little.
func TestAgainstAllPlans(t *testing.T) {
	for range 5 {
		rapid.Check(t, againstAllPlans)
	}
}

func againstAllPlans(t *rapid.T) {
	number := func(name string, least, most int64) int64 {
		return rapid.Int64Range(least, most).Draw(t, name)
	}
	p := &Problem{}
	for range number("left", 0, 3) {
		p.Left = append(p.Left, Vertex{number("copies", 0, 2), number("alone", 0, 5)})
	}
	for range number("right", 0, 3) {
		p.Right = append(p.Right, Vertex{number("copies", 0, 2), number("alone", 0, 5)})
	}
	for l := range p.Left {
		for r := range p.Right {
			if rapid.Bool().Draw(t, "edge") {
				p.Edges = append(p.Edges, Edge{l, r, number("cost", 0, 9)})
			}
		}
	}
	got, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	least, varies := int64(1)<<60, make([]bool, len(p.Edges))
	lefts, rights := make([]bool, len(p.Left)), make([]bool, len(p.Right))
	every(p, func(_ []int64, cost int64) { least = min(least, cost) })
	found := false
	every(p, func(matched []int64, cost int64) {
		if cost != least {
			return
		}
		same := true
		left, right := append([]int64{}, got.LeftAlone...), append([]int64{}, got.RightAlone...)
		for e, n := range matched {
			d := n - got.Matched[e]
			varies[e] = varies[e] || d != 0
			same = same && d == 0
			left[p.Edges[e].Left] += got.Matched[e]
			right[p.Edges[e].Right] += got.Matched[e]
		}
		for e, n := range matched {
			left[p.Edges[e].Left] -= n
			right[p.Edges[e].Right] -= n
		}
		for l, n := range left {
			lefts[l] = lefts[l] || n != got.LeftAlone[l]
		}
		for r, n := range right {
			rights[r] = rights[r] || n != got.RightAlone[r]
		}
		found = found || same
	})
	if got.Cost != least || !found {
		t.Fatalf("%+v\ncosts %d, the least is %d", got, got.Cost, least)
	}
	for what, is := range map[string][2][]bool{"edges": {got.Varies, varies},
		"left": {got.LeftVaries, lefts}, "right": {got.RightVaries, rights}} {
		for i := range is[1] {
			if is[0][i] != is[1][i] {
				t.Fatalf("%s: %v vary, not %v\n%+v", what, is[0], is[1], got)
			}
		}
	}
}

// The square one of the tables of the assignment problem by which Kuhn showed his method (The
// Hungarian method for the assignment problem, Naval Research Logistics Quarterly 2, 1955), from
// memory: ratings of four men in four jobs, of which the sum is to be the greatest. It is 27.
// Ratings are taken from 9 to become costs.
func TestKuhn(t *testing.T) {
	ratings := [4][4]int64{{8, 7, 9, 9}, {5, 2, 7, 8}, {6, 1, 4, 9}, {2, 3, 2, 6}}
	p := &Problem{}
	for i := range ratings {
		p.Left = append(p.Left, Vertex{1, 1000})
		p.Right = append(p.Right, Vertex{1, 1000})
		for j, r := range ratings[i] {
			p.Edges = append(p.Edges, Edge{i, j, 9 - r})
		}
	}
	got, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	if sum := 4*9 - got.Cost; sum != 27 {
		t.Errorf("the sum is %d, not 27: %+v", sum, got)
	}
}

// What is out of the limits is refused.
func TestLimits(t *testing.T) {
	one := []Vertex{{1, 1}}
	for name, p := range map[string]*Problem{
		"copies": {Left: []Vertex{{-1, 0}}}, "alone": {Right: []Vertex{{0, most + 1}}},
		"cost":  {Left: one, Right: one, Edges: []Edge{{0, 0, -1}}},
		"place": {Left: one, Right: one, Edges: []Edge{{0, 1, 1}}},
		"twice": {Left: one, Right: one, Edges: []Edge{{0, 0, 1}, {0, 0, 2}}},
	} {
		if _, err := Solve(p); err == nil {
			t.Errorf("%s: it is taken", name)
		}
	}
}

// A large one: 1,000 against 1,000 with some ten edges each, whose plan is known as each has a mate
// at no cost.
func BenchmarkSolve(b *testing.B) {
	const size = 1000
	p := &Problem{}
	for i := range size {
		p.Left = append(p.Left, Vertex{1, 100})
		p.Right = append(p.Right, Vertex{1, 100})
		for j := range 10 {
			p.Edges = append(p.Edges, Edge{i, (i*7 + j*31) % size, int64(j * (i%13 + 1))})
		}
	}
	for b.Loop() {
		if got, err := Solve(p); err != nil || got.Cost != 0 {
			b.Fatal(got.Cost, err)
		}
	}
}
