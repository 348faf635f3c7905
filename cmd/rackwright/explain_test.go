package main

import (
	"bytes"
	"cmp"
	"context"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"rackwright/model"
)

// pencil recomputes an explained part, line by line, from nothing but the numbers printed.
type pencil struct {
	t          *testing.T
	unit       model.Unit
	line       string
	finished   [3]model.Length // long, wide, thick
	allowance  map[string]model.Length
	added      map[string]bool   // what the table of allowances says
	used       map[string]bool   // what sums are made of
	blank      [3]model.Length   // of the section at hand
	surface    string            // of the same
	length     model.Length      // of any blank
	costs      map[string]string // by wood
	cheapest   string
	paid       string // for a board of the wood at hand, where it is said
	qty, part  string
	rack, yard int // counted
	cuts       int
	pieces     int          // of the final cuts
	shortest   model.Length // blank of them
	made       made
}

// opening is a line that continues none: one with its own beginning, or a row of a table.
var opening = regexp.MustCompile(`^(Finished|Section|Cheapest|Charged)\b|\S  +\S|` +
	`^    (length|wide|thick|blank of a|width of|wood|or)\b`)

// length is one as the shop writes it, at the beginning of a line; it is not broken over two.
var length = regexp.MustCompile(`^\d\S* (?:\d+/\d+"|mm|in)\S*`)

// unwrap joins the lines that were broken at 80 columns.
func unwrap(text string) (lines []string) {
	width := 0
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		word, _, _ := strings.Cut(strings.TrimLeft(l, " "), " ")
		if whole := length.FindString(strings.TrimLeft(l, " ")); whole != "" {
			word = whole
		}
		n := len(lines) - 1
		indent := func(s string) int { return len(s) - len(strings.TrimLeft(s, " ")) }
		if n >= 0 && lines[n] != "" && l != "" && !opening.MatchString(l) &&
			width+1+utf8.RuneCountInString(word) > 80 && indent(lines[n]) == indent(l) {
			lines[n] += " " + strings.TrimLeft(l, " ")
		} else {
			lines = append(lines, l)
		}
		width = utf8.RuneCountInString(l)
	}
	return lines
}

func (p *pencil) bad(format string, args ...any) {
	p.t.Helper()
	p.t.Errorf("%q: "+format, append([]any{p.line}, args...)...)
}

func (p *pencil) len(s string) model.Length {
	p.t.Helper()
	l, rounded, err := model.ParseLength(s, p.unit)
	if err != nil || rounded && !strings.Contains(s, ".") {
		p.bad("%q: %v", s, err)
	}
	return l
}

// sum works out terms such as 5" + 2 x 1/16" (edge), and compares them with what stands behind the
// equals sign.
func (p *pencil) sum(s string) (first, total model.Length) {
	p.t.Helper()
	left, right, equals := strings.Cut(s, " = ")
	signed := strings.ReplaceAll(left, " - ", " + -")
	for n, term := range strings.Split(signed, " + ") {
		term, minus := strings.CutPrefix(term, "-")
		term, key, keyed := strings.Cut(strings.TrimSuffix(term, ")"), " (")
		times := int64(1)
		if count, l, many := strings.Cut(term, " x "); many {
			times, _ = strconv.ParseInt(count, 10, 64)
			term = l
		}
		l := p.len(term)
		if _, met := p.allowance[key]; keyed && !met && glueKey(key) {
			p.allowance[key] = l
		}
		if keyed && p.allowance[key] != l {
			p.bad("%s is %v above", key, p.allowance[key])
		}
		if p.used[key] = true; minus {
			times = -times
		}
		if n == 0 {
			first = l
		}
		total += model.Length(times) * l
	}
	if equals != (signed != strings.SplitN(signed, " + ", 2)[0]) || equals &&
		p.len(right) != total {
		p.bad("the sum is %v", total)
	}
	return first, total
}

