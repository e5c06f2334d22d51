package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
	"github.com/stopcard/stopcard/testdata/browser"
	"github.com/stopcard/stopcard/testdata/demo"
)

// rendererMB is the memory that the process of the page has for itself, as the system tells it
// (proc(5), status: RssAnon). What it shares, such as the pictures that the browser keeps
// decoded as long as there is room, is no part of it.
func rendererMB(a *app) float64 {
	a.t.Helper()
	browser.Call(a.Visit, heapprofiler.CollectGarbage, cdp.Empty{})
	var got systeminfo.GetProcessInfoResult
	if err := chromedp.FromContext(a).Browser.Call(context.Background(), systeminfo.CommandGetProcessInfo, cdp.Empty{}, &got); err != nil {
		a.t.Fatal(err)
	}
	most := 0.0
	for _, p := range got.ProcessInfo {
		if p.Type != "renderer" {
			continue
		}
		text, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.ID))
		var kB float64
		if _, after, ok := strings.Cut(string(text), "\nRssAnon:"); !ok {
			a.t.Skip("this system does not tell what memory a process has for itself")
		} else if _, err := fmt.Sscan(after, &kB); err != nil {
			a.t.Fatal(err)
		}
		most = max(most, kB/1024)
	}
	return most
}

// settledMB is rendererMB when it falls no more: what a worker had goes some time after it.
func settledMB(a *app) float64 {
	a.t.Helper()
	least, since := rendererMB(a), time.Now()
	for begin := since; time.Since(since) < 2*time.Second && time.Since(begin) < 20*time.Second; time.Sleep(200 * time.Millisecond) {
		if now := rendererMB(a); now < least-1 {
			least, since = now, time.Now()
		}
	}
	return least
}

// bigFill is a DST of a fill of about a million stitches.
func bigFill(t *testing.T) []byte {
	t.Helper()
	b := new(stitchtest.Builder)
	for range 16 {
		b.Fill(stitchtest.Rect(stitchtest.Point{}, 380, 280), 0.5, 3.5, 0).Trim()
	}
	data, err := stitchtest.Encode("DST", b.Design())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// What is put away gives its memory back, and what is given next is there as soon as if the
// page had just been opened.
func TestAppGivesMemoryBackInBrowser(t *testing.T) {
	a := shownDemo(t)
	a.click("clear")
	a.until("nothing", `document.getElementById("shown").hidden`)
	empty := settledMB(a)
	name := filepath.Join(t.TempDir(), "big.dst")
	if err := os.WriteFile(name, bigFill(t), 0o644); err != nil {
		t.Fatal(err)
	}
	a.do(chromedp.SetUploadFiles(chromedp.CSS("#files"), []string{name}))
	a.until("the large design", `document.getElementById("shown-title").textContent === "big.dst"`)
	a.until("its page", shown)
	large := rendererMB(a)
	if large < empty+60 {
		t.Fatalf("%.0f MB without a design, %.0f MB with a large one: too small for this test", empty, large)
	}
	a.click("clear")
	if !eval[bool](a, `document.getElementById("shown").hidden && document.getElementById("found").hidden`) {
		t.Error("what was put away is still shown")
	}
	var left float64
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(200 * time.Millisecond) {
		left = rendererMB(a)
		if left < empty+(large-empty)/3 || time.Now().After(end) {
			break
		}
	}
	t.Logf("without a design %.0f MB, with a large one %.0f, put away %.0f", empty, large, left)
	if left >= empty+(large-empty)/3 {
		t.Error("the memory of what was put away is kept")
	}
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	begin := time.Now()
	a.give(map[string][]byte{demo.Shown: data})
	a.until("the demo again", `document.getElementById("shown-title").textContent === "`+demo.Shown+`"`)
	a.until("its page again", shown)
	t.Logf("the demo given after that was shown in %v", time.Since(begin))
	a.quiet()
}

// Put away while it is read or drawn, all is gone at once, without a word of trouble, and the
// settings stay.
func TestAppPutsAwayAtAnyTimeInBrowser(t *testing.T) {
	a := shownDemo(t)
	eval[bool](a, `(() => { const s = document.getElementById("speed"); s.value = 450; s.dispatchEvent(new Event("change")); return true; })()`)
	a.until("the speed", shown)
	for _, when := range []string{`/^Read [2-9]/.test(document.getElementById("doing").textContent)`, `/^Drawing/.test(document.getElementById("doing").textContent)`} {
		a.give(map[string][]byte{"pack.zip": packOf(t, 4)})
		a.until(when, when)
		a.click("clear")
		a.click("clear")
		if !eval[bool](a, `["shown", "found", "work", "said"].every(id => document.getElementById(id).hidden)`) {
			t.Errorf("%s: put away, something is still shown", when)
		}
	}
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	a.give(map[string][]byte{demo.Shown: data})
	a.until("the demo", shown)
	if got := eval[string](a, `[...document.querySelectorAll("#rows button")].map(b => b.textContent).join() + document.getElementById("said").textContent`); got != demo.Shown {
		t.Errorf("after that there are %q", got)
	}
	if got := a.json(); !strings.Contains(got, `"speed_per_minute": 450`) {
		t.Error("the speed that was set is forgotten")
	}
	a.quiet()
}
