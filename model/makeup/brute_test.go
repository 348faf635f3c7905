package makeup

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
)

// Brute forces from the words of the rules, on random jobs of one part and one wood.

// trial is a random job of finished 2x6 or rough or S2S 8/4 in 8 ft, with settings around those of
// an inch shop.
func trial(r *rand.Rand) *model.Job {
	p := part(model.Length(3+r.IntN(40))*in, model.Length(4+r.IntN(100))*in/4,
		model.Length(8+r.IntN(60))*in/8)
	p.Qty = int64(1 + r.IntN(12))
	w := []model.Wood{{Section: "2x6"}, {Section: "8/4", Surface: model.Rough},
		{Section: "8/4", Surface: model.S2S}}[r.IntN(3)]
	w.Length = 96 * in
	if w.Surface != "" {
		w.Width = model.Length(8+r.IntN(30)) * in / 4
	}
	j := shop(model.Inch, p, w)
	s := &j.Settings
	s.GlueUp = model.GlueUp{Joint: model.Length(r.IntN(4)) * in / 32,
		FaceJoint: model.Length(r.IntN(4)) * in / 32, Panel: model.Length(r.IntN(4)) * in / 4,
		Narrowest: model.Length(3+r.IntN(4)) * in / 3, Widest: model.Length(3+r.IntN(5)) * in,
		Step: model.Length(1+r.IntN(8)) * in / 16, ExtraLength: model.Length(r.IntN(2)) * in}
	s.Gang.Longest = model.Length(10+r.IntN(40)) * in
	s.Safety.ShortestRip = model.Length(10+r.IntN(8)) * in
	s.Allowance.PlaneLimit = model.Length(1+r.IntN(10)) * in / 8
	return j
}

// fits says whether so wide a stave is held by a board: each edge loses the greater of joint and
// edge, and a rounded edge of 2x6 is lost where it is more than edge.
func fits(j *model.Job, w *model.Wood, net model.Length) bool {
	a, lost := &j.Settings.Allowance, j.Settings.GlueUp.Joint
	lost = max(lost, a.Edge)
	rounded := model.Length(0)
	if w.Surface == "" {
		rounded = max(0, a.EasedEdge-a.Edge)
	}
	return net+2*lost+2*rounded <= w.Width
}

// fewestLayers tries two layers and more, by the rule that what they lose of the thickness of the
// stock leaves enough; 0 where none do, or where a layer would be planed down by too much.
func fewestLayers(j *model.Job, w *model.Wood) int64 {
	p, a, face := &j.Parts[0], &j.Settings.Allowance, j.Settings.GlueUp.FaceJoint
	faces := map[model.Surface]model.Length{model.Rough: a.Thickness, model.S2S: a.ThicknessS2S,
		"": a.Thickness}[w.Surface]
	if p.Thickness+faces <= w.Thickness || p.Thickness == w.Thickness && w.Surface != model.Rough {
		return 1
	}
	for n := model.Length(2); n < 60; n++ {
		joints := 2 * face
		if n == 2 {
			joints = face
		}
		if over := n*(w.Thickness-joints) - p.Thickness; w.Surface != model.Rough && (over == 0 ||
			over >= faces && over <= a.PlaneLimit) {
			return int64(n)
		}
		if n*(w.Thickness-faces-joints) < p.Thickness {
			continue
		}
		exact := (p.Thickness+n-1)/n + joints
		rounded := (exact + in/16 - 1) / (in / 16) * (in / 16)
		if rounded+faces > w.Thickness {
			rounded = exact
		}
		if w.Thickness-rounded-faces > a.PlaneLimit {
			return 0
		}
		return int64(n)
	}
	return 0
}

// waysOf are the layers that a glue-up takes, and the numbers of staves in each that do: one where
// layers alone do.
func waysOf(j *model.Job, w *model.Wood) (layers int64, staves []int64) {
	p, g := &j.Parts[0], &j.Settings.GlueUp
	layers = fewestLayers(j, w)
	long := p.Length+g.ExtraLength+j.Settings.Allowance.Length+2*j.Settings.YardEnd <= w.Length
	tooThick := layers == 1 && w.Thickness-p.Thickness > j.Settings.Allowance.PlaneLimit+
		j.BlankIn(p, w).Thickness-p.Thickness
	if layers == 0 || !long || tooThick {
		return layers, nil
	}
	joint := g.Joint
	g.Joint = 0 // no edge is glued
	if whole := p.Width == w.Width && w.Surface == ""; layers > 1 &&
		(whole || fits(j, w, p.Width)) {
		staves = append(staves, 1)
	}
	g.Joint = joint
	for n := model.Length(2); n < 100; n++ {
		net := (p.Width + g.Panel + n - 1) / n
		up := (net + in/16 - 1) / (in / 16) * (in / 16)
		if ok := func(net model.Length) bool {
			return net >= g.Narrowest && net <= g.Widest && fits(j, w, net)
		}; ok(up) || ok(net) {
			staves = append(staves, int64(n))
		}
	}
	return layers, staves
}

