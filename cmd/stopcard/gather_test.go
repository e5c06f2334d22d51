package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/testdata/demo"
)

func gatherJSON(t *testing.T, args ...string) []*gather.Gathering {
	t.Helper()
	status, stdout, stderr := try(t, "", append([]string{"gather", "--json"}, args...)...)
	if status != exitOK {
		t.Fatalf("status %d: %s", status, stderr)
	}
	var doc gather.Document
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	return doc.Gatherings
}

// Twelve blocks need twelve times what one needs, and 3 x 4 joined are as large
// as the trimmed block says.
func TestGatherVerb(t *testing.T) {
	file := demoFile(t, demo.Shown)
	one, many := gatherJSON(t, file)[0], gatherJSON(t, "--join", "3x4", "--spool-m", "100", file)[0]
	if many.Settings.Blocks != 12 || math.Abs(many.Minutes-12*one.Minutes) > 1e-6 || math.Abs(many.BobbinThreadM-12*one.BobbinThreadM) > 1e-6 {
		t.Errorf("%d blocks, %.1f min, one %.1f", many.Settings.Blocks, many.Minutes, one.Minutes)
	}
	for i, need := range many.Threads {
		want := int(math.Ceil(need.Metres * 1.1 / 100))
		if need.AnyThread {
			want = 0 // no spool of its own
		}
		if need.Spools != want || math.Abs(need.Metres-12*one.Threads[i].Metres) > 1e-6 {
			t.Errorf("%s: %d spools for %.1f m, want %d", need.Name, need.Spools, need.Metres, want)
		}
	}
	block := many.Joined.BlockMM
	if want := 3*(block[0]-12.7) + 12.7; math.Abs(many.Joined.RawMM[0]-want) > 1e-6 {
		t.Errorf("joined %.1f mm wide, want %.1f", many.Joined.RawMM[0], want)
	}
	kinds := map[string]bool{}
	for _, c := range many.Cloths {
		kinds[c.Kind] = c.Count == 12
	}
	for _, kind := range []string{"block cloth", "applique cloth", "batting", "backing", "stabiliser"} {
		if !kinds[kind] {
			t.Errorf("not 12 of %s: %+v", kind, many.Cloths)
		}
	}
	if two := gatherJSON(t, "--sum", file, file); len(two) != 1 || math.Abs(two[0].Minutes-2*one.Minutes) > 1e-6 {
		t.Errorf("sum of two: %d lists", len(two))
	}
}

func TestGatherForms(t *testing.T) {
	file := filepath.Join(t.TempDir(), "=cmd.pes")
	data, _ := demo.Files.ReadFile(demo.Shown)
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Dir(file))
	status, stdout, stderr := try(t, "", "gather", "--csv", "--blocks", "3", "=cmd.pes")
	rows, err := csv.NewReader(strings.NewReader(stdout)).ReadAll()
	if status != exitOK || err != nil || len(rows) < 10 {
		t.Fatalf("status %d, %v, %s", status, err, stderr)
	}
	for _, row := range rows {
		if strings.HasPrefix(row[0], "=") {
			t.Errorf("a formula: %q", row)
		}
	}
	_, stdout, _ = try(t, "", "gather", "--units", "inch", "--blocks", "3", "=cmd.pes")
	for _, want := range []string{"3 blocks", " yd", " in", "stabiliser", "sitting"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("no %q in\n%s", want, stdout)
		}
	}
	for line := range strings.Lines(stdout) {
		if len([]rune(line)) > 81 {
			t.Errorf("wider than 80: %s", line)
		}
	}
	for _, args := range [][]string{{"--join", "2"}, {"--join", "0x3"}, {"--blocks", "0"}, {"--seam", "wide"}, {"--json", "--csv"}} {
		if status, _, stderr := try(t, "", append(append([]string{"gather"}, args...), "=cmd.pes")...); status != exitUsage {
			t.Errorf("%v: status %d, %s", args, status, stderr)
		}
	}
}

