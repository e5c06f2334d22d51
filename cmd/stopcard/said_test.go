package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/stitchfile"
)

// No output that is text holds anything that could steer a terminal, or turn the
// direction of what is read, whatever files and the names in them say.
func TestNothingRaw(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("such names are not possible here")
	}
	dir := t.TempDir()
	const odd = "a\u0085b\u009b31m\u202ec\u2066d\u200fe\u2028f"
	data := small(t, true)
	copy(data[3:19], "\x9b31m\u202e\u0085xx")
	pack := filepath.Join(dir, odd+".zip")
	writeZIP(t, pack, data, odd+".dst", odd+"/b.dst")
	paths := []string{write(t, dir, odd+".dst", data), write(t, dir, odd+"-bad.dst", []byte("bad")), pack}
	for _, args := range [][]string{
		{"check"}, {"check", "--json"}, {"check", "--lines"}, {"match"}, {"match", "--json"}, {"proof"}, {"proof", "--json"}, {"resize"}, {"resize", "--json"},
		{"gather", "--all"}, {"gather", "--all", "--json"}, {"gather", "--all", "--csv"}, {"page", "--all"}, {"cutlines"}, {"notes", "-o", "-"},
	} {
		work := t.TempDir()
		t.Chdir(work)
		_, stdout, stderr := try(t, "", append(args, paths...)...)
		texts := map[string]string{"stdout": stdout, "stderr": stderr}
		files, _ := os.ReadDir(work)
		for _, f := range files {
			text, err := os.ReadFile(f.Name())
			if err != nil {
				t.Fatal(err)
			}
			texts[f.Name()] = string(text)
		}
		for name, text := range texts {
			for i, r := range text {
				if !strings.ContainsRune("\n\t\r", r) && !unicode.IsGraphic(r) {
					t.Errorf("%q, %s: %q in %q", args, name, r, text[max(0, i-40):min(len(text), i+40)])
					break
				}
			}
		}
		if !strings.Contains(stderr, "bad") {
			t.Errorf("%q says nothing of what is bad: %s", args, stderr)
		}
	}
}

// What is wrong in a settings file or a plan is said in words of theirs.
func TestSettingsInWords(t *testing.T) {
	said := func(what, text, stderr string) {
		t.Helper()
		for _, word := range []string{"struct", "Go ", "main.", "map[", "interface", "strict mode", "TOML"} {
			if strings.Contains(stderr, word) {
				t.Errorf("%s %q: %q in %s", what, text, word, stderr)
			}
		}
	}
	file := write(t, t.TempDir(), "a.dst", small(t, false))
	for text, want := range map[string]string{
		"limits = 5": ":1: limits: expected", "hoops = \"4x4\"": ":1: hoops: expected", "speed = 700\nhoops = [1]": ":2: hoops: expected",
		"[[limits]]\nx = 1": "limits: expected", "[hoops]\na = true": ":2: a: expected", "limits = 1979-05-27": "limits: expected", "speed = {}": "speed: expected",
		"[hoops.a]\nb = 1": "expected", "thread = 3": "thread", "[limits]\nthin-cover = [1]": "thin-cover: expected",
	} {
		status, _, stderr := try(t, "", "check", "--settings", settingsFile(t, text), file)
		if status != exitUsage || !strings.Contains(stderr, want) {
			t.Errorf("settings %q: status %d, %s, want %s", text, status, stderr, want)
		}
		said("settings", text, stderr)
	}
	for text, want := range map[string]string{
		"columns = \"two\"": ":1: columns: expected a whole number", "seam = 6": "seam: expected a length", "block = 3": "block: expected [[block]]",
		"[[block]]\nfile = 3": ":2: file: expected", "[[block]]\nfile = \"a\"\ncount = 1.5": ":3: count: expected a whole number", "colums = 3": `no key "colums"`,
		"columns = -1": "columns",
	} {
		status, _, stderr := try(t, "", "gather", "--plan", settingsFile(t, text))
		if status != exitUsage || !strings.Contains(stderr, want) {
			t.Errorf("plan %q: status %d, %s, want %s", text, status, stderr, want)
		}
		said("plan", text, stderr)
	}
}

// Endless and huge inputs end with the size that is too much, whichever argument they are.
func TestEndless(t *testing.T) {
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip("there is no /dev/zero here")
	}
	file := write(t, t.TempDir(), "a.dst", small(t, false))
	for _, args := range [][]string{
		{"check", "/dev/zero"}, {"check", "--settings", "/dev/zero", file}, {"gather", "--plan", "/dev/zero"}, {"check", "--notes", "/dev/zero", file},
		{"check", "--thread-box", "/dev/zero", file},
	} {
		status, stdout, stderr := try(t, "", args...)
		if status == exitOK || stdout != "" || !strings.Contains(stderr, "more than") || !strings.Contains(stderr, "bytes") {
			t.Errorf("%v: status %d, %s%s", args, status, stdout, stderr)
		}
	}
}