// money works out 0.5 x 15.40 / 72" x 5" / 6" x (13" + 1/8"), rounded down to four decimals; the
// widths stand there where they are not the same.
func (p *pencil) money(share, price, per, width, wide string, length model.Length, want string) {
	p.t.Helper()
	r, _ := new(big.Rat).SetString(price)
	if p.paid != "" && r.FloatString(4) != p.paid {
		p.bad("a board is %s", p.paid)
	}
	if share != "" {
		s, _ := new(big.Rat).SetString(strings.TrimSuffix(share, " x "))
		r.Mul(r, s)
	}
	r.Mul(r, big.NewRat(int64(length)*model.UnitsOfMoney, int64(p.len(per))))
	if width != "" {
		r.Mul(r, big.NewRat(int64(p.len(width)), int64(p.len(wide))))
	}
	down := new(big.Int).Quo(r.Num(), r.Denom())
	if got := new(big.Rat).SetFrac(down,
		big.NewInt(model.UnitsOfMoney)).FloatString(4); got != want {
		p.bad("it comes to %s", got)
	}
}

// price works out what is paid for one board: so many board feet at a price, and the tax on that,
// each rounded to four decimals, halves up.
func (p *pencil) price(m []string) {
	p.t.Helper()
	rat := func(s string) *big.Rat { r, _ := new(big.Rat).SetString(s); return r }
	rounded := func(r *big.Rat) *big.Rat { return rat(r.FloatString(4)) }
	paid := rat(m[2])
	if m[5] != "" {
		quantity := new(big.Rat)
		switch {
		case m[4] != "":
			quantity = rat(m[3])
		case m[6] == " a metre":
			quantity.SetFrac64(int64(p.len(m[3])), 1000*model.UnitsPerMillimetre)
		default:
			quantity.SetFrac64(int64(p.len(m[3])), 12*model.UnitsPerInch)
		}
		if got := rounded(quantity.Mul(quantity, rat(m[5]))); got.Cmp(paid) != 0 {
			p.bad("the board comes to %s", got.FloatString(4))
		}
	}
	if m[7] != "" {
		tax := new(big.Rat).Mul(paid, rat(m[8]))
		if tax = rounded(tax.Quo(tax, rat("100"))); tax.Cmp(rat(m[7])) != 0 {
			p.bad("the tax comes to %s", tax.FloatString(4))
		}
		paid = new(big.Rat).Add(paid, tax)
	}
	p.cheapest, p.paid = m[1], paid.FloatString(4)
}

// names counts boards and rows, and compares with the names in the brackets.
func (p *pencil) names(s string) {
	p.t.Helper()
	for _, m := range regexp.MustCompile(
		`(\d+) (rack board|row)s?(?: of (?:\.\./)?yard.csv)? \(([^)]*)\)`).
		FindAllStringSubmatch(s, -1) {
		names := strings.Split(m[3], ", ")
		n, last := len(names), names[len(names)-1]
		if more, yes := strings.CutPrefix(last, "and "); yes {
			k, _ := strconv.Atoi(strings.TrimSuffix(more, " more"))
			n += k - 1
		}
		if strconv.Itoa(n) != m[1] {
			p.bad("%d are named", n)
		}
		if m[2] == "row" {
			p.yard += n
		} else {
			p.rack += n
		}
	}
}

// fourDecimals reads an amount into ten-thousandths.
func fourDecimals(s string) int {
	n, _ := strconv.Atoi(strings.Replace(s, ".", "", 1))
	return n
}

type step struct {
	form string
	work func(p *pencil, m []string)
}

