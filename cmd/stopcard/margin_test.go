package main

import (
	"encoding/json"
	"encoding/xml"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/testdata/demo"
)

// cutShapes are the sizes of the cut shapes of an SVG, by the number of the piece.
func cutShapes(t *testing.T, args ...string) map[int][2]float64 {
	t.Helper()
	to := filepath.Join(t.TempDir(), "cut.svg")
	if status, _, stderr := try(t, "", append([]string{"cutlines", "-o", to}, args...)...); status != exitOK {
		t.Fatalf("status %d: %s", status, stderr)
	}
	data, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Layers []struct {
			Paths []struct {
				ID string `xml:"id,attr"`
				D  string `xml:"d,attr"`
			} `xml:"path"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	out := map[int][2]float64{}
	number := regexp.MustCompile(`-?[0-9.]+`)
	for _, l := range doc.Layers {
		for _, p := range l.Paths {
			text, ok := strings.CutPrefix(p.ID, "cut-")
			if !ok {
				continue
			}
			n, err := strconv.Atoi(text)
			if err != nil {
				t.Fatal(err)
			}
			lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
			for i, word := range number.FindAllString(p.D, -1) {
				x, err := strconv.ParseFloat(word, 64)
				if err != nil {
					t.Fatal(err)
				}
				lo[i%2], hi[i%2] = min(lo[i%2], x), max(hi[i%2], x)
			}
			out[n] = [2]float64{hi[0] - lo[0], hi[1] - lo[1]}
		}
	}
	return out
}

// A piece of cloth is as large on the card as in the file for the cutter: one margin
// rules both, that of the settings.
func TestOneMargin(t *testing.T) {
	file := demoFile(t, demo.Shown)
	for _, flags := range [][]string{nil, {"--cloth-margin", "9"}} {
		status, stdout, stderr := try(t, "", append(append([]string{"check", "--json"}, flags...), file)...)
		if status > exitFindings {
			t.Fatalf("status %d: %s", status, stderr)
		}
		var doc struct{ Designs []*report.Report }
		if err := json.Unmarshal([]byte(stdout), &doc); err != nil {
			t.Fatal(err)
		}
		got := cutShapes(t, append(flags, file)...)
		if len(doc.Designs) != 1 || len(got) == 0 || len(got) != len(doc.Designs[0].Pieces) {
			t.Fatalf("%d designs, %d shapes", len(doc.Designs), len(got))
		}
		for _, p := range doc.Designs[0].Pieces {
			for i, want := range p.CutSizeMM {
				if math.Abs(got[p.Number][i]-want) > 0.2 {
					t.Errorf("%v: piece %d: the shape is %.1f mm, the card says %.1f", flags, p.Number, got[p.Number], p.CutSizeMM)
				}
			}
		}
	}
	// A margin of its own is obeyed.
	wide, own := cutShapes(t, file), cutShapes(t, "--margin", "5", file)
	if d := wide[1][0] - own[1][0]; math.Abs(d-2*(12.7-5)) > 0.1 {
		t.Errorf("with a margin of 5 mm the shape is %.1f mm smaller", d)
	}
}
