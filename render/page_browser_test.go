package render_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// browser finds a browser to drive. Where there is none the test is skipped, or
// fails if STOPCARD_NEED_BROWSER is set.
func browser(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	if os.Getenv("STOPCARD_NEED_BROWSER") != "" {
		t.Fatal("STOPCARD_NEED_BROWSER is set, but no Chromium is found")
	}
	t.Skip("no Chromium is found to open the page with")
	return ""
}

// A visit is one browser and what it complained of.
type visit struct {
	context.Context
	t        *testing.T
	mu       sync.Mutex
	trouble  []string
	requests []string
}

// visitPages starts a browser that ends with the test.
func visitPages(t *testing.T) *visit {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(browser(t)), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()))
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(cancel)
	ctx, _ = chromedp.NewContext(ctx)
	// A browser that closes by itself takes its own processes along.
	t.Cleanup(func() {
		if err := chromedp.Cancel(ctx); err != nil {
			t.Errorf("the browser did not close: %v", err)
		}
	})
	v := &visit{Context: ctx, t: t}
	if err := chromedp.Listen(ctx, v.note); err != nil {
		t.Fatal(err)
	}
	call(v, network.Enable, network.EnableParams{})
	return v
}

// note keeps what a page may not do: complain, ask for anything, open an alert.
func (v *visit) note(event any) {
	v.mu.Lock()
	defer v.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		v.trouble = append(v.trouble, fmt.Sprintf("console %s", e.Type))
	case *runtime.EventExceptionThrown:
		v.trouble = append(v.trouble, e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		v.trouble = append(v.trouble, e.Entry.Text)
	case *page.EventJavascriptDialogOpening:
		v.trouble = append(v.trouble, "alert "+e.Message)
	case *network.EventRequestWillBeSent:
		if u := e.Request.URL; !strings.HasPrefix(u, "data:") {
			v.requests = append(v.requests, u)
		}
	}
}

func (v *visit) do(actions ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	if err := chromedp.Do(v, actions...); err != nil {
		v.t.Fatal(err)
	}
}

// get runs an action and gives its value.
func get[T any](v *visit, action chromedp.Action[T]) T {
	v.t.Helper()
	out, err := chromedp.Run(v, action)
	if err != nil {
		v.t.Fatal(err)
	}
	return out
}

// eval gives the value of a script.
func eval[T any](v *visit, script string) T {
	v.t.Helper()
	return get(v, chromedp.Evaluate[T](script))
}