// steps are all lines with a number in them that an explained part may have; the last forms are the
// widest.
var steps = []step{
	{`^(.+) of .+ \((?:(?:\.\./)?designs/.+|\S+)\.csv:\d+\): (\d+) of .+, \w+ face$`,
		func(p *pencil, m []string) { p.part, p.qty = m[1], m[2] }},
	{`^Finished: (.+) long, (.+) wide, (.+) thick\.$`, func(p *pencil, m []string) {
		p.finished = [3]model.Length{p.len(m[1]), p.len(m[2]), p.len(m[3])}
	}},
	{`^Section: \S+, as the part names it\.$`, func(*pencil, []string) {}},
	{`^  (length|edge|eased_edge|thickness(?:_s2s)?|plane_limit)(?: \*)? +(\S.*?)  +(.+)$`,
		func(p *pencil, m []string) {
			p.allowance[m[1]], p.added[m[1]] = p.len(m[2]), strings.HasPrefix(m[3], "added") ||
				strings.HasPrefix(m[3], "lost")
		}},
	{`^  length: (.+)$`, func(p *pencil, m []string) {
		if first, all := p.sum(m[1]); first != p.finished[0] || all != first+p.allowance["length"] {
			p.bad("not the finished length and its allowance")
		} else {
			p.length = all
		}
	}},
	{`^Blank in (\S+?)(?: (rough|S2S))?: (.+) by (.+) by (.+)$`, func(p *pencil, m []string) {
		if p.blank = [3]model.Length{p.len(m[3]), p.len(m[4]),
			p.len(m[5])}; p.blank[0] != p.length {
			p.bad("the length is another")
		}
		if p.surface = m[2]; strings.HasSuffix(m[1], "/4") && p.surface == "" {
			p.bad("quarters are never finished")
		}
	}},
	{`^  (rough|S2S|finished) stock: .+$`, func(p *pencil, m []string) {
		if m[1] != cmp.Or(p.surface, "finished") {
			p.bad("not as the blank is headed")
		}
	}},
	{`^  (width|thickness): (.+?)(, as it comes)?$`, func(p *pencil, m []string) {
		n, key, times := 1, "edge", model.Length(2)
		if m[1] == "thickness" {
			n, key, times = 2, "thickness", 1
		}
		want := p.finished[n]
		if m[1] == "thickness" && p.surface == "S2S" {
			key = "thickness_s2s"
		}
		if m[3] == "" {
			want += times * p.allowance[key]
		} else if p.surface == "rough" || p.surface == "S2S" && m[1] == "width" {
			p.bad("%s stock is never as it comes there", p.surface)
		}
		if first, all := p.sum(m[2]); first != p.finished[n] || all != want || all != p.blank[n] {
			p.bad("not %v", want)
		}
	}},
	{`^    the blank needs (.+); the (?:widest|thickest) has (.+)$`,
		func(p *pencil, m []string) {
			first, needs := p.sum(m[1])
			if _, has := p.sum(m[2]); has >= needs {
				p.bad("that is enough")
			}
			if first != p.finished[1] && first != p.finished[2] {
				p.bad("not from the finished size on")
			}
		}},
	{`^  usable of the narrowest: (.+?)(; the board's own edges serve as sawn ones)?$`,
		func(p *pencil, m []string) {
			if _, all := p.sum(m[1]); all < p.blank[1] {
				p.bad("too narrow")
			}
		}},
	{`^  of the thickest, to plane away beyond that: (.+); plane_limit allows (.+)$`,
		func(p *pencil, m []string) {
			_, spare := p.sum(m[1])
			if spare < 0 || spare > p.len(m[2]) || p.len(m[2]) != p.allowance["plane_limit"] {
				p.bad("not within plane_limit")
			}
		}},
	{`^  (?:held by|[a-z][^:]*:) (\d+ (?:rack|row).*)$`, func(p *pencil, m []string) {
		p.names(m[1])
	}},
	{`^  (\S+ yard), bought by \S+?, a board for ([\d.]+)(?: \((.+?) (?:(board feet|cubic m) ` +
		`)?at ([\d.]+)( a foot| a metre)?\))?(?: and ([\d.]+) tax \(([\d.]+) %\))?$`,
		(*pencil).price},
	// the wood at hand
	{`^  (\S+ (?:rack|yard)), .+$`, func(p *pencil, m []string) { p.cheapest, p.paid = m[1], "" }},
	{`^    ([\d./]+ x )?([\d.]+) / (.+?)(?: x (.+?) / (.+?))? x ([^(].*) = ([\d.]+) a ` +
		`(?:foot|metre)$`,
		func(p *pencil, m []string) {
			p.money(m[1], m[2], m[3], m[4], m[5], p.len(m[6]), m[7])
		}},
	{`^    ([\d./]+ x )?([\d.]+) / (.+?)(?: x (.+?) / (.+?))? x \((.+) \+ (.+)\) = ([\d.]+)$`,
		func(p *pencil, m []string) {
			if p.len(m[6]) != p.length {
				p.bad("another blank")
			}
			p.money(m[1], m[2], m[3], m[4], m[5], p.len(m[6])+p.len(m[7]), m[8])
			p.costs[p.cheapest] = m[8]
		}},
	{`^Cheapest: (.+?)\. Runner-up: (.+), for each blank (\S+) - (\S+) = (\S+) more\.$`,
		func(p *pencil, m []string) {
			if p.costs[m[1]] != m[4] || p.costs[m[2]] != m[3] ||
				fourDecimals(m[3])-fourDecimals(m[4]) != fourDecimals(m[5]) {
				p.bad("not the difference")
			}
			section := func(s string) string { s, _, _ = strings.Cut(s, " "); return s }
			for name, cost := range p.costs {
				if fourDecimals(cost) < fourDecimals(m[4]) || section(name) != section(m[1]) &&
					(fourDecimals(cost) < fourDecimals(m[3]) || section(m[1]) == section(m[2])) {
					p.bad("%s is cheaper", name)
				}
			}
		}},
	{`^Cheapest: (.+)\. There is no other\.$`, func(p *pencil, m []string) {
		if len(p.costs) != 1 || p.costs[m[1]] == "" {
			p.bad("others are %v", p.costs)
		}
	}},
	{`^Worth nothing as they stand, so used first where they fit: (\d+ rack boards? \(.+\))\.$`,
		func(p *pencil, m []string) {
			before := p.rack // they stand among those that hold it already
			p.names(m[1])
			p.rack = before
		}},
	{`^Charged at its own rack value, whatever is cut from it: .+ at [\d.]+\.$`,
		func(*pencil, []string) {}},
	{`^ +(\d\S*(?: \d+/\d+"| mm| in)?)  +(\d\S*(?: \d+/\d+"| mm| in)?)  +(\d\S*(?: \d+/\d+"| mm| ` +
		`in)?)  +(\d+)  (\S.*?)  +(\S.*)$`,
		func(p *pencil, m []string) {
			n, _ := strconv.Atoi(m[4])
			if blank := p.len(m[2]); p.pieces == 0 || blank < p.shortest {
				p.shortest = blank
			}
			p.pieces += n
			if stop := p.len(m[1]); stop != p.finished[0] || p.len(m[2])-stop != p.len(m[3]) {
				p.bad("not blank less stop")
			}
			if m[5] == p.part && m[4] == p.qty {
				p.cuts++
			}
		}},
	{`^  It is shorter than the (.+) of \[safety\] shortest_blank: .+$`,
		func(p *pencil, m []string) {
			if p.length >= p.len(m[1]) {
				p.bad("it is not")
			}
		}},
	{`^  Short stock \((\d+) blanks? below shortest_blank, the shortest (.+)\): `,
		func(p *pencil, m []string) {
			if n, _ := strconv.Atoi(m[1]); n > p.pieces || p.len(m[2]) != p.shortest {
				p.bad("of %d blanks the shortest is %v", p.pieces, p.shortest)
			}
		}},
	// all final cuts listed are of one stop, as is judged there
	{`^  Stop block \(1 setting\): `, func(*pencil, []string) {}},
	{`^(Allowances: keys|Wood for one blank|What does not hold it|Nothing holds it|Final ` +
		`cuts|Cutting can maim)[^0-9]*$`,
		func(*pencil, []string) {}},
}

