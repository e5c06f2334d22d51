package main

import (
	"encoding/json"
	"fmt"
	"html"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/stitchfile"
)

// walked are the designs that are walked through the verbs: the demo's, and those of
// other people where they are. Large ones only where every design is asked for.
func walked(t *testing.T) []string {
	var out []string
	for _, name := range []string{"kettle-100.dst", "kettle-150-faulty.dst", "kettle-135-stretched.dst", "snail-130.pes"} {
		out = append(out, demoFile(t, name))
	}
	const folder = "../../../shared/designs"
	if _, err := os.Stat(folder); err != nil {
		t.Logf("no real stitch files at %s; they are not part of the repository, so only the demo's are walked", folder)
		return out
	}
	most := 2500
	if os.Getenv("STOPCARD_EVERY_DESIGN") != "" {
		most = 100_000
	}
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			if d, failed := stitchfile.Open(path); failed == nil && d.Counts().Stitches <= most {
				out = append(out, path)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// grave are the changes for the worse that are more than a note, or a note that thread or
// needle holes come to be past their limit.
func grave(e *report.ResizeEffect) []report.FindingChange {
	var out []report.FindingChange
	for _, c := range e.Changes {
		worse := c.Change == report.Appears || c.Change == report.Worsens && !c.Before.Severity.AtLeast(report.Caution)
		spot := c.Change == report.Appears && (c.Rule == "crowded-needle" || c.Rule == "stacked-layers")
		if worse && c.After.Severity.AtLeast(report.Caution) || spot {
			out = append(out, c)
		}
	}
	return out
}

// No verb contradicts another: what resize prints passes when it is tried and fails one
// percent further on, what is so already does not become better that way, and check,
// resize, page and gather show the same figures.
func TestVerbsAgree(t *testing.T) {
	wholeOnly(t)
	dir := t.TempDir()
	for n, path := range walked(t) {
		name := filepath.Base(path)
		one := func(args ...string) *report.Report {
			_, stdout, stderr := try(t, "", append(args, path)...)
			var doc report.Document
			if err := json.Unmarshal([]byte(stdout), &doc); err != nil || len(doc.Designs) != 1 {
				t.Fatalf("%v %s: %v, %s", args, path, err, stderr)
			}
			return doc.Designs[0]
		}
		checked, resized := one("check", "--json"), one("resize", "--json")
		if checked.Stitches != resized.Stitches || checked.WidthMM != resized.WidthMM || checked.Minutes != resized.Minutes || len(checked.Findings) != len(resized.Findings) {
			t.Errorf("%s: check and resize differ", name)
		}
		z := resized.Resize
		if z == nil {
			continue
		}
		smallest, largest := z.Percents()
		for _, end := range []struct {
			way     report.Direction
			percent int
			step    int
			last    float64
		}{{report.Shrinking, smallest, -1, report.ResizeFrom}, {report.Growing, largest, 1, report.ResizeTo}} {
			at := one("resize", "--json", "--by", fmt.Sprintf("%d%%", end.percent))
			if g := grave(at.ResizedTo); len(g) > 0 || !resize.Holds(at.Resize, at.ResizedTo.Scale) {
				t.Errorf("%s: %d %% is said to hold, yet %+v", name, end.percent, g)
			}
			if float64(end.percent)/100 == end.last {
				continue
			}
			past := one("resize", "--json", "--by", fmt.Sprintf("%d%%", end.percent+end.step))
			g := grave(past.ResizedTo)
			if len(g) == 0 || resize.Holds(past.Resize, past.ResizedTo.Scale) {
				t.Errorf("%s: %d %% is said not to hold, yet nothing fails", name, end.percent+end.step)
			}
			if !slices.ContainsFunc(g, func(c report.FindingChange) bool {
				return slices.ContainsFunc(z.Limits, func(l report.ResizeLimit) bool {
					return !l.Already && l.Direction == end.way && l.Rule == c.Rule && report.WholePercent(l.Scale, end.way) == end.percent
				})
			}) && len(g) > 0 {
				t.Errorf("%s: at %d %% fails %s, which is not what limits it", name, end.percent+end.step, g[0].Rule)
			}
			for _, l := range z.Limits {
				if !l.Already || l.Direction != end.way {
					continue
				}
				for _, c := range past.ResizedTo.Changes {
					if c.Rule == l.Rule && c.Stop == l.Stop && c.Piece == l.Piece && (c.Change == report.Eases || c.Change == report.GoesAway) {
						t.Errorf("%s: %s of stop %d is so already and said to become worse %s, yet it %s at %d %%", name, l.Rule, l.Stop, end.way, c.Change, end.percent+end.step)
					}
				}
			}
		}

		_, stdout, stderr := try(t, "", "gather", "--json", path)
		var lists gather.Document
		if err := json.Unmarshal([]byte(stdout), &lists); err != nil || len(lists.Gatherings) != 1 {
			t.Fatalf("gather %s: %v, %s", path, err, stderr)
		}
		var thread float64
		for _, need := range lists.Gatherings[0].Threads {
			thread += need.Metres
		}
		if math.Abs(thread-checked.NeedleThreadM) > 1e-6 || math.Abs(lists.Gatherings[0].BobbinThreadM-checked.BobbinThreadM) > 1e-6 ||
			math.Abs(lists.Gatherings[0].Minutes-checked.Minutes-lists.Gatherings[0].Settings.HoopingMinutes) > 1e-6 {
			t.Errorf("%s: check says %.2f m, %.2f m and %.2f min, gather %.2f, %.2f and %.2f", name, checked.NeedleThreadM, checked.BobbinThreadM, checked.Minutes, thread, lists.Gatherings[0].BobbinThreadM, lists.Gatherings[0].Minutes)
		}

		page := filepath.Join(dir, fmt.Sprintf("%d.html", n))
		if status, _, stderr := try(t, "", "page", "-o", page, path); status != exitOK && status != exitUnreadable {
			t.Errorf("page %s: %s", name, stderr)
			continue
		}
		data, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		if text := html.UnescapeString(string(data)); !strings.Contains(text, resize.RangeWords(z)) {
			t.Errorf("%s: the page does not say %q", name, resize.RangeWords(z))
		}
	}
}
