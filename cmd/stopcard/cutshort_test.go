package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// cutFiles writes a made block in each format, and so much of each.
func cutFiles(t *testing.T, share float64) (whole, cut map[string]string) {
	t.Helper()
	ring, fill := stitchtest.Circle(stitchtest.Point{}, 25), stitchtest.Circle(stitchtest.Point{}, 12)
	b := new(stitchtest.Builder)
	b.Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
	b.Satin(ring, stitchtest.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop().Fill(fill, 0.4, 4, 0).TieOff()
	d, dir := b.Design(), t.TempDir()
	whole, cut = map[string]string{}, map[string]string{}
	for _, format := range stitchtest.Formats() {
		data, err := stitchtest.Encode(format, d)
		if err != nil {
			t.Fatal(err)
		}
		for _, to := range []struct {
			paths map[string]string
			name  string
			data  []byte
		}{{whole, "block.", data}, {cut, "cut.", data[:int(share*float64(len(data)))]}} {
			to.paths[format] = filepath.Join(dir, to.name+strings.ToLower(format))
			if err := os.WriteFile(to.paths[format], to.data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return whole, cut
}

// A file cut short is told to be, once in what a verb prints, in every format that can
// tell it; of the others it is said that they cannot.
func TestCutFilesAreTold(t *testing.T) {
	cannotTell := []string{"EXP"}
	for _, share := range []float64{0.3, 0.6, 0.9} {
		_, cut := cutFiles(t, share)
		for format, path := range cut {
			status, stdout, stderr := try(t, "", "check", path)
			text := strings.Join(strings.Fields(stdout), " ")
			switch {
			case stdout == "": // nothing of it could be read
				if status != exitUnreadable || !strings.Contains(stderr, "cut short") {
					t.Errorf("%.1f of a %s file: status %d, %s", share, format, status, stderr)
				}
			case strings.Contains(text, "whole file: yes"):
				if format != "PES" && format != "PEC" { // of which pictures come last
					t.Errorf("%.1f of a %s file is called whole", share, format)
				}
			case strings.Contains(text, "whole file: cannot tell"):
				if !slices.Contains(cannotTell, format) {
					t.Errorf("%.1f of a %s file: cannot tell", share, format)
				}
			default:
				if n := strings.Count(text, "this file"); n != 1 || !strings.Contains(text, "damaged-file") || status == exitOK && strings.Contains(text, "FAULT") {
					t.Errorf("%.1f of a %s file: told %d times: %s", share, format, n, text)
				}
			}
			if strings.Contains(text, "colour blocks byte") || strings.Count(text, "colours for") > 1 {
				t.Errorf("%.1f of a %s file: %s", share, format, text)
			}
		}
	}
}

// Every verb that prints says so of a file that is read only in part, before all else.
func TestCutFileInEveryVerb(t *testing.T) {
	whole, cut := cutFiles(t, 0.6)
	const want = "this file is cut short: only its first"
	for _, verb := range []string{"check", "resize", "gather"} {
		_, stdout, _ := try(t, "", verb, cut["DST"])
		if text := strings.Join(strings.Fields(stdout), " "); strings.Count(text, want) != 1 {
			t.Errorf("%s: %s", verb, stdout)
		}
	}
	_, stdout, _ := try(t, "", "match", whole["DST"], whole["JEF"], cut["DST"])
	text := strings.Join(strings.Fields(stdout), " ")
	if !strings.Contains(text, "cut.dst is not compared: "+want) || !strings.Contains(text, "They agree.") || strings.Contains(text, "different design") {
		t.Errorf("match: %s", stdout)
	}
	// One that cannot tell is told by what another has.
	_, stdout, _ = try(t, "", "match", whole["DST"], cut["EXP"])
	if text := strings.Join(strings.Fields(stdout), " "); !strings.Contains(text, "cut.exp is cut short: it has the first") || strings.Contains(text, "different design") {
		t.Errorf("match: %s", stdout)
	}
}
