package main

import (
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"rackwright/model"
)

// made is what a way to make a part up was said to be, in the lines before.
type made struct {
	copies, sets, pieces  int64
	staves, layers        int64
	net, thick            model.Length // of a stave; of a layer
	enter                 [3]model.Length
	cost, fewest          string // of one set; staves of a cover
	steps, least, widest  model.Length
	wider, narrow, across model.Length // of the blanks of a cover; need; all with their kerfs
}

var (
	stavesForm = regexp.MustCompile(`(\d+) staves of (.+?) net`)
	layersForm = regexp.MustCompile(`^(\d+) layers`)
	gangForm   = regexp.MustCompile(`^(\d+) in one blank$`)
)

func whole(s string) int64 { n, _ := strconv.ParseInt(s, 10, 64); return n }

// times is n x a length, as written.
func (p *pencil) times(n, l, all string) model.Length {
	p.t.Helper()
	sum := model.Length(whole(n)) * p.len(l)
	if p.len(all) != sum {
		p.bad("it comes to %v", sum)
	}
	return sum
}

// cents works out a price as num/den of it, rounded down to four decimals.
func (p *pencil) cents(price string, num, den []int64, want string) {
	p.t.Helper()
	r, _ := new(big.Rat).SetString(price)
	r.Mul(r, new(big.Rat).SetInt64(model.UnitsOfMoney))
	for _, n := range num {
		r.Mul(r, new(big.Rat).SetInt64(n))
	}
	for _, d := range den {
		r.Quo(r, new(big.Rat).SetInt64(d))
	}
	down := new(big.Int).Quo(r.Num(), r.Denom())
	if got := new(big.Rat).SetFrac(down,
		big.NewInt(model.UnitsOfMoney)).FloatString(4); got != want {
		p.bad("it comes to %s", got)
	}
}

// way takes note of a way: what it is, and what is to be entered for it.
func (p *pencil) way(m []string) {
	w := made{copies: 1, sets: 1, staves: 1, layers: 1,
		enter: [3]model.Length{p.len(m[5]), p.len(m[6]), p.len(m[7])}}
	if f := stavesForm.FindStringSubmatch(m[1]); f != nil {
		w.staves, w.net = whole(f[1]), p.len(f[2])
	}
	if f := layersForm.FindStringSubmatch(m[1]); f != nil {
		w.layers = whole(f[1])
	}
	if f := gangForm.FindStringSubmatch(m[1]); f != nil {
		w.copies = whole(f[1])
	}
	w.pieces = w.staves * w.layers
	qty := whole(p.qty)
	w.sets = (qty + w.copies - 1) / w.copies
	if whole(m[3]) != w.sets*w.pieces || m[2] != m[4] {
		p.bad("not %d of %s", w.sets*w.pieces, m[2])
	}
	if over := w.sets*w.copies - qty; over != whole(m[8]) {
		p.bad("%d are more than wanted", over)
	}
	if w.copies == 1 && w.enter[0] < p.finished[0] || w.staves == 1 &&
		w.enter[1] != p.finished[1] || w.layers == 1 && w.enter[2] != p.finished[2] {
		p.bad("too small")
	}
	p.made = w
}