// call sends the browser a command of its protocol.
func call[P, R any](v *visit, command cdp.Command[P, R], params P) {
	v.t.Helper()
	if _, err := chromedp.Call(v, command, params); err != nil {
		v.t.Fatal(err)
	}
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
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, text := range v.trouble {
		v.t.Errorf("the browser reports: %s", text)
	}
	for _, u := range v.requests {
		if u != url && !strings.HasPrefix(u, url+"#") {
			v.t.Errorf("the page asks for %s", u)
		}
	}
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

// A person at the machine slides, ticks, leaves, comes back, enlarges and prints.
func TestPageInBrowser(t *testing.T) {
	v := visitPages(t)
	url := v.open([]render.PageItem{demoItem(t, demo.Shown)}, render.PageOptions{})
	v.fits("demo")
	v.legible("demo")

	picture := func() []byte { return get(v, chromedp.Screenshot(chromedp.CSS(".stage svg"))) }
	slide := func(n int) []byte {
		v.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(s => { s.value = %d; s.dispatchEvent(new Event('input', {bubbles: true})); })(document.querySelector('input[type=range]'))`, n)))
		return picture()
	}
	const layers = `[...document.querySelectorAll('.layer')].filter(e => getComputedStyle(e).display !== 'none').length`
	whole, seven := picture(), slide(7)
	if got := eval[int](v, layers); got != 7 {
		t.Errorf("%d layers at stop 7", got)
	}
	if bytes.Equal(whole, seven) {
		t.Error("the slider changes nothing on the picture")
	}
	v.do(chromedp.Focus(chromedp.CSS("input[type=range]")), chromedp.KeyEvent(kb.ArrowRight))
	if got := eval[int](v, layers); got != 8 {
		t.Errorf("%d layers after the arrow key at stop 7", got)
	}
	v.do(chromedp.Click(chromedp.CSS(".step[data-by='-1']")))
	if got := picture(); !bytes.Equal(got, seven) {
		t.Error("a stop forth and back gives another picture")
	}

	const ticked = `[...document.querySelectorAll('.tick input')].map((e, i) => e.checked ? i + 1 : 0).filter(n => n).join()`
	v.do(chromedp.Click(chromedp.CSS(".stop[data-stop='3'] .tick input")), chromedp.Reload())
	if got := eval[string](v, ticked); got != "3" {
		t.Errorf("ticked after coming back: %q, want 3", got)
	}
	if got := eval[string](v, `document.querySelector('.done').textContent`); got != "1 of 22 done." {
		t.Errorf("progress: %q", got)
	}
	v.do(chromedp.Click(chromedp.CSS(".clear")), chromedp.Reload())
	if got := eval[string](v, ticked); got != "" {
		t.Errorf("ticked after clearing: %q", got)
	}

	const isOpen = `document.querySelector('dialog').open && document.querySelectorAll('dialog svg').length === 1`
	v.do(chromedp.Focus(chromedp.CSS(".stop[data-stop='13'] .enlarge")), chromedp.KeyEvent(kb.Enter))
	if !eval[bool](v, isOpen) {
		t.Error("Enter does not enlarge a picture")
	}
	if dir := os.Getenv("STOPCARD_SHOTS"); dir != "" {
		v.keep(dir, "large.png", get(v, chromedp.CaptureScreenshot()))
	}
	v.do(chromedp.Click(chromedp.CSS("#closer")))
	const middle = `(() => {
	  const p = document.querySelector('#large-picture').getBoundingClientRect(), a = document.querySelector('#large-picture .line').getBoundingClientRect();
	  return p.width * 1.2 < document.querySelector('#large-picture svg').getBoundingClientRect().width && Math.hypot(a.x + a.width / 2 - p.x - p.width / 2, a.y + a.height / 2 - p.y - p.height / 2) < p.width / 4;
	})()`
	if !eval[bool](v, middle) {
		t.Error("the closer look is not at the stop")
	}
	if dir := os.Getenv("STOPCARD_SHOTS"); dir != "" {
		v.keep(dir, "closer.png", get(v, chromedp.CaptureScreenshot()))
	}
	v.do(chromedp.KeyEvent(kb.Escape))
	if eval[bool](v, `document.querySelector('dialog').open`) {
		t.Error("Escape does not close the enlarged picture")
	}
	if got := eval[string](v, `document.activeElement.className`); got != "enlarge" {
		t.Errorf("focus is lost to %q after closing", got)
	}
	v.prints("demo", 6)
	v.quiet(url)
}

// A browser may refuse to keep anything for a file.
func TestPageWithoutStorageInBrowser(t *testing.T) {
	v := visitPages(t)
	call(v, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: `Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('refused', 'SecurityError'); }})`,
	})
	url := v.open([]render.PageItem{demoItem(t, demo.Shown)}, render.PageOptions{})
	v.do(chromedp.Click(chromedp.CSS(".stop[data-stop='1'] .tick input")))
	if got := eval[string](v, `document.querySelector('.done').textContent`); got != "1 of 22 done." {
		t.Errorf("progress: %q", got)
	}
	v.quiet(url)
}

// Sizes and formats of one design: a section for each size, an index of all.
func TestPackPageInBrowser(t *testing.T) {
	v := visitPages(t)
	var items []render.PageItem
	for _, name := range []string{"kettle-100.dst", "kettle-100.pes", "kettle-125.pes", "kettle-150.jef", "kettle-150.pes", "kettle-150-faulty.dst"} {
		items = append(items, inHoop(demoItem(t, name), 130, 180))
	}
	url := v.open(items, render.PageOptions{Title: "Kettle pack"})
	v.fits("pack")
	v.legible("pack")
	if got := eval[string](v, `document.querySelector('details.design[open] .about').innerText`); !strings.Contains(got, "125 × 125 mm") {
		t.Errorf("the largest that fits the hoop is not open, but %q", got)
	}
	v.do(chromedp.Click(chromedp.CSS(".pack tbody tr:first-child a")))
	// The page hears of a new hash a moment after the click.
	opened := false
	for end := time.Now().Add(10 * time.Second); !opened && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		opened = eval[bool](v, `document.querySelector('#d1').open`)
	}
	if !opened {
		t.Error("an index entry does not open its design")
	}
	v.prints("pack", 14) // two designs are open
	v.quiet(url)
}

func TestFaultyPageInBrowser(t *testing.T) {
	v := visitPages(t)
	url := v.open([]render.PageItem{inHoop(demoItem(t, demo.Faulty), 100, 100)}, render.PageOptions{})
	v.fits("faulty")
	v.legible("faulty")
	v.prints("faulty", 8)
	if got := eval[int](v, `document.querySelectorAll('.finding').length`); got == 0 {
		t.Error("no finding is listed")
	}
	v.quiet(url)
}

// Nothing from a file is taken for markup, and nothing of it can be unseen.
func TestHostilePageInBrowser(t *testing.T) {
	v := visitPages(t)
	for i, name := range hostile {
		url := v.open([]render.PageItem{hostileItem(name), hostileItem("second " + name)}, render.PageOptions{Title: name})
		v.fits(fmt.Sprintf("hostile%d", i))
		if got := eval[int](v, `document.querySelectorAll('img, iframe, object, embed, link, script:not(body > script:last-child), style:not(head > style)').length`); got != 0 {
			t.Errorf("%.40q: %d foreign elements", name, got)
		}
		if got := eval[string](v, `document.body.innerText`); strings.ContainsAny(got, "\x00\x07\x1b\u202e\u2066\u200b") || !strings.Contains(got, "Stop by stop") {
			t.Errorf("%.40q: unseen characters, or no text", name)
		}
		v.quiet(url)
		v.requests = nil
	}
}

// Real designs, to be looked at.
func TestRealPagesInBrowser(t *testing.T) {
	const real = "../../shared/designs"
	if _, err := os.Stat(real); err != nil {
		t.Skip("no real stitch files are at hand; they are not part of the repository")
	}
	v := visitPages(t)
	for _, name := range []string{"oshw/OSHLogo.dst", "embroidery/krebs_plain.pes", "thread/FRAME_OUT1280.0_IN1180.0.pes", "samplers/muestraBordado.jef", "woven/Final_Jan_and_Feb__Jan_and_Feb.pes", "embroidered/3_8mm_pad.dst", "meta/rectangle_test.pes"} {
		d, err := stitchfile.Open(filepath.Join(real, name))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		r := mustRun(d, report.DefaultSettings())
		r.Path = name
		url := v.open([]render.PageItem{{Design: d, Report: r}}, render.PageOptions{})
		v.fits(strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)))
		v.quiet(url)
		v.requests = nil
	}
}

// inHoop is an item whose report was made for a hoop.
func inHoop(it render.PageItem, w, h float64) render.PageItem {
	s, path := *it.Report.Settings, it.Report.Path
	s.HoopWidthMM, s.HoopHeightMM = w, h
	it.Report = mustRun(it.Design, s)
	it.Report.Path = path
	return it
}