func (p *pencil) check(text string) {
	var forms []*regexp.Regexp
	all := append(madeSteps, steps...)
	for _, s := range all {
		forms = append(forms, regexp.MustCompile(s.form))
	}
lines:
	for _, p.line = range unwrap(text) {
		for n, f := range forms {
			if m := f.FindStringSubmatch(p.line); m != nil {
				all[n].work(p, m)
				continue lines
			}
		}
		if strings.ContainsAny(p.line, "0123456789") {
			p.bad("nobody recomputes it")
		}
	}
	for _, key := range []string{"length", "edge", "eased_edge", "thickness",
		"thickness_s2s"} {
		if p.added[key] && !p.used[key] {
			p.t.Errorf("%s is said to be added, and is not", key)
		}
	}
	if p.cuts != 1 {
		p.t.Errorf("the part stands %d times in the final cuts", p.cuts)
	}
}

// Each line of what explain says of a part is recomputed from the numbers printed, and every board
// and line of the yard is accounted for: an eased edge, a planed face by an allowance of the
// material, metric sections, a choice of sections with values of its own, a part that is short.
// Nine parts are of the demo: fir with eased edges and as wide as it comes, planed oak of random
// widths, poplar to be painted, pine of any section; a top, a leg and a shelf that are made up.
func TestExplainByPencil(t *testing.T) {
	demo := filepath.Join(t.TempDir(), "shop")
	if err := writeDemo(demo); err != nil {
		t.Fatal(err)
	}
	demo = filepath.Join(demo, "2027-03")
	choice := t.TempDir()
	for name, text := range map[string]string{
		"shop.toml": "currency = \"CAD\"\n[trim]\nrack_end = \"1/4\"\n[material.pine.allowance]\n" +
			"thickness = \"5mm\"\nplane_limit = \"1\"\n[offcut]\nvalue = 0.45\nkeep_length = 20\n",
		"parts.csv": "commission,part,qty,material,length,width,thickness,face\n" +
			"C-1,tray side,3,pine,311mm,3 1/4,1/2,hidden\n",
		"rack.csv": "board,material,section,length,qty,value\nA,pine,1x4,60,8,\n" +
			"B,pine,1x6,61,,7.77\nC,pine,1x6,14,,\nD,pine,1x6,13.9,,1.25\nE,pine,2x4,90,,\n" +
			"F,oak,2x4,90,,\n",
		"yard.csv": "material,section,length,price,available\npine,1x4,96,6.95,\n" +
			"pine,1x4,6',5.11,2\npine,1x6,120,14.35,\npine,1x8,96,19,0\n",
	} {
		if err := os.WriteFile(filepath.Join(choice, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	gluing := gluingJobs(t)
	jobs := "../../testdata/jobs/"
	for _, c := range []struct {
		dir, commission, part string
		unit                  model.Unit
		rack, yard            int
	}{
		{demo, "C-01 hall bench", "apron, long", model.Inch, 200, 58},
		{demo, "C-05 porch bench pair", "seat board", model.Inch, 200, 58},
		{demo, "C-02 kitchen table", "breadboard end", model.Inch, 200, 58},
		{demo, "C-02 kitchen table", "top", model.Inch, 200, 58},
		{demo, "C-02 kitchen table", "leg", model.Inch, 200, 58},
		{demo, "C-04 bookcase", "shelf", model.Inch, 200, 58},
		{demo, "C-07 storage wall", "plinth", model.Inch, 200, 58},
		{demo, "C-13 wardrobe frame", "drawer box side", model.Inch, 200, 58},
		{demo, "C-13 wardrobe frame", "cornice", model.Inch, 200, 58},
		{jobs + "mm-shop", "C-1 bed", "end rail", model.Millimetre, 2, 3},
		{jobs + "mm-shop", "C-1 bed", "bearer", model.Millimetre, 2, 3},
		{choice, "C-1", "tray side", model.Inch, 13, 4},
		{jobs + "short", "C-1 long shelf", "shelf", model.Inch, 1, 2},
		{gluing[0], "C-1", "top", model.Inch, 2, 7},
		{gluing[0], "C-1", "leg", model.Inch, 2, 7},
		{gluing[0], "C-1", "block", model.Inch, 2, 7},
		{gluing[0], "C-1", "side", model.Inch, 2, 7},
		{gluing[0], "C-1", "plug", model.Inch, 2, 7},
		{gluing[0], "C-1", "slab", model.Inch, 2, 7},
		{gluing[1], "C-1", "board", model.Millimetre, 0, 3},
		{gluing[1], "C-1", "beam", model.Millimetre, 0, 3},
		{gluing[1], "C-1", "knob", model.Millimetre, 0, 3},
	} {
		t.Run(c.part, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			if code := run(context.Background(), []string{"explain", c.dir, c.commission, c.part},
				&stdout, &stderr); code != exitDone {
				t.Fatalf("exit code %d: %s", code, &stderr)
			}
			p := &pencil{t: t, unit: c.unit, allowance: map[string]model.Length{},
				added: map[string]bool{}, used: map[string]bool{}, costs: map[string]string{}}
			p.check(stdout.String())
			if p.rack != c.rack || p.yard != c.yard {
				t.Errorf("%d boards and %d lines of the yard are accounted for, not %d and %d",
					p.rack, p.yard, c.rack, c.yard)
			}
			if t.Failed() {
				t.Log("\n" + stdout.String())
			}
		})
	}
}
