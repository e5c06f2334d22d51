package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/testdata/demo"
)

// hand acts as a person's hand does, by the browser's own input, and counts what it does.
type hand struct {
	*app
	actions int
}

// drop drops a file on the middle of the window.
func (h *hand) drop(path string) {
	h.t.Helper()
	h.actions++
	for _, kind := range []input.DispatchDragEventType{input.DispatchDragEventTypeDragEnter, input.DispatchDragEventTypeDragOver, input.DispatchDragEventTypeDrop} {
		if _, err := chromedp.Call(h, input.DispatchDragEvent, input.DispatchDragEventParams{Type: kind, X: 640, Y: 300,
			Data: &input.DragData{Items: []*input.DragDataItem{}, Files: []string{path}, DragOperationsMask: 1}}); err != nil {
			h.t.Fatal(err)
		}
	}
}

// Files and folders that are dropped are read with all that lies in them.
func TestAppTakesWhatIsDroppedInBrowser(t *testing.T) {
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	h := &hand{app: openApp(t)}
	dir := filepath.Join(t.TempDir(), "pack")
	for _, name := range []string{"one.pes", "b/two.pes", "a/three.pes"} {
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	h.drop(dir)
	h.until("the page", shown)
	if got := eval[string](h.app, `[...document.querySelectorAll("#rows button")].map(b => b.textContent).join()`); got != "pack/a/three.pes,pack/b/two.pes,pack/one.pes" {
		t.Errorf("of a folder it reads %q, saying %q", got, eval[string](h.app, `document.getElementById("said").textContent`))
	}
	h.quiet()
}

// press presses a button where it stands. One that is out of the window has to be brought
// into it first, which is an action too.
func (h *hand) press(id string) {
	h.t.Helper()
	in := `(() => { const r = document.getElementById("` + id + `").getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2, r.height > 0 && r.top >= 0 && r.bottom <= innerHeight ? 1 : 0]; })()`
	at := eval[[]float64](h.app, in)
	if at[2] == 0 {
		h.actions++
		eval[bool](h.app, `(document.getElementById("`+id+`").scrollIntoView(), true)`)
		at = eval[[]float64](h.app, in)
	}
	h.actions++
	h.do(chromedp.MouseClickXY(at[0], at[1]))
}

// From the drop to the printed card it is three actions: the file is dropped, one button
// pressed, and what comes is printed by another. No place of the page has to be looked for.
func TestAppIsThreeActionsFromThePrintedCardInBrowser(t *testing.T) {
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	for _, way := range []string{"card-pdf", "print"} {
		t.Run(way, func(t *testing.T) {
			h := &hand{app: openApp(t)}
			dir := t.TempDir()
			name := filepath.Join(dir, demo.Shown)
			if err := os.WriteFile(name, data, 0o644); err != nil {
				t.Fatal(err)
			}
			if err := chromedp.FromContext(h).Browser.Call(context.Background(), browser.CommandSetDownloadBehavior,
				browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir}, new(cdp.Empty)); err != nil {
				t.Fatal(err)
			}
			h.drop(name)
			h.until("the page", shown)
			eval[bool](h.app, `(() => { window.printed = 0; document.getElementById("page").contentWindow.print = () => { window.printed++; }; return true; })()`)
			h.press(way)
			if way == "print" {
				h.until("the print", `window.printed === 1`)
			} else {
				card := filepath.Join(dir, strings.TrimSuffix(demo.Shown, ".pes")+"-card.pdf")
				for end := time.Now().Add(30 * time.Second); ; time.Sleep(50 * time.Millisecond) {
					got, _ := os.ReadFile(card)
					if bytes.HasPrefix(got, []byte("%PDF-")) && bytes.HasSuffix(bytes.TrimSpace(got), []byte("%%EOF")) {
						break
					}
					if time.Now().After(end) {
						t.Fatal("no card was saved")
					}
				}
			}
			h.actions++ // the button of the browser's own view of what is to be printed
			if h.actions > 3 {
				t.Errorf("%d actions from the drop to the printed card, not three", h.actions)
			}
			h.quiet()
		})
	}
}
