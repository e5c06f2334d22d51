package stitchfile_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

// realDesigns are files of other people that may be looked at but not passed on,
// so they lie outside the repository.
const realDesigns = "../../shared/designs"

// needReal skips a test where the files are not at hand.
func needReal(t *testing.T) {
	t.Helper()
	if _, err := os.Stat(realDesigns); err != nil {
		t.Skipf("no real stitch files at %s; they are not part of the repository", realDesigns)
	}
}

// reads reports whether a format claims the file's extension.
func reads(name string) bool {
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
	return slices.ContainsFunc(stitchfile.Formats(), func(f stitchfile.Format) bool {
		return slices.Contains(f.Extensions, ext)
	})
}

func TestRealFiles(t *testing.T) {
	needReal(t)
	err := filepath.WalkDir(realDesigns, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !reads(name) {
			return err
		}
		d, err := stitchfile.Open(name)
		switch damaged := e.Name() == "single_hexagon_test.pes"; {
		case damaged && err == nil:
			t.Errorf("%s: no error for a damaged file", name)
		case !damaged && err != nil:
			t.Errorf("%s: %v", name, err)
		case !damaged && d.Counts().Stitches == 0:
			t.Errorf("%s: no stitches", name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The figures are those of SOURCES.md beside the files, worked out by a separate
// script: a second opinion.
func TestRealFigures(t *testing.T) {
	needReal(t)
	for _, c := range []struct {
		file              string
		stitches, changes int
		width, height     int64 // 0.1 mm
	}{
		{"embroidery/constellation.pes", 7204, 1, 969, 563},
		{"embroidery/earth.pes", 8278, 1, 962, 963},
		{"embroidery/krebs_plain.pes", 12353, 5, 978, 801},
		{"embroidery/Border.pes", 2238, 1, 818, 818},
		{"meta/rectangle_test.pes", 20512, 0, 754, 1288},
		{"thread/FRAME_OUT1280.0_IN1180.0.pes", 12545, 3, 1298, 1296},
		{"woven/Final_Jan_and_Feb__Jan_and_Feb.pes", 15907, 7, 834, 890},
		{"woven/satin_stitch_border_2.pes", 1128, 0, 512, 448},
		{"oshw/OSHLogo.dst", 3796, 2, 489, 514},
		{"programmable/100_-Filling-stitches.dst", 3355, 1, 604, 320},
		{"programmable/100_-Filling-stitches.exp", 3355, 1, 604, 320},
		{"embroidered/3_8mm_pad.dst", 79, 0, 40, 40},
		{"samplers/muestraBordado.jef", 3511, 0, 622, 596},
		{"embroidery/mossyStitching2D22_16-52-5.vp3", 4766, 0, 457, 519},
	} {
		t.Run(c.file, func(t *testing.T) {
			if !reads(c.file) {
				t.Skip("no reader for this format is registered")
			}
			d, err := stitchfile.Open(filepath.Join(realDesigns, c.file))
			if err != nil {
				t.Fatal(err)
			}
			n := d.Counts()
			box, _ := d.Bounds()
			if n.Stitches != c.stitches || n.ColourStops != c.changes || box.Width() != c.width || box.Height() != c.height {
				t.Errorf("%d stitches, %d changes, %d by %d; want %d, %d, %d by %d",
					n.Stitches, n.ColourStops, box.Width(), box.Height(), c.stitches, c.changes, c.width, c.height)
			}
		})
	}
}

// needlePoints are the penetrations, the first moved to the origin.
func needlePoints(t *testing.T, name string) [][2]int32 {
	t.Helper()
	d, err := stitchfile.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	var points [][2]int32
	var first stitchfile.Move
	for _, m := range d.Moves {
		if m.Kind != stitchfile.Stitch {
			continue
		}
		if points == nil {
			first = m
		}
		points = append(points, [2]int32{m.X - first.X, m.Y - first.Y})
	}
	return points
}

// A design that its maker wrote in two formats must come out the same.
func TestRealPairs(t *testing.T) {
	needReal(t)
	if !reads("a.exp") || !reads("a.dst") {
		t.Skip("DST and EXP are not both registered")
	}
	names, err := filepath.Glob(filepath.Join(realDesigns, "*", "*.dst"))
	if err != nil {
		t.Fatal(err)
	}
	for _, dst := range names {
		exp := strings.TrimSuffix(dst, ".dst") + ".exp"
		if _, err := os.Stat(exp); err != nil {
			continue
		}
		t.Run(filepath.Base(dst), func(t *testing.T) {
			if p, q := needlePoints(t, dst), needlePoints(t, exp); !slices.Equal(p, q) {
				t.Errorf("needle points differ from those of the EXP: %d and %d", len(p), len(q))
			}
		})
	}
}

// The VP3 goes on for 12 stitches after the last of the PES.
func TestRealVP3(t *testing.T) {
	needReal(t)
	pes := needlePoints(t, filepath.Join(realDesigns, "woven/satin_stitch_border_2.pes"))
	vp3 := needlePoints(t, filepath.Join(realDesigns, "woven/satin_stitch_border.vp3"))
	if len(vp3) != len(pes)+12 || !slices.Equal(vp3[:len(pes)], pes) {
		t.Errorf("needle points differ: %d in the PES, %d in the VP3", len(pes), len(vp3))
	}
	d, err := stitchfile.Open(filepath.Join(realDesigns, "woven/single_hexagon_test.vp3"))
	if err != nil || len(d.Warnings) > 0 || d.Counts().Stitches != 233 || d.Counts().ColourStops != 1 {
		t.Errorf("hexagon: %+v, %v", d, err)
	}
}
