package main

import (
	"testing"

	"github.com/stopcard/stopcard/testdata/demo"
)

// Reading that does not stop by itself is cut off: what was read before is read again by
// a new engine, and what it was at is left out.
func TestAppCutsReadingOffInBrowser(t *testing.T) {
	a := shownDemo(t)
	// The fourth design is never asked for: so it looks from here when the engine is
	// stuck in it.
	eval[bool](a, `(() => { const send = Worker.prototype.postMessage; let left = 4;
		Worker.prototype.postMessage = function (m, ...rest) {
			if (m.packed) left = Infinity;
			if (m.question === "next" && --left <= 0) window.stuck = true;
			else send.call(this, m, ...rest);
		};
		return true; })()`)
	a.give(map[string][]byte{"pack.zip": packOf(t, 6)})
	a.until("the fourth", `window.stuck === true`)
	a.click("cancel")
	a.until("the word", `document.getElementById("said").textContent !== ""`)
	if got := eval[string](a, `document.getElementById("said").textContent`); got != "Reading was stopped. pack.zip is left out." {
		t.Errorf("it says %q", got)
	}
	a.until("the page", shown)
	if got := eval[string](a, `[...document.querySelectorAll("#rows button")].map(b => b.textContent).join()`); got != demo.Shown {
		t.Errorf("kept are %q", got)
	}
	a.give(map[string][]byte{"pack.zip": packOf(t, 2)})
	a.until("the pack", `document.getElementById("rows").children.length === 3`)
	a.until("its page", shown)
	a.quiet()
}
