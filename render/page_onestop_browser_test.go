package render_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/testdata/demo"
)

// inColumns lists texts that are broken into columns of a few letters: long, but
// no wider than three letters.
const inColumns = `(() => {
  const bad = [];
  for (const e of document.body.querySelectorAll('*')) {
    if (e.closest('svg, script, style, .unseen') || !e.checkVisibility()) continue;
    const text = [...e.childNodes].filter(n => n.nodeType === 3).map(n => n.data.trim()).join(' ').trim();
    if (text.length < 5) continue;
    const range = document.createRange();
    range.selectNodeContents(e);
    const w = Math.max(...[...range.getClientRects()].map(r => r.width)), size = parseFloat(getComputedStyle(e).fontSize);
    if (w < 3 * 0.5 * size) bad.push(e.tagName + '.' + e.className + ' ' + text.slice(0, 30) + ' ' + Math.round(w));
  }
  return bad;
})()`

// large sets the page in letters of twice the usual size.
func (v *visit) large(name string) {
	v.t.Helper()
	v.size(360)
	v.do(chromedp.Evaluate[chromedp.Void](`document.documentElement.style.fontSize = '200%'`))
	if got := eval[int64](v, `document.documentElement.scrollWidth`); got > 360 {
		v.t.Errorf("%s at 200 %%: %d pixels wide on a screen of 360", name, got)
	}
	for _, text := range eval[[]string](v, inColumns) {
		v.t.Errorf("%s at 200 %%: letters in columns: %s", name, text)
	}
	v.shot(name + "-200")
	v.do(chromedp.Evaluate[chromedp.Void](`document.documentElement.style.fontSize = ''`))
}

// screen keeps a picture of what the screen shows.
func (v *visit) screen(name string) {
	v.t.Helper()
	if dir := os.Getenv("STOPCARD_SHOTS"); dir != "" {
		v.keep(dir, name+".png", get(v, chromedp.CaptureScreenshot()))
	}
}

