package main

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/testdata/browser"
	"github.com/stopcard/stopcard/testdata/demo"
)

// made is the page, built once for all tests.
var made = sync.OnceValues(func() ([]byte, error) {
	wasm, glue, err := buildEngine(context.Background())
	if err != nil {
		return nil, err
	}
	given, err := licences(context.Background())
	if err != nil {
		return nil, err
	}
	return assemble(wasm, glue, given)
})

// app is the page in a browser.
type app struct {
	*browser.Visit
	t   testing.TB
	url string
}

// openApp opens the page from a file, as a double click does.
func openApp(t testing.TB) *app {
	t.Helper()
	visit := browser.Start(t)
	page, err := made()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "stopcard.html")
	if err := os.WriteFile(name, page, 0o644); err != nil {
		t.Fatal(err)
	}
	a := &app{visit, t, "file://" + name}
	a.do(chromedp.EmulateViewport(1280, 900))
	a.do(chromedp.Navigate(a.url))
	return a
}

func (a *app) do(actions ...chromedp.Action[chromedp.Void]) {
	a.t.Helper()
	a.Do(actions...)
}

func eval[T any](a *app, script string) T {
	a.t.Helper()
	return browser.Eval[T](a.Visit, script)
}

// until waits for a script to be true.
func (a *app) until(what, script string) {
	a.t.Helper()
	for end := time.Now().Add(time.Minute); ; time.Sleep(20 * time.Millisecond) {
		if eval[bool](a, script) {
			return
		}
		if time.Now().After(end) {
			a.t.Fatalf("waited a minute for %s; said: %q, %v", what, eval[string](a, `document.getElementById("said").textContent`), a.Trouble())
		}
	}
}

// give puts files into the page as a person's choice does.
func (a *app) give(files map[string][]byte) {
	a.t.Helper()
	var list []string
	for name, data := range files {
		list = append(list, fmt.Sprintf("new File([Uint8Array.from(atob(%q), c => c.charCodeAt(0))], %q)", base64.StdEncoding.EncodeToString(data), name))
	}
	eval[bool](a, `(() => { const t = new DataTransfer(); for (const f of [`+strings.Join(list, ",")+`]) t.items.add(f);
		const i = document.getElementById("files"); i.files = t.files; i.dispatchEvent(new Event("change")); return true; })()`)
}

// json is the document that the page would save.
func (a *app) json() string {
	a.t.Helper()
	eval[bool](a, `(() => { window.answer = null; stopcardAsk("json").then(b => { window.answer = new TextDecoder().decode(b); }, e => { window.answer = "error " + e.message; }); return true; })()`)
	a.until("the JSON", `window.answer !== null`)
	return eval[string](a, `window.answer`)
}

// shot keeps a picture of the page in the folder STOPCARD_SHOTS, if that is set.
func (a *app) shot(name string, width int64) {
	a.t.Helper()
	dir := os.Getenv("STOPCARD_SHOTS")
	if dir == "" {
		return
	}
	a.do(chromedp.EmulateViewport(width, 900))
	data, err := chromedp.Run(a, chromedp.FullScreenshot(100))
	if err != nil {
		a.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, width)), data, 0o644); err != nil {
		a.t.Fatal(err)
	}
}

// quiet fails the test if the browser complained or anything was asked for.
func (a *app) quiet() {
	a.t.Helper()
	a.Quiet(func(u string) bool {
		return u == a.url || strings.HasPrefix(u, "data:") || strings.HasPrefix(u, "blob:") || strings.HasPrefix(u, "about:srcdoc")
	})
}

const shown = `!document.getElementById("shown").hidden && document.getElementById("work").hidden &&
	document.getElementById("page").contentDocument.querySelector(".design, h1") !== null`

