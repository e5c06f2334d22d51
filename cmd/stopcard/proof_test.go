package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/match"
)

// A whole pack is ready; one with five flaws names them, as text, as JSON and as a page.
func TestProofVerb(t *testing.T) {
	whole := []string{"kettle-100.dst", "kettle-100.jef", "kettle-100.pes", "kettle-125.dst", "kettle-125.jef", "kettle-125.pes", "kettle-150.dst", "kettle-150.jef", "kettle-150.pes"}
	dir := filepath.Dir(demoFolder(t, whole...)[0])
	status, stdout, stderr := try(t, "", "proof", dir)
	if status != exitOK || !strings.Contains(stdout, "Ready to publish") {
		t.Fatalf("status %d: %s%s", status, stdout, stderr)
	}
	move := func(from, to string) {
		if err := os.Rename(filepath.Join(dir, from), filepath.Join(dir, to)); err != nil {
			t.Fatal(err)
		}
	}
	add := func(name, as string) {
		data, err := os.ReadFile(demoFile(t, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, as), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(filepath.Join(dir, "kettle-125.jef")); err != nil {
		t.Fatal(err)
	}
	move("kettle-100.jef", "kettle-115.jef")
	add("kettle-150.pes", "kettle-150 copy.pes")
	add("snail-130.dst", "snail.dst")
	add("kettle-135-stretched.dst", "kettle-135.dst")

	page := filepath.Join(t.TempDir(), "proof.html")
	status, stdout, _ = try(t, "", "proof", "-o", page, dir)
	if status != exitFindings || !strings.Contains(stdout, "Not ready to publish: 5 things to mend.") {
		t.Errorf("status %d: %s", status, stdout)
	}
	html, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"missing file", "duplicate file", "stray file", "wrong name", "stretched size"} {
		if !strings.Contains(stdout, want) || !strings.Contains(string(html), want) {
			t.Errorf("no %q", want)
		}
	}
	if n := strings.Count(string(html), `src="data:image/png;base64,`); n != 4 {
		t.Errorf("%d pictures for four sizes", n)
	}
	status, stdout, _ = try(t, "", "proof", "--json", dir)
	var p match.Proof
	if err := json.Unmarshal([]byte(stdout), &p); err != nil || status != exitFindings || p.Schema != match.ProofSchema || len(p.Problems) != 5 {
		t.Errorf("status %d, %v: %d problems", status, err, len(p.Problems))
	}
	_, stdout, _ = try(t, "", "proof", "--buyer", dir)
	for _, want := range []string{"125.0 x 125.0", "4.92 x 4.92", "130 x 180", "Formats: DST, JEF, PES"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in the buyer's sheet:\n%s", want, stdout)
		}
	}
	if strings.Contains(stdout, "135.0") || strings.Contains(stdout, "mend") {
		t.Errorf("the buyer's sheet offers a stretched size, or tells what is wrong:\n%s", stdout)
	}
	if status, _, stderr := try(t, "", "proof", "-o", page, dir); status != exitUsage || !strings.Contains(stderr, "--force") {
		t.Errorf("replaced without --force: status %d, %s", status, stderr)
	}
}

// A proof that is interrupted leaves no page behind, and has the status of an interrupt.
func TestProofStopped(t *testing.T) {
	dir := filepath.Dir(demoFolder(t, "kettle-100.pes", "kettle-150.pes")[0])
	write(t, dir, "z.dst", []byte("no stitches"))
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	page := filepath.Join(t.TempDir(), "proof.html")
	errs, out := &stopAfter{n: -1, stop: stop}, bytes.Buffer{} // what is said of the last file stops it
	status := run([]string{"proof", "--jobs", "1", "-o", page, dir}, &session{stdout: &out, stderr: errs, ctx: ctx})
	if _, err := os.Stat(page); status != exitStopped || !os.IsNotExist(err) {
		t.Errorf("status %d, page: %v, %s", status, err, errs.String())
	}
}
