package main

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/testdata/demo"
)

// watchPictures notes when files are chosen, and when the first picture, the page and the
// limits of resizing stand on the screen, in milliseconds since then.
const watchPictures = `(() => {
	window.seen = {};
	let from = 0;
	const note = (what) => requestAnimationFrame(() => requestAnimationFrame(() => { window.seen[what] ??= performance.now() - from; }));
	document.getElementById("files").addEventListener("change", () => { from = performance.now(); window.seen = {}; }, true);
	new MutationObserver(() => { if (!document.getElementById("first").hidden) note("picture"); }).observe(document.getElementById("first"), { attributes: true });
	document.getElementById("page").addEventListener("load", (event) => {
		const doc = event.target.contentDocument, limits = doc.querySelector(".resizing");
		if (!limits) return;
		note("page");
		new MutationObserver(() => { if (!limits.hidden) note("limits"); }).observe(limits, { attributes: true });
	});
	return true;
})()`

// From the choice of the 20,000-stitch demo to what a person sees: cold is a page that
// was opened that moment, warm one that has shown a design before.
func BenchmarkAppInBrowser(b *testing.B) {
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		b.Fatal(err)
	}
	for _, warm := range []bool{false, true} {
		b.Run(map[bool]string{false: "cold", true: "warm"}[warm], func(b *testing.B) {
			a := openApp(b)
			sums := map[string]float64{}
			for range b.N {
				if !warm {
					a.do(chromedp.Navigate(a.url))
				}
				eval[bool](a, watchPictures)
				if warm {
					a.give(map[string][]byte{"other.pes": data})
					a.until("the other", `window.seen.limits !== undefined`)
				}
				a.give(map[string][]byte{demo.Shown: data})
				a.until("all", `window.seen.limits !== undefined && window.seen.picture !== undefined && document.getElementById("shown-title").textContent === "`+demo.Shown+`"`)
				for what := range map[string]bool{"picture": true, "page": true, "limits": true} {
					sums[what] += eval[float64](a, fmt.Sprintf("window.seen[%q]", what))
				}
			}
			for what, sum := range sums {
				b.ReportMetric(sum/float64(b.N), "ms-to-"+what)
			}
			b.ReportMetric(0, "ns/op")
		})
	}
}