func TestAppInBrowser(t *testing.T) {
	a := openApp(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	begin := time.Now()
	a.give(map[string][]byte{demo.Shown: data})
	a.until("the page of the demo", shown)
	t.Logf("from the choice to the page, cold: %v", time.Since(begin))
	for _, width := range []int64{360, 768, 1280} {
		a.shot("app", width)
		a.do(chromedp.EmulateViewport(width, 900))
		if got := eval[int64](a, `document.documentElement.scrollWidth`); got > width {
			t.Errorf("%d pixels wide on a screen of %d", got, width)
		}
	}
	a.quiet()
	var doc struct{ Designs []struct{ Path string } }
	if err := json.Unmarshal([]byte(a.json()), &doc); err != nil || len(doc.Designs) != 1 || doc.Designs[0].Path != demo.Shown {
		t.Errorf("%v, %+v", err, doc)
	}
}

// click clicks a button by its id.
func (a *app) click(id string) {
	a.t.Helper()
	eval[bool](a, fmt.Sprintf(`(document.getElementById(%q).click(), true)`, id))
}

// What a person corrects is obeyed, kept on the device, and can be taken back; the notes
// file that is saved says the same when it is given with the design.
func TestAppObeysCorrectionsInBrowser(t *testing.T) {
	a := openApp(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	a.give(map[string][]byte{demo.Shown: data})
	a.until("the page of the demo", shown)
	role := func() string {
		var doc struct {
			Designs []struct {
				Title string
				Stops []struct{ Role, Reason string }
			}
		}
		if err := json.Unmarshal([]byte(a.json()), &doc); err != nil {
			t.Fatal(err)
		}
		s := doc.Designs[0].Stops[0]
		return doc.Designs[0].Title + ": " + s.Role + ", " + s.Reason
	}
	before := role()
	eval[bool](a, `(() => { document.querySelector("#said-stops select").value = "decoration"; document.getElementById("title").value = "My pear"; return true; })()`)
	eval[bool](a, `(document.getElementById("correct-form").requestSubmit(), true)`)
	a.until("the correction", `document.getElementById("obeyed").textContent.startsWith("Obeyed")`)
	a.until("the page", shown)
	if got := role(); !strings.HasPrefix(got, "My pear: decoration, as you noted") {
		t.Errorf("corrected: %q", got)
	}
	eval[bool](a, `(() => { window.answer = null; stopcardAsk("notes", { path: "`+demo.Shown+`", said: { title: "My pear", stops: [{ number: 1, role: "decoration" }], pieces: [] } })
		.then(b => { window.answer = new TextDecoder().decode(b); }, e => { window.answer = "error " + e.message; }); return true; })()`)
	a.until("the notes", `window.answer !== null`)
	notes := eval[string](a, `window.answer`)

	// Put away and given again, the design is read as it was corrected.
	a.click("clear")
	a.until("nothing", `document.getElementById("shown").hidden`)
	a.give(map[string][]byte{demo.Shown: data})
	a.until("the page again", shown)
	a.until("what was said", `document.getElementById("obeyed").textContent.startsWith("Obeyed")`)
	a.click("take-back")
	a.until("all taken back", `document.getElementById("obeyed").textContent.startsWith("Nothing was said")`)
	if got := role(); got != before {
		t.Errorf("taken back: %q, was %q", got, before)
	}
	a.give(map[string][]byte{strings.TrimSuffix(demo.Shown, ".pes") + ".notes.toml": []byte(notes)})
	a.until("the notes file", `document.getElementById("obeyed").textContent.includes(".notes.toml")`)
	if got := role(); !strings.HasPrefix(got, "My pear: decoration, as you noted") {
		t.Errorf("by the notes file: %q", got)
	}
	a.click("proof")
	a.until("the proof", `document.getElementById("page").contentDocument.querySelector(".verdict") !== null`)
	if eval[bool](a, `document.getElementById("card-pdf").getClientRects().length + document.getElementById("whatif-form").getClientRects().length > 0`) {
		t.Error("beside the proof of all stands what is about one design")
	}
	a.quiet()
}

// A file that is no stitch file, and one that is cut, are told in words.
func TestAppTellsOfBrokenFilesInBrowser(t *testing.T) {
	a := openApp(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	a.give(map[string][]byte{"letter.txt": []byte("Dear quilter,\n"), "cut.pes": data[:len(data)/2]})
	a.until("the page", shown)
	if got := eval[string](a, `document.getElementById("lost").innerText`); !strings.Contains(got, "letter.txt") {
		t.Errorf("of the letter it says %q", got)
	}
	if got := eval[string](a, `document.getElementById("rows").innerText`); !strings.Contains(got, "damaged") {
		t.Errorf("of the cut file it says %q", got)
	}
	a.quiet()
}

// Settings and threads come as the command's files, are kept on the device, and are
// saved as a file that says the same.
func TestAppTakesSettingsInBrowser(t *testing.T) {
	a := openApp(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	a.give(map[string][]byte{
		"mine.toml":   []byte("hoop = \"big one\"\nspeed = 450\n[hoops]\n\"big one\" = \"6x10in\"\n"),
		"threads.csv": []byte("name,colour\npine,dark teal\nrose,pink\n"),
		demo.Shown:    data,
	})
	a.until("the page", shown)
	look := func(when string) {
		t.Helper()
		if got := eval[string](a, `document.getElementById("hoop").value + ", " + document.getElementById("speed").value + ", " + document.getElementById("box").textContent`); !strings.HasPrefix(got, "big one, 450, Your thread box has 2 threads") {
			t.Errorf("%s: %q", when, got)
		}
	}
	look("given")
	if got := eval[string](a, `document.getElementById("rows").innerText`); !strings.Contains(got, "fits") {
		t.Errorf("in the list: %q", got)
	}
	if got := a.json(); !strings.Contains(got, `"pine"`) {
		t.Error("no stop is told to take pine")
	}
	a.do(chromedp.Navigate(a.url))
	a.until("the settings kept", `document.getElementById("speed").value === "450"`)
	look("opened again")
	a.give(map[string][]byte{"wrong.toml": []byte("speed = 450\nspede = 3\n")})
	a.until("the complaint", `document.getElementById("said").textContent !== ""`)
	if got := eval[string](a, `document.getElementById("said").textContent`); !strings.Contains(got, "wrong.toml:2") || !strings.Contains(got, "speed") {
		t.Errorf("of a wrong file it says %q", got)
	}
	look("after a wrong file")
	a.quiet()
}
