package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/cmd/webapp/engine"
	"github.com/stopcard/stopcard/testdata/demo"
)

// What is drawn in the browser is what the same engine draws outside it, to the byte:
// pages with findings and without, the proof, the buyer's sheet and the card.
func TestAppDrawsAsTheLibraryDoesInBrowser(t *testing.T) {
	a := openApp(t)
	files := demoFiles(t)
	a.tell(files)
	dir := t.TempDir()
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	var e engine.Engine
	for _, f := range files {
		if err := e.Add(context.Background(), f.name); err != nil {
			t.Fatal(err)
		}
	}
	for _, q := range []struct{ question, args string }{
		{"page", fmt.Sprintf(`{"path": %q}`, demo.Shown)},
		{"page", fmt.Sprintf(`{"path": %q}`, demo.Faulty)},
		{"picture", fmt.Sprintf(`{"path": %q, "width": 300}`, demo.Shown)},
		{"proof", `{}`},
		{"proof", `{"buyer": true}`},
		{"card-png", fmt.Sprintf(`{"path": %q, "paper": "hand"}`, demo.Shown)},
	} {
		want, err := e.Ask(context.Background(), q.question, []byte(q.args))
		if err != nil {
			t.Fatal(err)
		}
		eval[bool](a, fmt.Sprintf(`(() => { window.answer = null; stopcardAsk(%q, %s).then(b => {
			let text = "";
			for (let i = 0; i < b.length; i += 30000) text += String.fromCharCode(...b.subarray(i, i + 30000));
			window.answer = btoa(text); }, e => { window.answer = "error " + e.message; }); return true; })()`, q.question, q.args))
		a.until(q.question, `window.answer !== null`)
		said := eval[string](a, `window.answer`)
		got, err := base64.StdEncoding.DecodeString(said)
		if err != nil {
			t.Fatalf("%s %s: %.200s", q.question, q.args, said)
		}
		if !bytes.Equal(got, want.([]byte)) {
			t.Errorf("%s %s: %d bytes, outside the browser %d, and not the same", q.question, q.args, len(got), len(want.([]byte)))
		}
	}
	a.quiet()
}
