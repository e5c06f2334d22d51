package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/testdata/demo"
)

func gatherJSON(t *testing.T, args ...string) []gather.Gathering {
	t.Helper()
	status, stdout, stderr := try(t, "", append([]string{"gather", "--json"}, args...)...)
	if status != exitOK {
		t.Fatalf("status %d: %s", status, stderr)
	}
	var lists []gather.Gathering
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	if err := d.Decode(&lists); err != nil {
		t.Fatal(err)
	}
	return lists
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
		if want := int(math.Ceil(need.Metres * 1.1 / 100)); need.Spools != want || math.Abs(need.Metres-12*one.Threads[i].Metres) > 1e-6 {
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