// Of each number of staves there is a way if the width by that number is held, and no other.
func TestGlueUpsByBruteForce(t *testing.T) {
	r, met := rand.New(rand.NewPCG(3, 4)), map[string]int{}
	for n := range 3000 {
		j := trial(r)
		p := &j.Parts[0]
		layers, staves := waysOf(j, &j.Yard[0].Wood)
		var want, got []int64
		for _, n := range staves {
			want = append(want, n*layers)
		}
		for _, way := range GlueUps(j, p) {
			got = append(got, way.Pieces)
			if way.Through.Times != layers || way.Across.Gives() < way.Across.Need.Total() ||
				way.Piece.Qty != way.Pieces*p.Qty {
				t.Errorf("job %d: %s", n, way.Made(model.Inch))
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Fatalf("job %d: %+v of %+v: pieces\n%v, by trying\n%v", n, p,
				&j.Yard[0].Wood, got, want)
		}
		met["none"] += max(0, 1-len(got))
		met["layers"] += min(1, int(layers)/2*len(got))
		met["staves"] += len(got)
	}
	t.Log(met)
	if met["none"] < 100 || met["layers"] < 100 || met["staves"] < 1000 {
		t.Error("hardly anything was compared")
	}
}

// Of every way to lay staves until they are wide enough, of which none can be left out or be a step
// narrower, the fewest and the most staves and the widest one are those of the cover.
func TestCoversByBruteForce(t *testing.T) {
	r, met := rand.New(rand.NewPCG(5, 6)), 0
	for n := range 1500 {
		j := trial(r)
		j.Parts[0].Width = model.Length(4+r.IntN(30)) * in / 4
		j.Settings.GlueUp.Step = max(j.Settings.GlueUp.Step, in/4)
		p, w, g := &j.Parts[0], &j.Yard[0].Wood, &j.Settings.GlueUp
		need := p.Width + g.Panel
		var widths []model.Length
		for net := g.Step; net <= g.Widest; net += g.Step {
			if net >= g.Narrowest && fits(j, w, net) {
				widths = append(widths, net)
			}
		}
		fewest, most, widest := 99, 0, model.Length(0)
		var lay func(from int, sum model.Length, staves []model.Length)
		lay = func(from int, sum model.Length, staves []model.Length) {
			if sum >= need {
				for _, s := range staves {
					if sum-s >= need || s > widths[0] && sum-g.Step >= need {
						return
					}
				}
				if len(staves) > 1 {
					fewest, most = min(fewest, len(staves)), max(most, len(staves))
					widest = max(widest, slices.Max(staves))
				}
				return
			}
			for k := from; k < len(widths); k++ {
				lay(k, sum+widths[k], append(staves, widths[k]))
			}
		}
		lay(0, 0, nil)
		covers := Covers(j, p)
		if wanted := most > 0 && w.Surface != "" && len(GlueUps(j, p)) > 0; len(covers) == 0 {
			if wanted {
				t.Errorf("job %d: no cover, where %d to %d staves are one", n, fewest, most)
			}
			continue
		}
		met++
		c := &covers[0]
		if c.Fewest != int64(fewest) || c.Most != int64(most) ||
			c.Staves[len(c.Staves)-1].Net != widest || c.Staves[0].Net != widths[0] {
			t.Errorf("job %d: need %v in steps of %v: %d to %d staves up to %v, by trying %d to %d "+
				"up to %v", n, need, g.Step, c.Fewest, c.Most, c.Staves[len(c.Staves)-1].Net,
				fewest, most, widest)
		}
		for _, s := range c.Staves {
			if s.Blank.Width != s.Net+2*max(g.Joint, j.Settings.Allowance.Edge) {
				t.Errorf("job %d: %+v", n, s)
			}
		}
	}
	if t.Log(met); met < 200 {
		t.Error("hardly any cover was compared")
	}
}

// Of every number of parts in one blank that is long enough and no longer than allowed there is a
// gang, up to as many as are wanted; the first of these may have more.
func TestGangsByBruteForce(t *testing.T) {
	r, met := rand.New(rand.NewPCG(7, 8)), 0
	for n := range 2000 {
		j := trial(r)
		p, w, s := &j.Parts[0], &j.Yard[0].Wood, &j.Settings
		p.Length, p.Thickness = model.Length(1+r.IntN(60))*in/4, w.Thickness-in/4
		least := max(s.Safety.ShortestBlank, s.Safety.ShortestRip)
		if p.Width == w.Width && w.Surface == "" {
			least = s.Safety.ShortestBlank
		}
		held, _ := j.Holds(p, &model.Board{Wood: *w}, model.FromYard)
		var want, got []int64
		for k := model.Length(2); k < 100 && held && p.Length+s.Allowance.Length < least; k++ {
			blank := k*p.Length + (k-1)*s.CrosscutKerf + s.Allowance.Length
			if blank < least || int64(k) > p.Qty && len(want) > 0 || blank > s.Gang.Longest {
				continue
			}
			want = append(want, int64(k))
		}
		for _, way := range Gangs(j, p) {
			got = append(got, way.Copies)
			if k := model.Length(way.Copies); way.Blank.Length != k*p.Length+
				(k-1)*s.CrosscutKerf+s.Allowance.Length || way.Piece.Qty*way.Copies < p.Qty ||
				(way.Piece.Qty-1)*way.Copies >= p.Qty {
				t.Errorf("job %d: %+v", n, way)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Fatalf("job %d: %+v of %+v: gangs of %v, by trying %v", n, p, w, got, want)
		}
		met += len(got)
	}
	if t.Log(met); met < 500 {
		t.Error("hardly any gang was compared")
	}
}

// Short parts are noted where there are gangs of them, and others are not, by the limits of any
// section.
func TestMarkShort(t *testing.T) {
	r, met := rand.New(rand.NewPCG(2, 9)), map[string]int{}
	for range 2000 {
		j := trial(r)
		p := &j.Parts[0]
		p.Thickness = j.Yard[0].Thickness
		if r.IntN(2) == 0 {
			shortest := model.Length(r.IntN(30)) * in
			j.Settings.Sections = map[model.Section]model.Override{
				[]model.Section{"2x6", "8/4", "1x4"}[r.IntN(3)]: {ShortestBlank: &shortest}}
		}
		if r.IntN(2) == 0 {
			p.Section = j.Yard[0].Section
		}
		if r.IntN(4) == 0 {
			p.Staves = model.Auto
		}
		gangs := len(Gangs(j, p)) > 0
		MarkShort(j)
		want := model.Pieces(0)
		if gangs && p.Staves == 0 {
			want = model.Auto
		}
		if p.InOne != want {
			t.Fatalf("%+v: %d, want %d", p, p.InOne, want)
		}
		met[fmt.Sprint(gangs, p.Staves, len(j.Settings.Sections))]++
	}
	if len(met) < 8 {
		t.Error(met)
	}
}

// Boards that are judged as the one before them give what each gives by itself.
func TestAlikeBoards(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	met := map[bool]int{}
	for n := range 500 {
		j := trial(r)
		p := &j.Parts[0]
		for k := range 6 {
			b := model.Board{ID: fmt.Sprintf("B.%d", k+1), Wood: j.Yard[0].Wood}
			b.Length = model.Length(20+60*r.IntN(2)) * in
			b.Untouched = r.IntN(6) == 0
			if b.For = []string{"", "C-1", "C-2"}[r.IntN(3)]; r.IntN(6) == 0 {
				b.Longest = 10 * in
			}
			if r.IntN(4) == 0 {
				b.Defects = []model.Defect{{From: 10 * in, To: 12 * in, Right: b.Width,
					Kind: "knot"}}
			}
			j.Rack = append(j.Rack, b)
		}
		if p.Length, p.Width, p.Thickness = 15*in, 2*in, j.Yard[0].Thickness; r.IntN(4) == 0 {
			p.Board = []string{"B", "B.2", "B.5"}[r.IntN(3)]
		}
		m := makerOf(j, p)
		q := m.piece(&m.stocks[0])
		got := m.give(&m.stocks[0], &q).Rack
		for k := range j.Rack {
			b := &j.Rack[k]
			ok, _ := j.Holds(&q, b, model.FromRack)
			ok = ok && j.HasRun(&q, b, model.FromRack)
			if met[ok]++; ok != slices.Contains(got, b) {
				t.Fatalf("job %d: %+v gives: %v", n, b, ok)
			}
		}
	}
	if met[true] < 300 || met[false] < 300 {
		t.Error(met)
	}
}
