package render_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/browser"
	"github.com/stopcard/stopcard/testdata/demo"
)

// A visit is one browser that looks at pages.
type visit struct {
	*browser.Visit
	t *testing.T
}

// visitPages starts a browser that ends with the test.
func visitPages(t *testing.T) *visit {
	t.Helper()
	return &visit{browser.Start(t), t}
}

func (v *visit) do(actions ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	v.Do(actions...)
}

// get runs an action and gives its value.
func get[T any](v *visit, action chromedp.Action[T]) T {
	v.t.Helper()
	return browser.Get(v.Visit, action)
}

// eval gives the value of a script.
func eval[T any](v *visit, script string) T {
	v.t.Helper()
	return browser.Eval[T](v.Visit, script)
}

// call sends the browser a command of its protocol.
func call[P, R any](v *visit, command cdp.Command[P, R], params P) {
	v.t.Helper()
	browser.Call(v.Visit, command, params)
}

// open writes a page and goes there.
func (v *visit) open(items []render.PageItem, o render.PageOptions) (url string) {
	v.t.Helper()
	var b bytes.Buffer
	if err := render.Page(&b, items, o); err != nil {
		v.t.Fatal(err)
	}
	name := filepath.Join(v.t.TempDir(), "page.html")
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		v.t.Fatal(err)
	}
	url = "file://" + name
	v.size(1280)
	v.do(chromedp.Navigate(url))
	return url
}

func (v *visit) size(width int64) {
	v.t.Helper()
	v.do(chromedp.EmulateViewport(width, 800))
}

// shot keeps a picture of the whole page in the folder STOPCARD_SHOTS, if that is
// set, for a person to look at.
func (v *visit) shot(name string) {
	v.t.Helper()
	dir := os.Getenv("STOPCARD_SHOTS")
	if dir == "" {
		return
	}
	v.keep(dir, name+".png", get(v, chromedp.FullScreenshot(100)))
}

func (v *visit) keep(dir, name string, data []byte) {
	v.t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
		v.t.Fatal(err)
	}
}

// quiet fails the test if the page complained, or asked for more than itself.
func (v *visit) quiet(url string) {
	v.t.Helper()
	v.Quiet(func(u string) bool {
		return u == url || strings.HasPrefix(u, url+"#") || strings.HasPrefix(u, "data:")
	})
}

// fits fails the test if anything stands out of the page sideways.
func (v *visit) fits(name string) {
	v.t.Helper()
	for _, width := range []int64{360, 1280} {
		v.size(width)
		if got := eval[int64](v, `document.documentElement.scrollWidth`); got > width {
			v.t.Errorf("%s: %d pixels wide on a screen of %d", name, got, width)
		}
		v.shot(fmt.Sprintf("%s-%d", name, width))
	}
}

// prints fails the test if the page gives no paper, or endless paper.
func (v *visit) prints(name string, most int) {
	v.t.Helper()
	for paper, size := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
		pdf := get(v, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
		pages := bytes.Count(pdf, []byte("/Type /Page\n"))
		if pages < 1 || pages > most {
			v.t.Errorf("%s: %d pages of %s, want 1 to %d", name, pages, paper, most)
		}
		if dir := os.Getenv("STOPCARD_SHOTS"); dir != "" {
			v.keep(dir, name+"-"+paper+".pdf", pdf)
		}
	}
}

// lowContrast lists texts on the page that stand out less than 7:1 from their
// ground (WCAG 2.2, level AAA).
const lowContrast = `(() => {
  const parse = c => { const n = c.match(/[\d.]+/g).map(Number); return n.length > 3 ? n : [...n, 1]; };
  const lum = c => { const f = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; return 0.2126 * f(c[0]) + 0.7152 * f(c[1]) + 0.0722 * f(c[2]); };
  const bad = [];
  let seen = 0;
  for (const e of document.body.querySelectorAll('*')) {
    if (e.closest('svg, script, style') || !e.checkVisibility()) continue;
    if (![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    let g = e;
    while (g && parse(getComputedStyle(g).backgroundColor)[3] < 1) g = g.parentElement;
    const p = lum(parse(getComputedStyle(e).color)), q = lum(g ? parse(getComputedStyle(g).backgroundColor) : [255, 255, 255]);
    const ratio = (Math.max(p, q) + 0.05) / (Math.min(p, q) + 0.05);
    seen++;
    if (ratio < 7) bad.push(ratio.toFixed(2) + ' ' + e.tagName + '.' + e.className + ' ' + e.textContent.slice(0, 30));
  }
  return [seen + ' texts', ...bad];
})()`

func (v *visit) legible(name string) {
	v.t.Helper()
	for _, scheme := range []string{"light", "dark"} {
		call(v, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		bad := eval[[]string](v, lowContrast)
		if bad[0] == "0 texts" {
			v.t.Errorf("%s: no text is seen", name)
		}
		for _, text := range bad[1:] {
			v.t.Errorf("%s, %s: contrast %s", name, scheme, text)
		}
		if scheme == "dark" {
			v.shot(name + "-dark")
		}
	}
	call(v, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
}

// demoItem is one design of the demo.
func demoItem(t testing.TB, name string) render.PageItem {
	t.Helper()
	data, err := demo.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	dec := stitchfile.Decoder{Name: name}
	d, err := dec.DecodeBytes(data)
	if err != nil {
		t.Fatal(err)
	}
	r := mustRun(d, report.DefaultSettings())
	r.Path = name
	return render.PageItem{Design: d, Report: r}
}