// A person with large letters reads all of the page on a phone.
func TestLargeTypeInBrowser(t *testing.T) {
	v := visitPages(t)
	for _, name := range []string{demo.Shown, demo.Faulty} {
		url := v.open([]render.PageItem{demoItem(t, name)}, render.PageOptions{})
		v.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll('details').forEach(d => { d.open = true; })`))
		v.large(strings.TrimSuffix(strings.TrimSuffix(name, ".pes"), ".dst"))
		v.do(chromedp.Evaluate[chromedp.Void](`document.documentElement.style.fontSize = '200%'`), chromedp.Click(chromedp.CSS(".go-one")))
		if got := eval[int64](v, `Math.max(document.getElementById('one').scrollWidth, document.getElementById('one-stop').scrollWidth)`); got > 360 {
			t.Errorf("one stop at 200 %%: %d pixels wide on a screen of 360", got)
		}
		for _, text := range eval[[]string](v, inColumns) {
			t.Errorf("one stop at 200 %%: letters in columns: %s", text)
		}
		if got := eval[int](v, `(r => { r.selectNodeContents(document.getElementById('one-done')); return r.getClientRects().length; })(document.createRange())`); got != 1 {
			t.Errorf("one stop at 200 %%: Done is on %d lines", got)
		}
		v.screen(name + "-one-200")
		v.quiet(url)
	}
}

// At the machine: one stop at a time, by button, by key and by swipe.
func TestOneStopInBrowser(t *testing.T) {
	v := visitPages(t)
	url := v.open([]render.PageItem{demoItem(t, demo.Shown)}, render.PageOptions{})
	v.size(360)
	text := func(css string) string {
		return eval[string](v, fmt.Sprintf(`document.querySelector(%q).textContent`, css))
	}
	at := func(want string) {
		t.Helper()
		if got := text(".one-number"); got != want {
			t.Fatalf("at stop %s, want %s", got, want)
		}
	}
	v.do(chromedp.Click(chromedp.CSS(".stop[data-stop='1'] .tick input")), chromedp.Click(chromedp.CSS(".go-one")))
	at("2") // the first that is not done
	if got := text(".one-first"); !strings.Contains(got, "LAY block cloth") {
		t.Errorf("before stop 2: %q", got)
	}
	if got := text(".one-role"); !strings.HasPrefix(got, "Cloth hold-down, ") && !strings.HasPrefix(got, "cloth hold-down, ") || !strings.HasSuffix(got, "; any thread will do") {
		t.Errorf("stop 2 is %q", got)
	}
	if got := text(".one-next"); !strings.Contains(got, "stop 4") || !strings.Contains(got, "LAY piece 1") {
		t.Errorf("next after stop 2: %q", got)
	}
	v.screen("one-stop")
	v.do(chromedp.Click(chromedp.CSS("#one-done")))
	at("3")
	v.do(chromedp.KeyEvent(kb.ArrowRight))
	at("4")
	if got := text("#one-say"); !strings.Contains(got, "Stop 4") || !strings.Contains(got, "HOOP OFF, TRIM") || !strings.Contains(got, "LAY piece 1") {
		t.Errorf("said of stop 4: %q", got)
	}
	if got := eval[string](v, `document.getElementById('one-say').getAttribute('aria-live')`); got != "polite" {
		t.Errorf("the stop is announced %q", got)
	}
	swipe := func(from, to int) {
		v.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => {
		  const area = document.getElementById('one-stop');
		  const touch = (type, x) => area.dispatchEvent(new TouchEvent(type, {bubbles: true, changedTouches: [new Touch({identifier: 1, target: area, clientX: x, clientY: 300})]}));
		  touch('touchstart', %d); touch('touchend', %d);
		})()`, from, to)))
	}
	swipe(300, 80)
	at("5")
	swipe(80, 300)
	at("4")
	swipe(200, 180) // a slip of the finger
	at("4")
	if got := eval[string](v, `[...document.querySelectorAll('.tick input')].map((e, i) => e.checked ? i + 1 : 0).filter(n => n).join()`); got != "1,2" {
		t.Errorf("ticked: %s, want 1,2: only Done ticks", got)
	}
	// Big enough for a thumb that does not look: 9 mm at 160 pixels to the inch.
	if got := eval[float64](v, `document.getElementById('one-done').getBoundingClientRect().height`); got < 57 {
		t.Errorf("Done is %.0f pixels tall", got)
	}
	v.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll('.tick input').forEach(e => { e.checked = true; })`))
	for range 19 {
		v.do(chromedp.Click(chromedp.CSS("#one-done")))
	}
	if got := text(".one-next"); got != "All stops are done." {
		t.Errorf("at the end: %q", got)
	}
	v.do(chromedp.Click(chromedp.CSS("#one-close")))
	if eval[bool](v, `document.getElementById('one').open`) {
		t.Error("the mode does not close")
	}
	v.do(chromedp.Reload())
	if got := eval[string](v, `document.querySelector('.done').textContent`); got != "22 of 22 done." {
		t.Errorf("after coming back: %q", got)
	}
	v.quiet(url)
}

// The screen is kept awake while the mode is open, and no longer.
func TestOneStopKeepsAwakeInBrowser(t *testing.T) {
	v := visitPages(t)
	v.open([]render.PageItem{demoItem(t, demo.Shown)}, render.PageOptions{})
	v.do(chromedp.Evaluate[chromedp.Void](`(() => {
	  window.held = 0;
	  const lock = () => { window.held++; return Promise.resolve({addEventListener() {}, release() { window.held--; return Promise.resolve(); }}); };
	  Object.defineProperty(navigator, 'wakeLock', {value: {request: lock}});
	})()`), chromedp.Click(chromedp.CSS(".go-one")))
	held := func(want int) {
		t.Helper()
		got := -1
		for end := time.Now().Add(5 * time.Second); got != want && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			got = eval[int](v, `window.held`)
		}
		if got != want {
			t.Errorf("%d locks are held, want %d", got, want)
		}
	}
	held(1)
	v.do(chromedp.Click(chromedp.CSS("#one-close")))
	held(0)
}

// Ticks that were cleared by mistake come back.
func TestUndoInBrowser(t *testing.T) {
	v := visitPages(t)
	url := v.open([]render.PageItem{demoItem(t, demo.Shown)}, render.PageOptions{})
	const ticked = `[...document.querySelectorAll('.tick input')].map((e, i) => e.checked ? i + 1 : 0).filter(n => n).join()`
	hidden := func() bool { return eval[bool](v, `document.querySelector('.undo').hidden`) }
	if !hidden() {
		t.Error("there is something to undo at first")
	}
	for _, n := range []int{1, 2, 5} {
		v.do(chromedp.Click(chromedp.CSS(fmt.Sprintf(".stop[data-stop='%d'] .tick input", n))))
	}
	v.do(chromedp.Click(chromedp.CSS(".clear")))
	if got := eval[string](v, ticked); got != "" || hidden() {
		t.Errorf("after clearing: %q ticked, undo hidden %v", got, hidden())
	}
	v.do(chromedp.Click(chromedp.CSS(".undo")), chromedp.Reload())
	if got := eval[string](v, ticked); got != "1,2,5" {
		t.Errorf("after undoing and coming back: %q", got)
	}
	// A tick made after the clearing is the person's last word.
	v.do(chromedp.Click(chromedp.CSS(".clear")), chromedp.Click(chromedp.CSS(".stop[data-stop='7'] .tick input")))
	if !hidden() {
		t.Error("undo would lose a new tick")
	}
	v.quiet(url)
}

// Every printed sheet carries the title, and only the design that is open is
// printed, all its stops with it.
func TestPrintInBrowser(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("no pdftotext is found to read the print with; it is in poppler-utils")
	}
	v := visitPages(t)
	var items []render.PageItem
	for _, name := range []string{"kettle-100.pes", "kettle-125.pes", "kettle-150.pes"} {
		items = append(items, demoItem(t, name))
	}
	v.open(items, render.PageOptions{Title: "Kettle pack"})
	pdf := get(v, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
	cmd := exec.Command(tool, "-layout", "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	sheets := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
	for n, sheet := range sheets {
		if !strings.Contains(sheet, "Kettle and Pear") || !strings.Contains(sheet, "kettle-150.pes") {
			t.Errorf("sheet %d of %d has no title", n+1, len(sheets))
		}
	}
	for _, want := range []string{"Cloth outline", "Quilting"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is not printed", want)
		}
	}
	if strings.Contains(string(text), "kettle-100.pes") || strings.Contains(string(text), "125 × 125") {
		t.Error("a design that is folded up is printed")
	}
}

// One stop at a time, at the machine, of a file that is cut short: each says not to sew it,
// to the eye and to who listens. Of a whole one nothing is said.
func TestOneStopOfPartInBrowser(t *testing.T) {
	v := visitPages(t)
	for _, c := range []struct {
		damage *report.Damage
		whole  string
		want   string
	}{
		{&report.Damage{Message: "this file is cut short: only its first 900 stitches are there"}, "no", "DO NOT SEW: this file is cut short: only its first 900 stitches are there."},
		{nil, "no", "Look at the picture before you sew: this file may not be whole."},
		{nil, "yes", ""},
	} {
		it := demoItem(t, demo.Shown)
		it.Report.Damage, it.Report.Whole = c.damage, c.whole
		url := v.open([]render.PageItem{it}, render.PageOptions{})
		v.size(360)
		v.do(chromedp.Click(chromedp.CSS(".go-one")), chromedp.Click(chromedp.CSS("#one-on")))
		shown := `(e => e.checkVisibility() ? e.textContent : '')(document.querySelector('.one-partly'))`
		if got := eval[string](v, shown); got != c.want {
			t.Errorf("one stop says %q, want %q", got, c.want)
		}
		if got := eval[string](v, `document.getElementById('one-say').textContent`); !strings.HasPrefix(got, strings.TrimSpace(c.want+" Stop 2,")) {
			t.Errorf("said: %q", got)
		}
		v.screen("one-part-" + c.whole + fmt.Sprint(c.damage != nil))
		v.quiet(url)
	}
}