// madeSteps are the lines with a number in them that tell how a part may be made up.
var madeSteps = []step{
	{`^  (.+) from (\S+)(?: rough| S2S)?: enter (\d+) of section (\S+), (.+?) by (.+?) by (.+?)` +
		`(?: \((\d+) more than wanted\))?$`, (*pencil).way},
	// of a part whose way the plan chooses nothing is to be entered
	{`^  (.+) from (\S+)(?: rough| S2S)?: (\d+) pieces? (.+?) by (.+?) by (.+?)` +
		`(?: \((\d+) more than wanted\))?$`, func(p *pencil, m []string) {
		p.way([]string{m[0], m[1], m[2], m[3], m[2], m[4], m[5], m[6], m[7]})
	}},
	{`^  Parting \(pieces down to (.+?)\): .+$`, func(p *pencil, m []string) {
		if p.len(m[1]) != p.finished[0] {
			p.bad("the parts are of another length")
		}
	}},
	{`^    length: (.+)$`, func(p *pencil, m []string) {
		if _, all := p.sum(m[1]); all != p.made.enter[0] {
			p.bad("another length is to be entered")
		}
	}},
	{`^    (wide|thick): (\d+) x (.+?) = (.+?), at least (.+)$`, func(p *pencil, m []string) {
		gives := p.times(m[2], m[3], m[4])
		n, finished := p.made.staves, p.finished[1]
		if m[1] == "thick" {
			n, finished, p.made.thick = p.made.layers, p.finished[2], p.len(m[3])
		} else if p.len(m[3]) != p.made.net {
			p.bad("another net width")
		}
		if first, need := p.sum(m[5]); first != finished || gives < need || whole(m[2]) != n {
			p.bad("not %d, or not enough", n)
		}
	}},
	{`^    wide: their net widths together at least (.+)$`, func(p *pencil, m []string) {
		first, need := p.sum(m[1])
		if p.made.narrow = need; first != p.finished[1] {
			p.bad("another width")
		}
	}},
	{`^    blank of a stave: (.+) wider than its net width$`, func(p *pencil, m []string) {
		p.made.wider = p.len(m[1])
	}},
	{`^    blank of a (stave|layer): (.+)$`, func(p *pencil, m []string) {
		first, all := p.sum(m[2])
		switch {
		case m[1] == "stave" && (first != p.made.net ||
			all != p.made.enter[1]+2*p.allowance["edge"]):
			p.bad("another stave")
		case m[1] == "layer" && (first != p.made.thick || p.made.enter[2] > 0 &&
			all-p.made.enter[2] != 0 && all-p.made.enter[2] != p.allowance["thickness"] &&
			all-p.made.enter[2] != p.allowance["thickness_s2s"]):
			p.bad("another layer")
		}
	}},
	{`^    wood of one: (\d+) x ([\d.]+) / ([^()]+?) x \((.+) \+ (.+)\)(?: / (\d+) side by side)? = ` +
		`([\d.]+), by \S+:\d+$`, func(p *pencil, m []string) {
		if blank := p.len(m[4]); blank != p.made.enter[0]+p.allowance["length"] ||
			whole(m[1]) != p.made.pieces {
			p.bad("another blank")
		}
		p.cents(m[2], []int64{whole(m[1]), int64(p.len(m[4]) + p.len(m[5]))},
			[]int64{int64(p.len(m[3])), max(1, whole(m[6]))}, m[7])
		p.made.cost = m[7]
	}},
	{`^    wood of all: (\d+) x ([\d.]+) = ([\d.]+)$`, func(p *pencil, m []string) {
		if m[2] != p.made.cost || whole(m[1]) != p.made.sets {
			p.bad("another cost")
		}
		p.cents(m[2], []int64{whole(m[1])}, nil, m[3])
	}},
	{`^    or (.+)$`, func(p *pencil, m []string) { // from the next cheapest on
		last := fourDecimals(p.made.cost) * int(p.made.sets)
		for _, f := range regexp.MustCompile(` for ([\d.]+)`).FindAllStringSubmatch(m[1], -1) {
			if cost := fourDecimals(f[1]); cost < last {
				p.bad("%s is cheaper than what stands before", f[1])
			} else {
				last = cost
			}
		}
	}},
	{`^  (\d+) to (\d+) staves from \S+(?: rough| S2S)?(?: in each of (\d+) layers)?, of (.+) to ` +
		`(.+) net in steps of (.+)$`, func(p *pencil, m []string) {
		p.made = made{staves: whole(m[2]), layers: max(1, whole(m[3])), fewest: m[1],
			least: p.len(m[4]), widest: p.len(m[5]), steps: p.len(m[6])}
		if p.made.least%p.made.steps != 0 || p.made.widest%p.made.steps != 0 ||
			p.made.least > p.made.widest {
			p.bad("not in such steps")
		}
	}},
	{`^    width of (\d+) with their kerfs: (.+)$`, func(p *pencil, m []string) {
		w, n := &p.made, model.Length(whole(m[1]))
		first, all := p.sum(m[2])
		most := model.Length(w.staves)
		if w.across = all; first < w.narrow || first-w.narrow >= w.steps && first != n*w.least ||
			n*w.widest < w.narrow && (n-1)*w.least+w.widest < w.narrow ||
			(most-1)*w.least >= w.narrow || m[1] != w.fewest ||
			all != first+n*(w.wider+p.allowance["rip"]) {
			p.bad("another width")
		}
	}},
	{`^    wood of one: (\d+) x ([\d.]+) / \((.+) x (.+)\) x (.+) x \((.+) \+ (.+)\) = ([\d.]+), ` +
		`by \S+:\d+$`, func(p *pencil, m []string) {
		if p.len(m[5]) != p.made.across || whole(m[1]) != p.made.layers {
			p.bad("another width")
		}
		p.cents(m[2], []int64{whole(m[1]), int64(p.len(m[5])),
			int64(p.len(m[6]) + p.len(m[7]))},
			[]int64{int64(p.len(m[3])), int64(p.len(m[4]))}, m[8])
	}},
	{`^    wood: no yard sells it; given by .+$`, func(*pencil, []string) {}},
	{`^Made up: (\d+) (?:staves|layers)\.$`, func(p *pencil, m []string) {
		if whole(m[1]) < 2 {
			p.bad("one is not made up")
		}
	}},
	// other parts of the same stop may be glued up, too
	{`^  Gluing \((\d+) glue-ups?, the widest (.+?)\): .+$`, func(p *pencil, m []string) {
		if n := int(whole(m[1])); n > p.pieces || n == p.pieces && m[1] == p.qty &&
			p.len(m[2]) != p.finished[1] {
			p.bad("not so many, or not so wide")
		}
	}},
	{`^  Planing (?:short|thin) pieces \(down to (.+)\): .+$`, func(p *pencil, m []string) {
		p.len(m[1])
	}},
}

