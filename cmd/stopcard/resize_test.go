package main

import (
	"encoding/json"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/testdata/demo"
)

// demoFolder writes demo designs into one folder.
func demoFolder(t *testing.T, names ...string) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for _, name := range names {
		data, err := demo.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, filepath.Join(dir, name))
		if err := os.WriteFile(paths[len(paths)-1], data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return paths
}

func TestResizeVerb(t *testing.T) {
	path := demoFile(t, "kettle-150.dst")
	strip := filepath.Join(t.TempDir(), "strip.png")
	status, stdout, stderr := try(t, "", "resize", "--picture", strip, path)
	if status != exitOK {
		t.Fatalf("status %d, %s", status, stderr)
	}
	for _, want := range []string{"as it is", "Larger", "Smaller", "cover", " -> ", "cloth shows between", "the machine's manual comes first", "wrote "} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
	for line := range strings.Lines(strings.ReplaceAll(stdout, path, "FILE")) {
		if len(line) > 81 && !strings.HasPrefix(line, "wrote") {
			t.Errorf("a line of %d: %s", len(line), line)
		}
	}
	f, err := os.Open(strip)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if img, err := png.Decode(f); err != nil || img.Bounds().Dx() < 1000 {
		t.Errorf("%v, %v", err, img)
	}
	if status, _, stderr := try(t, "", "resize", "--picture", strip, path); status != exitUsage || !strings.Contains(stderr, "--force") {
		t.Errorf("replaced without --force: status %d, %s", status, stderr)
	}
}

