//go:build browser

package page

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rackwright/benchmarks"
	"rackwright/model"
)

// ripped is a job of several commissions, materials and bins.
func ripped(t *testing.T) *sample {
	t.Helper()
	return planned(t, benchmarks.FS(benchmarks.RipMonth(1, 120, benchmarks.Kerfs{})))
}

// press clicks on something once it has come into view and the drawings around it are there.
func press(t *testing.T, ctx context.Context, what string) {
	t.Helper()
	do(t, ctx, chromedp.ScrollIntoView(what), chromedp.Sleep(200*time.Millisecond),
		chromedp.Click(what))
}

// What is ticked stays ticked when the page is loaded again, and on no page of another plan. The
// pass says how much of it is done.
func TestBrowserRemembersTicks(t *testing.T) {
	ctx, s := tab(t), ripped(t)
	url := s.file(t)
	do(t, ctx, chromedp.Navigate(url))
	const ticked = `[...document.querySelectorAll("input:checked")].map(e => e.id)`
	if got := get[[]string](t, ctx, ticked); len(got) > 0 {
		t.Fatalf("%v is ticked from the start", got)
	}
	boxes := get[[]string](t, ctx, `[...document.querySelectorAll(".tick input")].map(e => e.id)`)
	first := get[string](t, ctx, `document.querySelector(".pass input").id`)
	want := []string{"y1", first}
	for _, id := range want {
		press(t, ctx, "#"+id)
	}
	done := get[string](t, ctx, `document.querySelector(".done").textContent`)
	if !strings.HasPrefix(done, "1 of ") || done == "1 of 1 done." {
		t.Errorf("the first pass says %q", done)
	}
	do(t, ctx, chromedp.Reload())
	if got := get[[]string](t, ctx, ticked); !slices.Equal(got, want) {
		t.Errorf("%v is ticked, not %v", got, want)
	}
	if again := get[string](t, ctx, `document.querySelector(".done").textContent`); again != done {
		t.Errorf("the first pass says %q", again)
	}
	press(t, ctx, "#y1")
	do(t, ctx, chromedp.Reload())
	if got := get[[]string](t, ctx, ticked); !slices.Equal(got, want[1:]) {
		t.Errorf("%v is ticked, not %v", got, want[1:])
	}
	wanted := len(s.plan.Buy)
	for _, c := range s.plan.Cuts {
		if c.Kind == model.KindOffcut {
			wanted++
		}
	}
	if work := get[int](t, ctx, `document.querySelectorAll(".pass input").length`); work == 0 ||
		len(boxes) != wanted+work {
		t.Errorf("%d boxes, %d of them in the order of work, for %d", len(boxes), work, wanted)
	}

	other := ripped(t)
	other.plan.Cuts[0].From++
	other.write(t)
	do(t, ctx, chromedp.Navigate(other.file(t)))
	if got := get[[]string](t, ctx, ticked); len(got) > 0 {
		t.Errorf("%v is ticked on the page of another plan", got)
	}
}

// Where the browser keeps nothing, ticks last as long as the page, and nothing goes wrong.
func TestBrowserKeepsNothing(t *testing.T) {
	ctx, s := tab(t), planned(t, hardJob())
	if _, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument,
		page.AddScriptToEvaluateOnNewDocumentParams{Source: `Object.defineProperty(window,
			"localStorage", { get() { throw new DOMException("no", "SecurityError"); } });`}); err != nil {
		t.Fatal(err)
	}
	url := s.file(t)
	said := listen(t, ctx)
	do(t, ctx, chromedp.Navigate(url), chromedp.Click("#y1"))
	if !get[bool](t, ctx, `document.getElementById("y1").checked`) {
		t.Error("it is not ticked")
	}
	if get[bool](t, ctx, `document.getElementById("filter").hidden`) {
		t.Error("there are no filters")
	}
	said.isQuiet(t, url)
}

// listed are the boards that the list shows.
const listed = `[...document.querySelectorAll("#list > li")].filter(e => e.checkVisibility())
	.map(e => e.querySelector("summary b").textContent)`