// glueKey says whether a setting is one that terms of made-up parts name; it stands in no table.
func glueKey(key string) bool {
	return slices.Contains([]string{"joint", "face_joint", "panel", "extra_length", "crosscut",
		"rip"}, key)
}

// gluingJobs writes two jobs of parts that nothing holds or that are too short: of an inch shop
// with softwood and oak, and of a metric one.
func gluingJobs(t *testing.T) (dirs [2]string) {
	t.Helper()
	const head = "commission,part,qty,material,section,length,width,thickness,face\n"
	for n, files := range []map[string]string{{
		"shop.toml": "[material.oak.glue_up]\npanel = \"3/8\"\n",
		"parts.csv": head + "C-1,top,1,fir,,60,35,1 1/2,sound\n" +
			"C-1,leg,4,oak,,28,2 3/4,2 3/4,show\nC-1,block,1,oak,,20 1/2,10,4,show\n" +
			"C-1,plug,10,fir,1x4,4,3,3/4,sound\nC-1,side,2,oak,4/4,30,18,3/4,show\n" +
			"C-1,slab,1,fir,1x4,10,7,2 1/4,sound\n",
		"rack.csv": "board,material,section,length,width\nW-1,oak,10/4,40,5\nW-2,fir,2x6,60,\n",
		"yard.csv": "material,section,length,price,width\nfir,2x6,96,8.50,\nfir,2x8,96,12.20,\n" +
			"fir,2x4,96,4.60,\nfir,1x4,96,5.10,\noak,4/4,96,31.00,6\noak,4/4,96,36.00,7 1/2\n" +
			"oak,8/4,96,70.00,6\n",
	}, {
		"shop.toml": "units = \"mm\"\n[glue_up]\njoint = 2\nextra_length = 20\n",
		"parts.csv": head + "C-1,board,2,spruce,,900,445,27,show\n" +
			"C-1,beam,3,spruce,,1500,120,70,sound\nC-1,knob,7,spruce,38x140mm,70,60,30,show\n",
		"rack.csv": "board,material,section,length\n",
		"yard.csv": "material,section,length,price,surface\nspruce,38x140mm,2400,9.80,\n" +
			"spruce,27x180mm,3000,14.20,\nspruce,32x200mm,3000,16.10,rough\n",
	}} {
		dirs[n] = t.TempDir()
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(dirs[n], name), []byte(text),
				0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	return dirs
}
