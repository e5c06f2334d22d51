package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/testdata/demo"
)

// shownDemo opens the page with the demo in it.
func shownDemo(t *testing.T) *app {
	t.Helper()
	a := openApp(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	a.give(map[string][]byte{demo.Shown: data})
	a.until("the page of the demo", shown)
	return a
}

// Letters of twice the size on a phone's width stand out nowhere, also where all that
// can be opened is open.
func TestAppInLargeLettersInBrowser(t *testing.T) {
	a := shownDemo(t)
	a.do(chromedp.EmulateViewport(360, 800))
	eval[bool](a, `(() => { document.documentElement.style.fontSize = "200%";
		for (const d of document.querySelectorAll("details")) d.open = true;
		document.getElementById("whatif-form").requestSubmit(); return true; })()`)
	a.until("what if", `document.getElementById("whatif").children.length > 0`)
	a.shot("large", 360)
	a.do(chromedp.EmulateViewport(360, 800))
	if got := eval[string](a, `[...document.querySelectorAll("body *")].filter(e => e.getClientRects().length && !e.closest(".wide table, script") && e.getBoundingClientRect().right > 361)
		.map(e => e.tagName + "#" + e.id + "." + e.className + " to " + Math.round(e.getBoundingClientRect().right)).join("; ")`); got != "" {
		t.Errorf("stands out: %s", got)
	}
	if got := eval[int64](a, `document.documentElement.scrollWidth`); got > 360 {
		t.Errorf("%d pixels wide on a screen of 360", got)
	}
	a.quiet()
}

// The Tab key alone leads from the place to drop files to the card, and to everything
// else that can be worked.
func TestAppByKeyboardInBrowser(t *testing.T) {
	a := shownDemo(t)
	want := eval[string](a, `(() => { document.activeElement.blur(); for (const d of document.querySelectorAll("details")) d.open = true;
		return [...document.querySelectorAll("button, input, select, summary, iframe")].filter(e => e.getClientRects().length && !e.disabled && e.tabIndex >= 0)
			.map((e, i) => e.dataset.tab = e.id || e.tagName + i).join(" "); })()`)
	var got []string
	for range len(strings.Fields(want)) {
		a.do(chromedp.KeyEvent("\t"))
		got = append(got, eval[string](a, `document.activeElement.dataset.tab || document.activeElement.tagName`))
		if got[len(got)-1] == "page" {
			break
		}
	}
	order := strings.Join(got, " ")
	if !strings.HasPrefix(want, order) || !strings.HasSuffix(order, " page") || !strings.Contains(order, "choose ") || !strings.Contains(order, " card-pdf ") {
		t.Errorf("the keys lead through\n%s\nand the page has\n%s", order, want)
	}
	a.quiet()
}

// Whatever can be worked has a name for those who hear the page.
func TestAppNamesItsControlsInBrowser(t *testing.T) {
	a := shownDemo(t)
	eval[bool](a, `(() => { for (const d of document.querySelectorAll("details")) d.open = true; return true; })()`)
	tree, err := chromedp.Call(a, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	if err != nil {
		t.Fatal(err)
	}
	named := 0
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil {
			continue
		}
		role := strings.Trim(string(n.Role.Value), `"`)
		switch role {
		case "button", "textbox", "spinbutton", "combobox", "checkbox", "Iframe", "progressbar", "table", "form", "group", "region", "slider", "link":
		default:
			continue
		}
		name := ""
		if n.Name != nil {
			name = strings.Trim(string(n.Name.Value), `"`)
		}
		needs := role != "table" && role != "form" && role != "group" && role != "region"
		if needs && strings.TrimSpace(name) == "" {
			t.Errorf("a %s has no name: %s", role, n.NodeID)
		}
		if name != "" {
			named++
		}
	}
	if named < 30 {
		t.Errorf("only %d named controls were met", named)
	}
}

// packOf is a ZIP of so many copies of the demo.
func packOf(t *testing.T, n int) []byte {
	t.Helper()
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i := range n {
		w, err := z.CreateHeader(&zip.FileHeader{Name: fmt.Sprintf("block-%03d.pes", i), Method: zip.Store})
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// While a pack of 100 MB is read, of some 1,500 designs of 20,000 stitches, the page
// answers, and reading that is stopped keeps what was read.
func TestAppStopsReadingInBrowser(t *testing.T) {
	a := openApp(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "pack.zip")
	if err := os.WriteFile(name, packOf(t, 100_000_000/len(data)), 0o644); err != nil {
		t.Fatal(err)
	}
	eval[bool](a, `(() => { window.frozen = 0; let last = performance.now();
		setInterval(() => { const now = performance.now(); window.frozen = Math.max(window.frozen, now - last - 10); last = now; }, 10); return true; })()`)
	a.do(chromedp.SetUploadFiles(chromedp.CSS("#files"), []string{name}))
	a.until("some designs", `/^Read ([5-9]|[1-9][0-9]) /.test(document.getElementById("doing").textContent)`)
	a.until("their list", `document.getElementById("rows").children.length > 0`)
	if got := eval[float64](a, `window.frozen`); got > 200 {
		t.Errorf("for %.0f ms the page did not answer", got)
	} else {
		t.Logf("the page answered within %.0f ms", got)
	}
	a.click("cancel")
	a.until("the word", `document.getElementById("said").textContent.includes("stopped")`)
	a.until("the page", shown)
	if got := eval[int64](a, `document.getElementById("rows").children.length`); got < 5 || got > 100 {
		t.Errorf("%d designs are kept", got)
	}
	a.quiet()
}
