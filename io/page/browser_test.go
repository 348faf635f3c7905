//go:build browser

package page

import (
	"context"
	_ "embed"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// The page in a browser. Contrast, names and the size of targets are judged by WCAG 2.2, level AA
// (w3.org/TR/WCAG22): 1.4.3, 1.4.10, 1.4.11, 2.5.8 and 4.1.2.

//go:embed testdata/look.js
var lookScript string

// tab opens a tab of a browser that knows nobody and fetches nothing.
func tab(t testing.TB) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("the Debian package chromium is not installed; `make browser` installs it")
	}
	ctx, stop := chromedp.NewExecAllocator(t.Context(), chromedp.ExecPath(path),
		chromedp.UserDataDir(t.TempDir()), chromedp.Headless, chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	t.Cleanup(stop)
	ctx, end := chromedp.NewContext(ctx)
	t.Cleanup(end)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal(err)
	}
	ctx, over := context.WithTimeout(ctx, 10*time.Minute)
	t.Cleanup(over)
	return ctx
}

// get evaluates a script in a tab.
func get[T any](t testing.TB, ctx context.Context, script string) T {
	t.Helper()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatalf("%.200s: %v", script, err)
	}
	return out
}

func do(t testing.TB, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// js has a script do something.
func js(script string) chromedp.Action[chromedp.Void] {
	return chromedp.Evaluate[chromedp.Void](script)
}

// look has the page in a tab looked at by a function of look.js, all of the page with everything in
// it.
func look(t testing.TB, ctx context.Context, what string) {
	t.Helper()
	if !get[bool](t, ctx, "!!window.look") {
		do(t, ctx, js(lookScript), js("look.everything()"), chromedp.Sleep(100*time.Millisecond))
	}
	found := get[[]string](t, ctx, "look."+what+"()")
	for n, wrong := range found {
		if n == 5 {
			t.Errorf("%s: and %d more", what, len(found)-n)
			break
		}
		t.Errorf("%s: %s", what, wrong)
	}
}

// media sets what the page is shown on, "screen" or "print", and the scheme "light" or "dark".
func media(t testing.TB, ctx context.Context, on, scheme string) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Media:    on,
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	if err != nil {
		t.Fatal(err)
	}
}

// file puts a page on the disk and gives its address.
func (s *sample) file(t testing.TB) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "report.html")
	if err := os.WriteFile(name, s.html, 0o666); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: name}).String()
}

// heard is what a tab said on its console and asked for.
type heard struct {
	sync.Mutex
	console, requests []string
	stop              context.CancelFunc
}

func listen(t testing.TB, ctx context.Context) *heard {
	t.Helper()
	h := &heard{}
	ctx, h.stop = context.WithCancel(ctx)
	err := chromedp.Listen(ctx, func(event any) {
		h.Lock()
		defer h.Unlock()
		switch e := event.(type) {
		case *runtime.EventConsoleAPICalled:
			h.console = append(h.console, fmt.Sprint(e.Type, e.Args))
		case *runtime.EventExceptionThrown:
			h.console = append(h.console, e.ExceptionDetails.Text)
		case *log.EventEntryAdded:
			h.console = append(h.console, e.Entry.Text)
		case *network.EventRequestWillBeSent:
			h.requests = append(h.requests, e.Request.URL)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// isQuiet: nothing was said, and nothing was asked for but the page.
func (h *heard) isQuiet(t testing.TB, url string) {
	t.Helper()
	h.stop()
	h.Lock()
	defer h.Unlock()
	if len(h.console) > 0 {
		t.Errorf("the console says %q", h.console)
	}
	if !slices.Equal(h.requests, []string{url}) {
		t.Errorf("requests %q", h.requests)
	}
}

// The page says nothing on the console, asks for nothing but itself, and no text overflows or is
// too faint, on a phone, on a screen and on paper, light and dark.
func TestBrowserLooks(t *testing.T) {
	ctx := tab(t)
	for name, s := range samples(t) {
		for _, as := range []struct {
			wide       int64
			on, scheme string
		}{{360, "screen", "light"}, {1280, "screen", "light"}, {1280, "screen", "dark"},
			{688, "print", "light"}} { // A4 less the margins
			t.Run(fmt.Sprint(name, " ", as.wide, " ", as.on, " ", as.scheme), func(t *testing.T) {
				url := s.file(t)
				said := listen(t, ctx)
				do(t, ctx, chromedp.EmulateViewport(as.wide, 900))
				media(t, ctx, as.on, as.scheme)
				do(t, ctx, chromedp.Navigate(url))
				for _, what := range []string{"overflow", "pictures", "contrast"} {
					look(t, ctx, what)
				}
				if as.on == "screen" {
					look(t, ctx, "targets")
				}
				drawn := get[int](t, ctx, `document.querySelectorAll("svg.drawing").length`)
				if drawn <= len(s.plan.Placements) && drawn > 1 {
					t.Errorf("%d drawings for %d boards", drawn, len(s.plan.Placements))
				}
				said.isQuiet(t, url)
			})
		}
	}
}
