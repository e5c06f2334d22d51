package main

import (
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/testdata/demo"
)

// tell reads one file in the page and gives the document that the page would save.
func (a *app) tell(name string, data []byte) string {
	a.t.Helper()
	eval[bool](a, fmt.Sprintf(`(() => { window.answer = null;
		const data = Uint8Array.from(atob(%q), c => c.charCodeAt(0)).buffer;
		stopcardAsk("clear").then(() => stopcardAsk("add", { name: %q }, data)).then(() => stopcardAsk("json"))
			.then(b => { window.answer = new TextDecoder().decode(b); }, e => { window.answer = "error " + e.message; }); return true; })()`,
		base64.StdEncoding.EncodeToString(data), name))
	a.until("the JSON of "+name, `window.answer !== null`)
	return eval[string](a, `window.answer`)
}

// The page's JSON is the command's, byte for byte: for the demo, a pack of it, and real
// designs where they are at hand.
func TestAppSaysWhatTheCommandSaysInBrowser(t *testing.T) {
	a := openApp(t)
	dir := t.TempDir()
	command := filepath.Join(dir, "stopcard")
	if out, err := exec.Command("go", "build", "-o", command, "../stopcard").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	files := map[string][]byte{}
	entries, err := demo.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if files[e.Name()], err = demo.Files.ReadFile(e.Name()); err != nil {
			t.Fatal(err)
		}
	}
	real, err := filepath.Glob(filepath.Join("..", "..", "..", "shared", "designs", "*", "*"))
	if err != nil {
		t.Fatal(err)
	}
	if len(real) == 0 {
		t.Log("no real designs at hand: only the demo was compared")
	}
	for _, path := range real {
		if files[filepath.Base(path)], err = os.ReadFile(path); err != nil {
			t.Fatal(err)
		}
	}
	for name, data := range files {
		alone := t.TempDir() // a file beside it might lend it colours
		if err := os.WriteFile(filepath.Join(alone, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
		c := exec.Command(command, "check", "--json", "--settings", "none", name)
		c.Dir = alone
		want, _ := c.Output() // its status tells of findings
		if got := a.tell(name, data); got != string(want) {
			i := 0
			for i < len(got) && i < len(want) && got[i] == want[i] {
				i++
			}
			t.Errorf("%s: differs at byte %d: the page %.80q, the command %.80q", name, i, got[max(0, i-20):], string(want[max(0, i-20):]))
		}
	}
	t.Logf("%d files compared", len(files))
	a.quiet()
}
