package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Of a pack one file of each design is taken, and it is said which.
func TestPackIsOneDesign(t *testing.T) {
	wholeOnly(t)
	names := []string{"kettle-100.dst", "kettle-100.jef", "kettle-100.pes", "kettle-125.dst", "kettle-125.pes", "kettle-135-stretched.dst", "kettle-150.dst", "kettle-150.pes", "snail-130.dst", "snail-130.pes"}
	paths := demoFolder(t, names...)
	dir := filepath.Dir(paths[0])
	for _, c := range []struct {
		args []string
		want []string // designs that are gathered for
		said string
	}{
		{nil, []string{"kettle-150.pes", "snail-130.pes"}, "the largest"},
		{[]string{"--hoop", "130x180"}, []string{"kettle-125.pes", "snail-130.pes"}, "the largest that the hoop holds"},
		{[]string{"--hoop", "90x90"}, []string{"kettle-100.jef", "snail-130.pes"}, "the hoop holds none"},
		{[]string{"--size", "5in"}, []string{"kettle-125.pes", "snail-130.pes"}, "the nearest to 5in"},
		{[]string{"--size", "135mm"}, []string{"kettle-125.pes", "snail-130.pes"}, "nearest"},
		{[]string{"--all"}, names, ""},
	} {
		args := append(append([]string{"gather", "--json"}, c.args...), dir)
		status, stdout, stderr := try(t, "", args...)
		if status != exitOK {
			t.Errorf("%v: status %d, %s", c.args, status, stderr)
			continue
		}
		for _, name := range names {
			want := false
			for _, w := range c.want {
				want = want || w == name
			}
			if got := strings.Contains(stdout, filepath.Join(dir, name)+`"`); got != want && !(name == "kettle-100.pes" || name == "kettle-100.jef") {
				t.Errorf("%v: %s is taken: %v", c.args, name, got)
			}
		}
		if n := strings.Count(stdout, `"bobbins"`); n != len(c.want) {
			t.Errorf("%v: %d lists, want %d", c.args, n, len(c.want))
		}
		if !strings.Contains(stderr, c.said) || c.said == "" && stderr != "" {
			t.Errorf("%v: %q does not say %q", c.args, stderr, c.said)
		}
	}
	// What is named file by file is wanted file by file.
	if status, stdout, stderr := try(t, "", "gather", "--json", paths[0], paths[2]); status != exitOK || strings.Count(stdout, `"bobbins"`) != 2 || stderr != "" {
		t.Errorf("status %d, %s", status, stderr)
	}
	out := t.TempDir()
	if status, stdout, _ := try(t, "", "card", "--hoop", "100x100", "-o", out, dir); status != exitOK || strings.Count(stdout, "kettle") == 0 || strings.Contains(stdout, "kettle-150") {
		t.Errorf("status %d: %s", status, stdout)
	}
	if status, _, stderr := try(t, "", "card", "--size", "5in", "--all", dir); status != exitUsage || stderr == "" {
		t.Errorf("status %d", status)
	}
	if status, _, stderr := try(t, "", "page", "--size", "wide", dir); status != exitUsage || !strings.Contains(stderr, "--size") {
		t.Errorf("status %d, %s", status, stderr)
	}
}

// The brief table says what fits and which size is nearest.
func TestBriefHoopColumn(t *testing.T) {
	dir := filepath.Dir(demoFolder(t, "kettle-100.dst", "kettle-125.dst", "kettle-125.pes", "kettle-150.dst", "snail-130.dst")[0])
	_, stdout, _ := try(t, "", "check", "--brief", "--hoop", "130x140", dir)
	for name, want := range map[string]string{"kettle-100.dst": "fits ", "kettle-125.dst": "fits, nearest", "kettle-125.pes": "fits, nearest", "kettle-150.dst": "no ", "snail-130.dst": "fits "} {
		for line := range strings.Lines(stdout) {
			if strings.Contains(line, name) && !strings.Contains(line, "  "+want) {
				t.Errorf("%s: no %q in %s", name, want, line)
			}
		}
	}
	_, stdout, _ = try(t, "", "check", "--brief", "--hoop", "80x80", dir)
	if !strings.Contains(stdout, "no, nearest") || strings.Contains(stdout, "fits") {
		t.Errorf("%s", stdout)
	}
	if _, stdout, _ = try(t, "", "check", "--brief", dir); strings.Contains(stdout, "hoop") {
		t.Errorf("a column without a hoop:\n%s", stdout)
	}
}

// Without a verb the page takes one file of a pack too, and check all.
func TestPlainPack(t *testing.T) {
	wholeOnly(t)
	dir := filepath.Dir(demoFolder(t, "kettle-100.dst", "kettle-100.pes", "kettle-125.pes")[0])
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args     []string
		sections int
	}{{nil, 1}, {[]string{"--size", "100mm"}, 1}, {[]string{"--size=100mm"}, 1}, {[]string{"--all"}, 2}} {
		args := append(append([]string{"--force"}, c.args...), dir)
		status, stdout, stderr := try(t, "", args...)
		if status > exitFindings || strings.Count(stdout, "kettle-100.dst") == 0 {
			t.Fatalf("%v: status %d, %s%s", c.args, status, stdout, stderr)
		}
		data, err := os.ReadFile(filepath.Base(dir) + ".html")
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(data), `class="design on-`); n != c.sections {
			t.Errorf("%v: %d sections, want %d", c.args, n, c.sections)
		}
	}
}
