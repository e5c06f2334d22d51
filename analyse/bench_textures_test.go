package analyse

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
	"github.com/stopcard/stopcard/testdata/demo"
)

type texture struct {
	name    string
	designs []*stitchfile.Design
}

// textures are kinds of stitching, which cost more or less than their mixture, and
// designs of people, which cost more than drawn ones.
func textures(b *testing.B) []texture {
	b.Helper()
	square := st.Rect(st.Point{}, 120, 120)
	var fill, quilting, satin st.Builder
	fill.Fill(square, 0.4, 3, 0.3)
	for row := range 120 {
		var line st.Path
		for x := -60.0; x <= 60; x += 0.5 {
			line = append(line, st.Point{X: x, Y: float64(row) - 60 + 3*math.Sin(x/5)})
		}
		quilting.Run(line, 2.5).Trim()
	}
	for row := range 16 {
		y := float64(row)*7 - 56
		satin.Satin(st.Path{{X: -60, Y: y}, {X: 60, Y: y}}, st.SatinAlong{Width: 4, Pitch: 0.4}).Trim()
	}
	return []texture{
		{"demo", []*stitchfile.Design{truth.Demo(b, demo.Shown)}},
		{"second demo", []*stitchfile.Design{truth.Demo(b, demo.Another)}},
		{"fill", []*stitchfile.Design{fill.Design()}},
		{"quilting", []*stitchfile.Design{quilting.Design()}},
		{"satin", []*stitchfile.Design{satin.Design()}},
		{"real files", realDesigns(b)},
	}
}

func BenchmarkTextures(b *testing.B) {
	for _, c := range textures(b) {
		b.Run(c.name, func(b *testing.B) {
			if len(c.designs) == 0 {
				b.Skip("the real designs are not here: " + realFolder)
			}
			stitches := 0
			for _, d := range c.designs {
				stitches += d.Counts().Stitches
			}
			perStitch(b, stitches, func() {
				for _, d := range c.designs {
					mustRun(d, report.DefaultSettings())
				}
			})
		})
	}
}

const realFolder = "../../shared/designs"

// realDesigns are those that can be read in whole.
func realDesigns(b *testing.B) (out []*stitchfile.Design) {
	b.Helper()
	names, _ := filepath.Glob(filepath.Join(realFolder, "*", "*.*"))
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			b.Fatal(err)
		}
		if d, err := stitchfile.Decode(f); err == nil {
			out = append(out, d)
		}
		f.Close()
	}
	return out
}
