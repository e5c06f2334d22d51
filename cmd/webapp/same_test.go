package main

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/testdata/demo"
)

// file is one of those given, with its folders before its name.
type file struct {
	name string
	data []byte
}

// tell reads files in the page and gives the document that the page would save. Those
// that lie in a folder are given as the folder.
func (a *app) tell(files []file) string {
	a.t.Helper()
	var list, tops []string
	for _, f := range files {
		list = append(list, fmt.Sprintf(`{ name: %q, file: new File([Uint8Array.from(atob(%q), c => c.charCodeAt(0))], %q) }`,
			f.name, base64.StdEncoding.EncodeToString(f.data), path.Base(f.name)))
		if top, _, _ := strings.Cut(f.name, "/"); !slices.Contains(tops, top) {
			tops = append(tops, top)
		}
	}
	eval[bool](a, `(() => { window.answer = null; (async () => {
		await stopcardAsk("clear");
		await stopcardAsk("given", {}, [`+strings.Join(list, ",")+`]);
		for (const path of "`+strings.Join(tops, "|")+`".split("|")) await stopcardAsk("add", { path });
		return new TextDecoder().decode(await stopcardAsk("json"));
	})().then(text => { window.answer = text; }, e => { window.answer = "error " + e.message; }); return true; })()`)
	a.until("the JSON of "+strings.Join(tops, ", "), `window.answer !== null`)
	return eval[string](a, `window.answer`)
}

// stopcard is the command, built for the test.
func stopcard(t *testing.T) string {
	t.Helper()
	command := filepath.Join(t.TempDir(), "stopcard")
	if out, err := exec.Command("go", "build", "-o", command, "../stopcard").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return command
}

// same holds the page's document to the one that the command prints of the same files,
// and gives it.
func (a *app) same(command string, files ...file) string {
	a.t.Helper()
	dir := a.t.TempDir()
	args := []string{"check", "--json", "--settings", "none"}
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			a.t.Fatal(err)
		}
		if err := os.WriteFile(name, f.data, 0o644); err != nil {
			a.t.Fatal(err)
		}
		// Notes are not given to the command: it finds them.
		if top, _, _ := strings.Cut(f.name, "/"); !slices.Contains(args, top) && !strings.HasSuffix(top, ".notes.toml") {
			args = append(args, top)
		}
	}
	c := exec.Command(command, args...)
	c.Dir = dir
	want, err := c.Output() // its status tells of findings
	if len(want) == 0 {
		a.t.Fatalf("the command says nothing of %q: %v", args, err)
	}
	got := a.tell(files)
	if got != string(want) {
		i := 0
		for i < len(got) && i < len(want) && got[i] == want[i] {
			i++
		}
		a.t.Errorf("%q: differs at byte %d of %d: the page %.120q, the command %.120q", args[4:], i, len(want), got[max(0, i-60):], string(want[max(0, i-60):]))
	}
	return got
}

// demoFiles are the files of the demo.
func demoFiles(t *testing.T) []file {
	t.Helper()
	entries, err := demo.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var out []file
	for _, e := range entries {
		data, err := demo.Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, file{e.Name(), data})
	}
	return out
}

// zipped puts files into a ZIP.
func zipped(t *testing.T, files ...file) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range files {
		w, err := z.Create(f.name)
		if err == nil {
			_, err = w.Write(f.data)
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

// in puts files into a folder.
func in(folder string, files ...file) []file {
	var out []file
	for _, f := range files {
		out = append(out, file{folder + "/" + f.name, f.data})
	}
	return out
}

// The page's JSON is the command's, byte for byte: for each file of the demo and each
// real design at hand.
func TestAppSaysWhatTheCommandSaysInBrowser(t *testing.T) {
	a := openApp(t)
	command := stopcard(t)
	files := demoFiles(t)
	real, err := filepath.Glob(filepath.Join("..", "..", "..", "shared", "designs", "*", "*"))
	if err != nil {
		t.Fatal(err)
	}
	if len(real) == 0 {
		t.Log("no real designs at hand: only the demo was compared")
	}
	for _, path := range real {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file{filepath.Base(path), data})
	}
	for _, f := range files {
		a.same(command, f)
	}
	t.Logf("%d files compared", len(files))
	if len(real) > 0 {
		a.same(command, file{"real.zip", zipped(t, files...)})
		a.same(command, in("real", files...)...)
	}
	a.quiet()
}

// So it is for packs, folders and several files at once, where one lends another its
// colours and notes lie beside.
func TestAppReadsPacksAsTheCommandDoesInBrowser(t *testing.T) {
	a := openApp(t)
	command := stopcard(t)
	all := demoFiles(t)
	pack := file{"kettle.zip", zipped(t, all...)}
	a.same(command, pack)
	a.same(command, all...)
	a.same(command, in("kettle", all...)...)

	one := func(name string) file {
		i := slices.IndexFunc(all, func(f file) bool { return f.name == name })
		if i < 0 {
			t.Fatalf("the demo has no %s", name)
		}
		return all[i]
	}
	dst, pes := one("kettle-150.dst"), one("kettle-150.pes")
	lent := func(doc string) int {
		return strings.Count(doc, `"colours_from": "`) - strings.Count(doc, `"colours_from": ""`)
	}
	if got := a.same(command, dst); lent(got) != 0 {
		t.Error("colours come from nowhere")
	}
	for _, files := range [][]file{
		{dst, pes}, {pes, dst},
		{{"pair.zip", zipped(t, dst, pes)}},
		{{"deep.zip", zipped(t, file{"dst/" + dst.name, dst.data}, file{"pes/" + pes.name, pes.data})}},
		{{"outer.zip", zipped(t, file{"pair.zip", zipped(t, dst, pes)})}},
		in("pair", dst, pes),
		in("pair", file{"dst/" + dst.name, dst.data}, file{"pes/" + pes.name, pes.data}),
	} {
		if got := a.same(command, files...); lent(got) != 1 {
			t.Errorf("%s: colours are lent %d times", files[0].name, lent(got))
		}
	}
	a.same(command, file{"apart.zip", zipped(t, dst)}, pes) // what lies beside a pack lends nothing

	notes := file{"kettle-150.notes.toml", []byte("title = \"My pear\"\n[[stop]]\nnumber = 1\nrole = \"decoration\"\n")}
	wrong := file{notes.name, []byte("title = \n")}
	for _, files := range [][]file{
		{dst, notes}, {notes, dst}, {pack, notes},
		{{"noted.zip", zipped(t, dst, pes, notes)}},
		in("noted", dst, pes, notes),
	} {
		if got := a.same(command, files...); !strings.Contains(got, `"My pear"`) {
			t.Errorf("%s: the notes are not obeyed", files[0].name)
		}
	}
	a.same(command, in("wrong", dst, wrong)...)
	a.same(command, file{"letter.txt", []byte("Dear quilter,\n")}, file{"cut.pes", pes.data[:len(pes.data)/2]}, file{"empty.zip", zipped(t, notes)})
	a.same(command, in("mixed", dst, file{"readme.txt", []byte("Dear quilter,\n")}, file{"instructions.pdf", []byte("%PDF-1.7\n")})...)
	a.quiet()
}
