package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
	"github.com/stopcard/stopcard/testdata/demo"
)

// -o - writes what one file would hold to standard output, and nothing beside it.
func TestToStdout(t *testing.T) {
	file := demoFile(t, demo.Shown)
	for _, c := range []struct{ args, begins, ends string }{
		{"draw --width 64", "\x89PNG\r\n", "IEND\xaeB`\x82"}, {"cutlines", "<?xml", "</svg>\n"}, {"page", "<!doctype html>", "</html>"},
		{"card", "\x89PNG\r\n", "IEND\xaeB`\x82"}, {"card --pdf", "%PDF-", "%%EOF\n"}, {"proof", "<!DOCTYPE html>", "</html>"},
		{"draw --view template --pdf", "%PDF-", "%%EOF\n"}, {"notes", "#", "\n"},
	} {
		t.Chdir(t.TempDir())
		of := file
		if c.args == "card" {
			data, err := stitchtest.Encode("DST", &stitchfile.Design{Moves: []stitchfile.Move{{Kind: stitchfile.Jump}, {Kind: stitchfile.End}}})
			if err != nil {
				t.Fatal(err)
			}
			of = write(t, filepath.Dir(file), "empty.dst", data) // on one sheet
		}
		args := append(strings.Fields(c.args), "-o", "-", of)
		status, stdout, stderr := try(t, "", args...)
		if !strings.HasPrefix(stdout, c.begins) || !strings.HasSuffix(strings.TrimRight(stdout, "\n"), strings.TrimRight(c.ends, "\n")) {
			t.Errorf("%s: status %d, %q ... %q, %s", c.args, status, stdout[:min(len(stdout), 20)], stdout[max(0, len(stdout)-20):], stderr)
		}
		if status != exitOK && !strings.HasPrefix(c.args, "proof") {
			t.Errorf("%s: status %d, %s", c.args, status, stderr)
		}
		if strings.Contains(stdout, "wrote ") {
			t.Errorf("%s: more than the file is on standard output", c.args)
		}
		if left, _ := os.ReadDir("."); len(left) > 0 {
			t.Errorf("%s: %s was written", c.args, left[0].Name())
		}
	}
	for _, args := range []string{"card", "draw --view hoop", "proof --json", "draw --pdf", "card --pdf -o x.png", "resize --picture -"} {
		if !strings.Contains(args, "-o") && !strings.Contains(args, "picture") {
			args += " -o -"
		}
		status, stdout, stderr := try(t, "", append(strings.Fields(args), file)...)
		if status != exitUsage || stdout != "" || stderr == "" {
			t.Errorf("%s: status %d, %d bytes, %s", args, status, len(stdout), stderr)
		}
	}
	status, stdout, _ := try(t, "", "draw", "-o", "-", file, file)
	if status != exitUsage || stdout != "" {
		t.Errorf("two designs into one: status %d", status)
	}
	if status, stdout, _ := try(t, "", "draw", "-o", "-", write(t, t.TempDir(), "bad.dst", []byte("bad"))); status != exitUnreadable || stdout != "" {
		t.Errorf("nothing read: status %d, %q", status, stdout)
	}
}

// No file that a run reads is replaced, whichever argument named it.
func TestInputsSpared(t *testing.T) {
	dir := t.TempDir()
	one, two := write(t, dir, "one", small(t, false)), write(t, dir, "two", small(t, false))
	settings := write(t, dir, "my.toml", []byte("thread-box = \"box.csv\"\n"))
	box := write(t, dir, "box.csv", []byte("name,colour\npine,#004400\n"))
	notes := write(t, dir, "my.notes", []byte("title = \"mine\"\n"))
	pack := filepath.Join(dir, "pack")
	writeZIP(t, pack, small(t, false), "a.dst")
	sub := filepath.Join(dir, "sub")
	os.Mkdir(sub, 0o755)
	inside := write(t, sub, "in.x", small(t, false))
	link := filepath.Join(dir, "linked")
	if err := os.Symlink(settings, link); err != nil {
		link = settings
	}
	kept := map[string]string{}
	for _, path := range []string{one, two, settings, box, notes, pack, inside} {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		kept[path] = string(text)
	}
	for _, verb := range []string{"draw --width 16", "card", "card --pdf", "page", "cutlines", "proof", "notes"} {
		for _, out := range []string{settings, box, notes, one, pack, inside, link, two} {
			args := append(strings.Fields(verb), "--force", "--settings", settings, "-o", out)
			if verb != "notes" {
				args = append(args, "--notes", notes)
			} else if out == notes {
				continue // it writes notes anew
			}
			for _, from := range [][]string{{one}, {pack}, {sub}, {one, two, inside, pack}} {
				if len(from) > 1 && !strings.HasPrefix(verb, "page") && verb != "proof" {
					continue
				}
				if len(from) == 1 && out != from[0] && !(from[0] == sub && out == inside) && (out == one || out == two || out == pack || out == inside) {
					continue // no input of this run
				}
				status, _, stderr := try(t, "", append(args, from...)...)
				if status != exitUsage || !strings.Contains(stderr, "input") && !strings.Contains(stderr, "anew") {
					t.Errorf("%s -o %s of %v: status %d, %s", verb, out, from, status, stderr)
				}
				for path, text := range kept {
					if now, _ := os.ReadFile(path); string(now) != text {
						t.Fatalf("%s -o %s of %v replaced %s", verb, out, from, path)
					}
				}
			}
		}
	}
}

// Names that some system refuses, or takes for one, are changed, and it is said.
func TestNamesChanged(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ name, want, say string }{
		{"CON.dst", "_CON.png", "for a device"}, {"nul.dst", "_nul.png", "for a device"}, {"com1.x.dst", "_com1.x.png", "for a device"},
		{"block...dst", "block.png", "refuse such names"}, {"a?b.dst", "a_b.png", "refuse such names"}, {"conic.dst", "conic.png", ""}, {"com10.dst", "com10.png", ""},
	} {
		t.Chdir(t.TempDir())
		pack := filepath.Join(dir, "p.zip")
		writeZIP(t, pack, small(t, false), c.name)
		status, stdout, stderr := try(t, "", "draw", "--width", "16", pack)
		if status != exitOK || !strings.Contains(stdout, "wrote "+c.want+"\n") || (c.say == "") != (stderr == "") || !strings.Contains(stderr, c.say) {
			t.Errorf("%s: status %d, %s%s", c.name, status, stdout, stderr)
		}
	}
	t.Chdir(t.TempDir())
	pack := filepath.Join(dir, "q.zip")
	writeZIP(t, pack, small(t, false), "A/Block.dst", "B/BLOCK.dst", "C/block.dst", "D/block.dst")
	_, stdout, stderr := try(t, "", "draw", "--width", "16", pack)
	seen := map[string]bool{}
	for line := range strings.Lines(stdout) {
		seen[strings.ToLower(line)] = true
	}
	if len(seen) != 4 || strings.Count(stderr, "capital letters only") != 2 {
		t.Errorf("%s%s", stdout, stderr)
	}
	work := t.TempDir()
	t.Chdir(work)
	aux := write(t, t.TempDir(), "aux.dst", small(t, false))
	if _, stdout, stderr := try(t, "", aux); !strings.Contains(stdout, "wrote _aux.html") || !strings.Contains(stderr, "for a device") {
		t.Errorf("%s%s", stdout, stderr)
	}
}
