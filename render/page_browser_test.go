package render_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

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
	if got := eval[string](v, `document.querySelector('details.design[open] .about').innerText`); !strings.Contains(got, "125.0 x 125.0 mm") {
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