func TestResizeTo(t *testing.T) {
	wholeOnly(t)
	path := demoFile(t, "kettle-100.dst")
	for _, c := range []struct {
		args  []string
		scale float64
	}{
		{[]string{"--to", "150mm"}, 1.5}, {[]string{"--by", "120%"}, 1.2}, {[]string{"--to", "120x200"}, 1.2}, {[]string{"--to", "6in"}, 1.524},
	} {
		status, stdout, stderr := try(t, "", slices.Concat([]string{"resize", "--json"}, c.args, []string{path})...)
		if status != exitOK {
			t.Fatalf("%v: status %d, %s", c.args, status, stderr)
		}
		doc := decodeDocument(t, stdout)
		e := doc.Designs[0].ResizedTo
		if e == nil || math.Abs(e.Scale-c.scale) > 0.002 {
			t.Fatalf("%v: %+v", c.args, e)
		}
		if c.scale > 1.15 && !slices.ContainsFunc(e.Changes, func(f report.FindingChange) bool {
			return f.Rule == "thin-cover" && f.Change == report.Appears && f.After.Measured < f.After.Limit
		}) {
			t.Errorf("%v: no thin cover appears: %+v", c.args, e.Changes)
		}
		if z := doc.Designs[0].Resize; z == nil || z.Smallest > 1 || z.Largest < 1 || len(z.Limits) == 0 {
			t.Errorf("%+v", z)
		}
	}
	// The estimate of a design made anew, against one that was.
	_, stdout, _ := try(t, "", "resize", "--json", "--to", "150mm", path)
	_, real, _ := try(t, "", "check", "--json", demoFile(t, "kettle-150.dst"))
	got, want := decodeDocument(t, stdout).Designs[0].ResizedTo.Anew, decodeDocument(t, real).Designs[0].Stitches
	if math.Abs(float64(got)/float64(want)-1) > 0.05 {
		t.Errorf("%d stitches foretold, the size made anew has %d", got, want)
	}
	_, stdout, _ = try(t, "", "resize", "--to", "150mm", path)
	for _, want := range []string{"At 150 %", "outside the safe range", "New at that size", "digitised anew for that"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
	for by, want := range map[string]float64{"120": 1.2, "0.8": 0.8, "95 %": 0.95, "1": 1, "200%": 2} {
		scale, err := (&resizing{by: by}).target()
		if err != nil {
			t.Errorf("--by %s: %v", by, err)
		} else if got, _ := scale(100, 100); math.Abs(got-want) > 1e-9 {
			t.Errorf("--by %s: %g, want %g", by, got, want)
		}
	}
	for _, bad := range [][]string{{"--to", "x"}, {"--to", "-3in"}, {"--by", "0"}, {"--by", "9999%"}, {"--to", "7in", "--by", "120%"}, {"--by", "NaN"}, {"--to", "4000"}} {
		if status, _, stderr := try(t, "", slices.Concat([]string{"resize"}, bad, []string{path})...); status != exitUsage || stderr == "" {
			t.Errorf("%v: status %d, %q", bad, status, stderr)
		}
	}
}

// Another size in the pack beats resizing; a stretched copy does not.
func TestResizeTakesAnotherSize(t *testing.T) {
	wholeOnly(t)
	paths := demoFolder(t, "kettle-100.dst", "kettle-100.pes", "kettle-135-stretched.dst", "kettle-150.pes")
	nearer := func(to string) *report.OtherSize {
		_, stdout, stderr := try(t, "", slices.Concat([]string{"resize", "--json", "--to", to}, paths)...)
		doc := decodeDocument(t, stdout+stderr)
		if len(doc.Designs) != len(paths) {
			t.Fatalf("%d designs", len(doc.Designs))
		}
		return doc.Designs[1].ResizedTo.Nearer // of the 100 mm in PES
	}
	if o := nearer("150mm"); o == nil || o.Scale != 1 || o.Path != paths[3] {
		t.Errorf("150 mm: %+v", o)
	}
	if o := nearer("135mm"); o == nil || math.Abs(o.Scale-0.9) > 0.01 {
		t.Errorf("135 mm: %+v", o)
	}
	_, stdout, _ := try(t, "", slices.Concat([]string{"resize", "--to", "150mm"}, paths)...)
	for _, want := range []string{"That size is there", "The same stitches as"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
}

func TestResizeEmpty(t *testing.T) {
	status, stdout, stderr := try(t, "\x00\x01\xf3", "resize", "-")
	if status == exitOK && !strings.Contains(stdout, "No stitches") {
		t.Errorf("status %d, %s%s", status, stdout, stderr)
	}
}

func TestMatchVerb(t *testing.T) {
	paths := demoFolder(t, "kettle-100.dst", "kettle-100.pes", "kettle-125.jef", "kettle-135-stretched.dst", "kettle-150.dst", "kettle-150.pes", "kettle-150-faulty.dst")
	status, stdout, stderr := try(t, "", slices.Concat([]string{"match"}, paths)...)
	if status != exitFindings {
		t.Errorf("status %d, %s", status, stderr)
	}
	for _, want := range []string{"kettle: 7 files in 4 sizes", "stretched copy of 100 x 100 mm, 1.35 times", "digitised anew", "set-disagrees", "kettle-150-faulty.dst", "stretched-copy"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
	status, stdout, _ = try(t, "", slices.Concat([]string{"match", "--json"}, paths)...)
	var m match.Matching
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	if err := d.Decode(&m); err != nil || m.Schema != match.Schema || len(m.Designs) != 1 || !m.Complete || status != exitFindings {
		t.Errorf("status %d, %v, %+v", status, err, m)
	}
	// Without the odd ones all is well, as files and as a folder.
	status, stdout, stderr = try(t, "", "match", paths[0], paths[1], paths[2], paths[4], paths[5])
	if status != exitOK || strings.Contains(stdout, "FAULT") || strings.Contains(stdout, "WARNING") {
		t.Errorf("status %d, %s%s", status, stdout, stderr)
	}
	if status, stdout, _ = try(t, "", "match", filepath.Dir(paths[0])); status != exitFindings || !strings.Contains(stdout, "7 files in 4 sizes") {
		t.Errorf("a folder: status %d, %s", status, stdout)
	}
	bad := filepath.Join(t.TempDir(), "bad.dst")
	os.WriteFile(bad, []byte("no stitches"), 0o644)
	if status, stdout, _ := try(t, "", "match", paths[0], bad); status != exitUnreadable || !strings.Contains(stdout, "1 file in 1 size") {
		t.Errorf("status %d, %s", status, stdout)
	}
}

// A size at which a fault becomes worse is not called safe, and of satin and cut edges only
// designs that have them are told.
func TestResizeSaysWhatThereIs(t *testing.T) {
	flat := func(args ...string) string {
		_, stdout, _ := try(t, "", append([]string{"resize"}, args...)...)
		return strings.Join(strings.Fields(stdout), " ")
	}
	for want, args := range map[string][]string{
		"what is wrong already becomes worse: see below":            {"--by", "130%", demoFile(t, "kettle-135-stretched.dst")},
		"That is within the safe range":                             {"--by", "105%", demoFile(t, "kettle-150.dst")},
		"can be sewn and still hides the cut edge. See":             {demoFile(t, "kettle-150.dst")},
		"stitch length then stay as they are. See in the machine's": {write(t, t.TempDir(), "run.dst", small(t, false))},
	} {
		got := flat(args...)
		if !strings.Contains(got, want) {
			t.Errorf("%q: no %q in %s", args, want, got)
		}
		if strings.Contains(want, "worse") && strings.Contains(got, "within the safe range") {
			t.Errorf("%q is called safe", args)
		}
	}
}