// A quilt of two designs: counts by name and by plan give the same, and what is shown
// adds up.
func TestGatherQuilt(t *testing.T) {
	paths := demoFolder(t, "kettle-150.pes", "snail-130.pes")
	t.Chdir(filepath.Dir(paths[0]))
	if err := os.WriteFile("plan.toml", []byte("columns = 3\nrows = 4\nseam = \"1/4in\"\n[[block]]\nfile = \"kettle-150.pes\"\ncount = 7\n[[block]]\nfile = \"snail-130.pes\"\ncount = 5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	named := gatherJSON(t, "--join", "3x4", "kettle-150.pes=7", "snail-130.pes=5")
	planned := gatherJSON(t, "--plan", "plan.toml")
	if len(named) != 1 || len(planned) != 1 {
		t.Fatalf("%d and %d lists", len(named), len(planned))
	}
	if diff := cmp.Diff(named, planned); diff != "" {
		t.Error(diff)
	}
	q, kettle, snail := named[0], gatherJSON(t, "kettle-150.pes")[0], gatherJSON(t, "snail-130.pes")[0]
	if want := 7*kettle.BobbinThreadM + 5*snail.BobbinThreadM; math.Abs(q.BobbinThreadM-want) > 1e-6 {
		t.Errorf("%.2f m of bobbin thread, want %.2f", q.BobbinThreadM, want)
	}
	if want := 7*kettle.Minutes + 5*snail.Minutes; math.Abs(q.Minutes-want) > 1e-6 {
		t.Errorf("%.2f min, want %.2f", q.Minutes, want)
	}
	if q.Joined == nil || len(q.Joined.Unlike) != 1 || q.Joined.Blocks != 12 {
		t.Errorf("%+v", q.Joined)
	}
	_, stdout, _ := try(t, "", "gather", "--plan", "plan.toml", "--units", "mm")
	var sum, all, spools, allSpools float64
	minutes, allMinutes := 0, 0
	for line := range strings.Lines(stdout) {
		if len([]rune(line)) > 81 {
			t.Errorf("wider than 80: %s", line)
		}
		if m := regexp.MustCompile(`^  (.*?) +([\d.]+) m +(?:(\d+) spools?|at hand)$`).FindStringSubmatch(strings.TrimRight(line, "\n")); m != nil {
			v, _ := strconv.ParseFloat(m[2], 64)
			n, _ := strconv.ParseFloat(m[3], 64)
			if strings.HasPrefix(m[1], "needle thread in all") {
				all, allSpools = v, n
			} else {
				sum, spools = sum+v, spools+n
			}
		}
		clock := regexp.MustCompile(`(?:(\d+) h )?(\d+) min`).FindStringSubmatch(line)
		read := func() int {
			h, _ := strconv.Atoi(clock[1])
			m, _ := strconv.Atoi(clock[2])
			return 60*h + m
		}
		switch {
		case strings.HasPrefix(line, "Time: "):
			allMinutes = read()
		case regexp.MustCompile(`^  +\d+: |^  and \d+ more`).MatchString(line):
			minutes += read()
		}
	}
	if math.Abs(sum-all) > 0.01 || sum == 0 || spools != allSpools {
		t.Errorf("threads add up to %.1f m on %g spools, %.1f on %g are shown", sum, spools, all, allSpools)
	}
	if minutes != allMinutes || minutes == 0 {
		t.Errorf("sittings add up to %d min, %d are shown\n%s", minutes, allMinutes, stdout)
	}
	for _, args := range [][]string{{"kettle-150.pes=0"}, {"kettle-150.pes=x"}, {"--plan", "none.toml"}, {"--plan", "plan.toml", "kettle-150.pes"}} {
		if status, _, stderr := try(t, "", append([]string{"gather"}, args...)...); status != exitUsage || stderr == "" {
			t.Errorf("%v: status %d, %s", args, status, stderr)
		}
	}
	for _, bad := range []string{"", "[[block]]\nfile = \"x\"\n", "columns = 3\n[[block]]\nfile=\"x\"\ncount=1\n", "color = 1\n", "[[block]]\nfile = \"x\"\ncount = 100000\n", "\x00"} {
		if err := os.WriteFile("bad.toml", []byte(bad), 0o644); err != nil {
			t.Fatal(err)
		}
		if status, _, stderr := try(t, "", "gather", "--plan", "bad.toml"); status != exitUsage || !strings.Contains(stderr, "bad.toml") {
			t.Errorf("%q: status %d, %s", bad, status, stderr)
		}
	}
}

// Interrupted while it chooses among the files of a pack, or while it reads those that it
// chose, gather prints a document that says so, and the status of an interrupt.
func TestGatherStopped(t *testing.T) {
	dir := filepath.Dir(demoFolder(t, "kettle-100.pes", "kettle-150.pes", "kettle-150.dst")[0])
	for when, n := range map[string]int{"choosing": 0, "reading": -1} {
		for _, form := range []string{"--json", "--sum"} {
			ctx, stop := context.WithCancel(context.Background())
			if when == "choosing" {
				stop()
			}
			errs, out := &stopAfter{n: n, stop: stop}, bytes.Buffer{}
			status := run([]string{"gather", form, dir}, &session{stdout: &out, stderr: errs, ctx: ctx})
			stop()
			if status != exitStopped || !strings.Contains(errs.String(), "stopped after") || strings.Contains(errs.String(), "taking") != (when == "reading") {
				t.Errorf("%s, %s: status %d, %q", when, form, status, errs.String())
			}
			if form != "--json" {
				if out.Len() > 0 {
					t.Errorf("%s: of some designs it tells %q", when, out.String())
				}
				continue
			}
			var doc gather.Document
			if err := json.Unmarshal(out.Bytes(), &doc); err != nil || doc.Complete || doc.Schema != gather.Schema {
				t.Errorf("%s: %v in %q", when, err, out.String())
			}
		}
	}
}

// Sittings are told by the blocks and stops they begin and end with, each once.
func TestGatherTellsSittingsOnce(t *testing.T) {
	file := demoFile(t, "kettle-100.pes")
	for want, args := range map[string][]string{
		" 1: block 1, stops 1 to 22, ":              {"--sitting-minutes", "600"},
		" 1: block 1, stop 1 to block 2, stop 22, ": {"--sitting-minutes", "600", "--blocks", "2"},
		" 1: block 1, stops 1 to ":                  {"--sitting-minutes", "30"},
		" 1: block 1, stop 1, ":                     {"--sitting-minutes", "30", write(t, t.TempDir(), "one.dst", small(t, false))},
	} {
		if len(args) < 3 || args[2] == "--blocks" {
			args = append(args, file)
		}
		if _, stdout, stderr := try(t, "", append([]string{"gather"}, args...)...); !strings.Contains(stdout, want) {
			t.Errorf("%q: no %q in %s%s", args, want, stdout, stderr)
		}
	}
}