// What is said of standard input is the same with check and without a verb, packs that are
// larger than a design may be among it.
func TestLargePackFromStdin(t *testing.T) {
	if testing.Short() {
		t.Skip("65 MB")
	}
	var pack bytes.Buffer
	z := zip.NewWriter(&pack)
	for name, data := range map[string][]byte{"a.dst": small(t, false), "photo.jpg": make([]byte, stitchfile.DefaultMaxBytes+1000)} {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		if err != nil {
			t.Fatal(err)
		}
		w.Write(data)
	}
	z.Close()
	t.Chdir(t.TempDir())
	for _, args := range [][]string{{"check", "-"}, {"-"}} {
		if status, stdout, stderr := try(t, pack.String(), args...); status != exitOK || !strings.Contains(stdout, "a.dst") {
			t.Errorf("%v: status %d, %s%s", args, status, stdout, stderr)
		}
	}
}

// Where nothing was read it is said what was passed over, and why.
func TestSkippedSaid(t *testing.T) {
	dir := t.TempDir()
	other := write(t, t.TempDir(), "a.dst", small(t, false))
	if err := os.Symlink(other, filepath.Join(dir, "linked.dst")); err != nil {
		t.Skip(err)
	}
	os.Mkdir(filepath.Join(dir, ".old"), 0o755)
	write(t, dir, "read.txt", []byte("text"))
	write(t, dir, "too.txt", []byte("text"))
	status, _, stderr := try(t, "", "check", dir)
	if status != exitUnreadable || !strings.Contains(stderr, "linked.dst is a link to another place") || !strings.Contains(stderr, ".old is a hidden folder") ||
		!strings.Contains(stderr, "read.txt is a document; and 1 more like it") {
		t.Errorf("status %d: %s", status, stderr)
	}
}

// Ten may be a tenth, or ten times.
func TestTenAsks(t *testing.T) {
	for by, want := range map[string]float64{"10%": 0.1, "10x": 10, "9": 9, "11": 0.11, "2x": 2} {
		c := &resizing{by: by}
		scale, err := c.target()
		if err != nil {
			t.Errorf("--by %s: %v", by, err)
		} else if got, _ := scale(100, 100); got != want {
			t.Errorf("--by %s: %g, want %g", by, got, want)
		}
	}
	file := write(t, t.TempDir(), "a.dst", small(t, false))
	for _, by := range []string{"10", "10.0", " 10 "} {
		if status, _, stderr := try(t, "", "resize", "--by", by, file); status != exitUsage || !strings.Contains(stderr, "10% or 10x") {
			t.Errorf("--by %q: status %d, %s", by, status, stderr)
		}
	}
}

// A document is printed even where nothing could be read, and names what could not.
func TestGatherNothing(t *testing.T) {
	dir := t.TempDir()
	bad, good := write(t, dir, "bad.dst", []byte("bad")), write(t, dir, "good.dst", small(t, false))
	pack := filepath.Join(dir, "p.zip")
	writeZIP(t, pack, []byte("bad"), "a.dst", "b.dst")
	for _, c := range []struct {
		args []string
		want []string
		made int
	}{
		{[]string{bad}, []string{bad}, 0}, {[]string{bad, good}, []string{bad}, 1}, {[]string{pack}, []string{pack + "/a.dst", pack + "/b.dst"}, 0},
	} {
		status, stdout, _ := try(t, "", append([]string{"gather", "--json"}, c.args...)...)
		var doc gather.Document
		if err := json.Unmarshal([]byte(stdout), &doc); err != nil || status != exitUnreadable || doc.Schema != gather.Schema {
			t.Fatalf("%v: status %d, %v: %s", c.args, status, err, stdout)
		}
		var got []string
		for _, u := range doc.Unreadable {
			got = append(got, u.Path)
		}
		if !slices.Equal(got, c.want) || len(doc.Gatherings) != c.made {
			t.Errorf("%v: %q, %d made", c.args, got, len(doc.Gatherings))
		}
	}
}

// A pack's page names what could not be read.
func TestPageNamesUnread(t *testing.T) {
	dir := t.TempDir()
	good, bad := write(t, dir, "good.dst", small(t, false)), write(t, dir, "b<i>ad.dst", []byte("bad"))
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args []string
		want bool
	}{{[]string{good, bad}, true}, {[]string{dir}, true}, {[]string{good}, false}} {
		if _, _, stderr := try(t, "", append([]string{"page", "--force", "-o", "x.html"}, c.args...)...); stderr == "" && c.want {
			t.Error("nothing was said")
		}
		text, err := os.ReadFile("x.html")
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(string(text), "What could not be read"); got != c.want || c.want && !strings.Contains(string(text), "b&lt;i&gt;ad.dst") {
			t.Errorf("%v: named %t, want %t", c.args, got, c.want)
		}
	}
}
