package main

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// One stop at a time, at the machine, fills the window though the page stands in a
// frame, and gives the place back when it is closed.
func TestAppShowsOneStopInBrowser(t *testing.T) {
	a := shownDemo(t)
	a.do(chromedp.EmulateViewport(768, 900))
	eval[bool](a, `([...document.getElementById("page").contentDocument.querySelectorAll("button")].find(b => b.textContent === "One stop at a time").click(), true)`)
	a.until("one stop", `document.getElementById("page").contentDocument.getElementById("one").open`)
	a.until("the whole window", `(() => { const r = document.getElementById("page").getBoundingClientRect(); return r.top === 0 && r.left === 0 && r.width === innerWidth && r.height === innerHeight; })()`)
	if got := eval[bool](a, `document.getElementById("page").contentDocument.getElementById("one-done").getBoundingClientRect().bottom <= innerHeight`); !got {
		t.Error("the button to tick a stop is below the window")
	}
	eval[bool](a, `(document.getElementById("page").contentDocument.getElementById("one-close").click(), true)`)
	a.until("the page again", `!document.getElementById("page").classList.contains("whole")`)
	a.quiet()
}
