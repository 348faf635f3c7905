//go:build browser

package page

import (
	"context"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// tab opens a tab of a browser that knows nobody and fetches nothing.
func tab(t *testing.T) context.Context {
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
	ctx, over := context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(over)
	return ctx
}

// get evaluates a script in a tab.
func get[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatalf("%s: %v", script, err)
	}
	return out
}

func do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}
