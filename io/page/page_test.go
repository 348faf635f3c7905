package page

import (
	"bytes"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"rackwright/io/report"
	"rackwright/model"
	"rackwright/model/makeup"
)

// read parses a page as a browser without script does.
func read(t *testing.T, page []byte) *html.Node {
	t.Helper()
	root, err := html.ParseWithOptions(bytes.NewReader(page), html.ParseOptionEnableScripting(false))
	if err != nil {
		t.Fatal(err)
	}
	return root
}

// elements are those of a name; all where it is empty.
func elements(root *html.Node, name string) (out []*html.Node) {
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && (name == "" || n.Data == name) {
			out = append(out, n)
		}
	}
	return out
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// text is all that a node says, but for style and script.
func text(n *html.Node) string {
	var out strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.Data != "style" && d.Parent.Data != "script" {
			out.WriteString(d.Data)
		}
	}
	return out.String()
}

// byID finds an element; nil: there is none.
func byID(root *html.Node, id string) *html.Node {
	for _, n := range elements(root, "") {
		if attr(n, "id") == id {
			return n
		}
	}
	return nil
}

// words joins what stands between blanks by single ones.
func words(s string) string { return strings.Join(strings.Fields(s), " ") }

// Every board, part, commission, purchase, offcut, shortage and cut of a plan stands on its page.
func TestPageTellsAll(t *testing.T) {
	for name, s := range samples(t) {
		root, names := read(t, s.html), makeup.NamesOf(s.job)
		sections := map[string]string{}
		for _, n := range elements(root, "section") {
			sections[attr(n, "id")] = words(text(n))
		}
		has := func(section, what string) {
			t.Helper()
			if what = words(unbroken(model.Visible(what))); !strings.Contains(sections[section], what) {
				t.Errorf("%s: %s lacks %q", name, section, what)
			}
		}
		for _, x := range s.plan.Placements {
			has("boards", x.Board)
		}
		for _, c := range s.job.Commissions {
			has("costs", c.Name)
			has("costs", c.Note)
		}
		for _, p := range s.job.Parts {
			if p.Makes != nil && !makeup.IsSpare(&p) {
				has("costs", "× "+p.Makes.Part)
				continue
			}
			has("costs", fmt.Sprintf("%d × %s", p.Qty, p.Name))
		}
		for _, c := range s.plan.Cuts {
			switch c.Kind {
			case model.KindPart:
				has("boards", c.Commission+", "+names.Of(c.Commission, c.Part, c.Copy, "%s, copy %d"))
			case model.KindOffcut:
				has("offcuts", c.Offcut)
			}
		}
		for _, b := range s.plan.Rack { // an offcut goes back to the bin that the plan says
			if slices.ContainsFunc(s.plan.Cuts, func(c model.Cut) bool {
				return c.Offcut == b.ID
			}) && b.Bin != "" {
				in := b.Bin
				if !strings.HasPrefix(in, "bin ") {
					in = "bin " + in
				}
				has("offcuts", b.ID+", "+in)
			}
		}
		for _, b := range s.plan.Buy {
			has("buy", fmt.Sprintf("%d × %s %s", b.Qty, b.Material, b.Section))
			for _, id := range b.Boards {
				has("buy", id)
			}
		}
		for i := range s.plan.Shortages {
			for _, said := range report.Shortage(s.job, &s.plan.Shortages[i]) {
				has("short", said)
			}
		}
		for _, o := range s.plan.Order {
			has("work", o.Board)
			if o.Piece != "ripped span" { // the cut in words names what is in it
				has("work", names.Reword(o.Piece))
			}
		}
		if len(s.plan.Order) > 0 {
			for _, said := range report.Cautions(s.job, s.plan) {
				has("work", said)
			}
		}
		for _, said := range slices.Concat(report.Proof(s.job, s.plan),
			report.UseOfWood(s.job, s.plan)) {
			has("sum", strings.ReplaceAll(said, "`", ""))
		}
		if s.plan.Order != nil {
			for _, said := range report.OrderOfWork(s.plan) {
				has("work", strings.ReplaceAll(said, "`", ""))
			}
		}
		if boards := len(s.plan.Placements); len(elements(root, "figure")) < boards {
			t.Errorf("%s: %d figures for %d boards", name, len(elements(root, "figure")), boards)
		}
	}
}

// A page without a way to set it against says so; one without a plan is a page all the same.
func TestPageWithoutWays(t *testing.T) {
	s := planned(t, hardJob())
	s.ways = nil
	s.write(t)
	if root := read(t, s.html); !strings.Contains(text(byID(root, "sum")), "no time") {
		t.Error("nothing is said of the simple rules")
	}
	s.plan = &model.Plan{}
	s.write(t)
	if root := read(t, s.html); !strings.Contains(text(root), "Nothing to buy") ||
		byID(root, "work") != nil {
		t.Error("an empty plan has work")
	}
}

