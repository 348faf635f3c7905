//go:build browser

package page

import (
	"bytes"
	"testing"

	"github.com/chromedp/chromedp"
)

// timed does something and waits until the next picture of it is there: how many milliseconds that
// takes.
func timed(what string) string {
	return `(async () => { const begun = performance.now(); ` + what + `;
		await new Promise(drawn => requestAnimationFrame(() => setTimeout(drawn)));
		return performance.now() - begun; })()`
}

// BenchmarkBrowserPage opens the page of some 10,000 pieces and reports the milliseconds until it
// is there, until its script has run, and those that a filter, a tick and a jump to its end take.
func BenchmarkBrowserPage(b *testing.B) {
	s := many(b)
	var out bytes.Buffer
	if err := Write(&out, s.job, s.plan, s.ways); err != nil {
		b.Fatal(err)
	}
	s.html = out.Bytes()
	ctx, url := tab(b), s.file(b)
	do(b, ctx, chromedp.EmulateViewport(1280, 900))
	sums := map[string]float64{}
	add := func(name, script string) {
		ms, err := chromedp.Run(ctx,
			chromedp.Evaluate[float64](script, chromedp.EvalAwaitPromise))
		if err != nil {
			b.Fatal(err)
		}
		sums[name] += ms
	}
	set := func(id, value string) string {
		return `{ const e = document.getElementById("` + id + `"); e.value = "` + value + `";
			e.dispatchEvent(new Event("input", { bubbles: true })); }`
	}
	n := 0.0
	for b.Loop() {
		n++
		do(b, ctx, chromedp.Navigate(url))
		add("ms-painted", `performance.getEntriesByName("first-contentful-paint")[0].startTime`)
		add("ms-loaded", `performance.getEntriesByType("navigation")[0].loadEventEnd`)
		do(b, ctx, js(`document.getElementById("boards").scrollIntoView()`))
		add("ms-jump", timed(`document.getElementById("proof").scrollIntoView()`))
		do(b, ctx, js(`document.getElementById("boards").scrollIntoView()`))
		add("ms-filter", timed(set("f-c", "3")))
		add("ms-words", timed(set("f-t", "leg")))
		add("ms-all", timed(`document.getElementById("filter").reset()`))
		add("ms-tick", timed(`document.querySelector(".pass input").click()`))
	}
	for name, ms := range sums {
		b.ReportMetric(ms/n, name)
	}
}