// The list of boards filters by commission, material, bin and words, says how many it shows, and
// shows a filtered board again when a link leads to it.
func TestBrowserFilters(t *testing.T) {
	ctx, s := tab(t), ripped(t)
	do(t, ctx, chromedp.Navigate(s.file(t)))
	v, err := newView(s.job, s.plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	filter := func(set string, fits func(b *board) bool) {
		t.Helper()
		do(t, ctx, js(`document.getElementById("filter").reset();`+set))
		var want []string
		for _, b := range v.Boards {
			if fits(b) {
				want = append(want, b.ID)
			}
		}
		if len(want) == 0 || len(want) == len(v.Boards) {
			t.Fatalf("%s: fits %d of %d", set, len(want), len(v.Boards))
		}
		if got := get[[]string](t, ctx, listed); !slices.Equal(got, want) {
			t.Errorf("%s: shown are %v, not %v", set, got, want)
		}
		found := get[string](t, ctx, `document.getElementById("found").textContent`)
		if found != fmt.Sprintf("%d of %d boards", len(want), len(v.Boards)) {
			t.Errorf("%s: %s", set, found)
		}
	}
	set := func(id, value string) string {
		return fmt.Sprintf(`{ const e = document.getElementById(%q); e.value = %q;
			e.dispatchEvent(new Event("input", { bubbles: true })); }`, id, value)
	}
	gives := func(b *board, commission int) bool {
		return slices.ContainsFunc(b.layout.Rows, func(c model.Cut) bool {
			return c.Commission == s.job.Commissions[commission].Name
		})
	}
	filter(set("f-c", "0"), func(b *board) bool { return gives(b, 0) })
	filter(set("f-m", "1"), func(b *board) bool { return b.layout.Material() == v.Materials[1] })
	bin := slices.Index(v.Bins, bought)
	filter(set("f-b", fmt.Sprint(bin)), func(b *board) bool {
		return b.layout.Origin() == model.FromYard
	})
	filter(set("f-c", "0")+set("f-b", fmt.Sprint(bin)), func(b *board) bool {
		return gives(b, 0) && b.layout.Origin() == model.FromYard
	})
	one := v.Boards[len(v.Boards)-1]
	filter(set("f-t", strings.ToUpper(one.ID)), func(b *board) bool { return b == one })
	do(t, ctx, js(fmt.Sprintf(`location.hash = %q`, v.Boards[0].Anchor)),
		chromedp.WaitVisible("#"+v.Boards[0].Anchor+" svg"))
	if got := get[[]string](t, ctx, listed); len(got) != len(v.Boards) {
		t.Errorf("a link to a board leaves %d shown", len(got))
	}
	do(t, ctx, js(set("f-t", "no such board")))
	if got := get[[]string](t, ctx, listed); len(got) > 0 {
		t.Errorf("%v shown", got)
	}
	press(t, ctx, "#filter button")
	do(t, ctx, chromedp.Sleep(50*time.Millisecond)) // the reset comes first, the filter after
	if got := get[[]string](t, ctx, listed); len(got) != len(v.Boards) {
		t.Errorf("after all, %d shown", len(got))
	}
}

// On paper every board is drawn and every commission told, nothing is hidden that is to be done,
// and what is for the screen alone is left out.
func TestBrowserPrints(t *testing.T) {
	ctx, s := tab(t), ripped(t)
	do(t, ctx, chromedp.Navigate(s.file(t)))
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(name, pdf, 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if errors.Is(err, exec.ErrNotFound) {
		t.Skip("the Debian package poppler-utils is not installed; `make readers` installs it")
	}
	if err != nil {
		t.Fatal(err)
	}
	packed := strings.Join(strings.Fields(string(out)), "")
	has := func(what string, least int) {
		t.Helper()
		what = strings.Join(strings.Fields(what), "")
		if n := strings.Count(packed, what); n < least {
			t.Errorf("%q is printed %d times, not %d", what, n, least)
		}
	}
	for _, x := range s.plan.Placements {
		has(x.Board, 2) // in the order of work, and in the list of boards
	}
	has("Marked end left", len(s.plan.Placements)) // once in each drawing
	for _, c := range s.job.Commissions {
		has(c.Name, 1)
	}
	for _, p := range s.job.Parts {
		has(p.Name, 1)
	}
	for _, screen := range []string{"Show all", "Skip to", "of 63 done"} {
		if strings.Contains(packed, strings.Join(strings.Fields(screen), "")) {
			t.Errorf("%q is printed", screen)
		}
	}
}

// Without script all is there to be read, drawings too; there are no filters.
func TestBrowserWithoutScript(t *testing.T) {
	ctx, s := tab(t), ripped(t)
	if _, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled,
		emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	do(t, ctx, chromedp.Navigate(s.file(t)))
	const drawn = `[...document.querySelectorAll("svg.drawing")]
		.filter(e => e.getBoundingClientRect().width > 100).length`
	if n := get[int](t, ctx, drawn); n != len(s.plan.Placements)+1 { // and the signs
		t.Errorf("%d drawings of %d boards are seen", n, len(s.plan.Placements))
	}
	if get[bool](t, ctx, `document.getElementById("filter").checkVisibility()`) {
		t.Error("there are filters that do nothing")
	}
}

// Who hears the page hears a name for whatever can be used, a state for each box, and landmarks.
func TestBrowserRoles(t *testing.T) {
	ctx, s := tab(t), planned(t, hardJob())
	do(t, ctx, chromedp.Navigate(s.file(t)), js(lookScript), js("look.everything()"))
	tree, err := chromedp.Call(ctx, accessibility.GetFullAXTree,
		accessibility.GetFullAXTreeParams{})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil {
			continue
		}
		role := strings.Trim(string(n.Role.Value), `"`)
		seen[role]++
		name := ""
		if n.Name != nil {
			name = strings.TrimSpace(strings.Trim(string(n.Name.Value), `"`))
		}
		switch role {
		case "checkbox", "button", "combobox", "searchbox", "link", "image", "img", "heading",
			"navigation", "DisclosureTriangle", "columnheader", "rowheader":
			if name == "" {
				t.Errorf("a %s has no name", role)
			}
		}
	}
	for _, role := range []string{"banner", "navigation", "main", "contentinfo", "checkbox",
		"combobox", "searchbox", "button", "table", "columnheader", "rowheader", "image", "region",
		"note", "status", "heading"} {
		if seen[role] == 0 {
			t.Errorf("there is no %s; there are %v", role, seen)
		}
	}
	if seen["main"] != 1 || seen["banner"] != 1 {
		t.Errorf("landmarks %v", seen)
	}
}

// focused is what has the focus: its name, and whether that is seen.
const focused = `(() => { const e = document.activeElement, s = getComputedStyle(e);
	return e.tagName + " " + e.id + (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2
		? " seen" : ""); })()`

// All is in reach of the keyboard, and the focus is seen.
func TestBrowserKeyboard(t *testing.T) {
	ctx, s := tab(t), planned(t, hardJob())
	do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(s.file(t)))
	press := func(key string) {
		t.Helper()
		do(t, ctx, chromedp.KeyEvent(key))
	}
	press(kb.Tab)
	if !get[bool](t, ctx, `document.activeElement.matches(".skip") &&
		document.activeElement.getBoundingClientRect().top >= 0`) {
		t.Error("the first stop is not the link past the contents, or it is not seen")
	}
	press(kb.Enter)
	if got := get[string](t, ctx, `document.activeElement.id`); got != "main" {
		t.Errorf("it leads to %q", got)
	}
	reached := map[string]bool{}
	for range 400 {
		press(kb.Tab)
		at := get[string](t, ctx, focused)
		if strings.HasPrefix(at, "BODY") || reached[at] && strings.Contains(at, "filter") {
			break
		}
		if !strings.HasSuffix(at, " seen") {
			t.Errorf("the focus is not seen on %s", at)
		}
		reached[strings.TrimSuffix(at, " seen")] = true
	}
	for _, id := range get[[]string](t, ctx, `[...document.querySelectorAll("input, select")]
		.map(e => e.tagName + " " + e.id)`) {
		if !reached[id] {
			t.Errorf("%s is out of reach", id)
		}
	}
	do(t, ctx, chromedp.Focus("#y1"))
	press(" ")
	if !get[bool](t, ctx, `document.getElementById("y1").checked`) {
		t.Error("the space bar does not tick")
	}
	do(t, ctx, chromedp.Focus("#list summary"))
	press(kb.Enter)
	if !get[bool](t, ctx, `document.querySelector("#list details").open`) {
		t.Error("the return key does not open a board")
	}
}