// The page is sound without any script: ids are there once, links lead somewhere, headings follow
// each other, each control has a name, and tables have headings.
func TestPageIsSound(t *testing.T) {
	for name, s := range samples(t) {
		root := read(t, s.html)
		ids := map[string]bool{}
		for _, n := range elements(root, "") {
			if id := attr(n, "id"); id != "" && ids[id] {
				t.Errorf("%s: id %s is there twice", name, id)
			} else {
				ids[id] = true
			}
		}
		level := 0
		labels := map[string]string{}
		for _, n := range elements(root, "label") {
			labels[attr(n, "for")] = text(n)
		}
		for _, n := range elements(root, "") {
			for _, key := range []string{"aria-labelledby", "data-of", "for"} {
				for _, id := range strings.Fields(attr(n, key)) {
					if !ids[id] {
						t.Errorf("%s: %s of a %s names %s, which is not there", name, key, n.Data, id)
					}
				}
			}
			switch n.Data {
			case "h1", "h2", "h3", "h4", "h5", "h6":
				now := int(n.Data[1] - '0')
				if now > level+1 || (now == 1) != (level == 0) || words(text(n)) == "" {
					t.Errorf("%s: h%d after h%d: %q", name, now, level, text(n))
				}
				level = now
			case "a":
				if to := attr(n, "href"); !strings.HasPrefix(to, "#") || !ids[to[1:]] ||
					words(text(n)) == "" {
					t.Errorf("%s: link %q to %q", name, text(n), to)
				}
			case "input", "select":
				said := labels[attr(n, "id")]
				if n.Parent.Data == "label" {
					said += text(n.Parent)
				}
				if words(said) == "" {
					t.Errorf("%s: %s %s has no name", name, n.Data, attr(n, "id"))
				}
			case "td":
				if attr(n, "data-h") == "" {
					t.Errorf("%s: cell %q has no heading", name, text(n))
				}
			case "svg":
				if attr(n, "role") != "img" || attr(n, "aria-label")+attr(n, "aria-labelledby") == "" {
					t.Errorf("%s: a picture has no name", name)
				}
			}
		}
	}
}

// Nothing on the page leads out of it, and nothing but its own script runs.
func TestPageKeepsToItself(t *testing.T) {
	for name, s := range samples(t) {
		root := read(t, s.html)
		for _, n := range elements(root, "") {
			switch n.Data {
			case "link", "img", "iframe", "object", "embed", "base", "image", "use", "foreignobject":
				t.Errorf("%s: there is a %s", name, n.Data)
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "src" ||
					strings.Contains(a.Val, "://") && a.Key != "xmlns" {
					t.Errorf("%s: a %s has %s=%q", name, n.Data, a.Key, a.Val)
				}
			}
		}
		if n := len(elements(root, "script")); n != 1 {
			t.Errorf("%s: %d scripts", name, n)
		}
		if n := len(elements(root, "style")); n != 1 {
			t.Errorf("%s: %d styles", name, n)
		}
		style, _ := parts.ReadFile("parts/page.css")
		if regexp.MustCompile(`url\(|@import|@font-face`).Match(style) {
			t.Error("the style fetches something")
		}
		if found := regexp.MustCompile(`[\x{202a}-\x{202e}\x{2066}-\x{2069}\x{2028}\x{2029}]`).
			Find(s.html); found != nil {
			t.Errorf("%s: the page has a sign that steers, %+q", name, found)
		}
	}
}

// Same input, same bytes. A plan of other cuts has another key.
func TestPageSameBytes(t *testing.T) {
	s := planned(t, hardJob())
	before := s.html
	s.write(t)
	if !bytes.Equal(s.html, before) {
		t.Error("the page of the same plan differs")
	}
	key := func() string { return attr(elements(read(t, s.html), "html")[0], "data-plan") }
	one := key()
	s.plan.Cuts[0].Board += "x"
	s.write(t)
	if one == key() || len(one) != 16 {
		t.Errorf("keys %s and %s", one, key())
	}
}

// Each cell of the cuts and of the buy list counts for the key.
func TestKeyKnowsEachCell(t *testing.T) {
	job := &model.Job{}
	of := func(c model.Cut, p model.Purchase) string {
		return keyOf(job, &model.Plan{Cuts: []model.Cut{{}, c}, Buy: []model.Purchase{p}})
	}
	var c model.Cut
	var p model.Purchase
	seen := map[string]string{of(c, p): "nothing"}
	for _, row := range []reflect.Value{reflect.ValueOf(&c).Elem(), reflect.ValueOf(&p).Elem()} {
		for i := range row.NumField() {
			name := fmt.Sprintf("%s.%s", row.Type(), row.Type().Field(i).Name)
			switch v := row.Field(i); v.Kind() {
			case reflect.String:
				v.SetString("x")
			case reflect.Bool:
				v.SetBool(true)
			case reflect.Slice:
				v.Set(reflect.ValueOf([]string{"x"}))
			default:
				v.SetInt(1)
			}
			key := of(c, p)
			if seen[key] != "" {
				t.Errorf("%s has the key of %s", name, seen[key])
			}
			seen[key] = name
			row.Field(i).SetZero()
		}
	}
	if job.Settings.Units = model.Millimetre; seen[of(c, p)] != "" {
		t.Error("the units do not count")
	}
}

// All classes that drawings use have a style.
func TestDrawingsHaveStyles(t *testing.T) {
	style, err := parts.ReadFile("parts/page.css")
	if err != nil {
		t.Fatal(err)
	}
	for name, s := range samples(t) {
		for _, n := range elements(read(t, s.html), "path") {
			for _, class := range strings.Fields(attr(n, "class")) {
				if !regexp.MustCompile(`\.` + class + `\b`).Match(style) {
					t.Fatalf("%s: class %s has no style", name, class)
				}
			}
		}
	}
}
