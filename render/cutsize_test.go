package render

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// tackedAt is a square piece whose tack-down lies so far inside its line, or outside, or
// aside.
func tackedAt(inside, aside float64) *stitchfile.Design {
	line := st.Rect(st.Point{}, 50, 40)
	tack := st.Rect(st.Point{X: aside}, 50-2*inside, 40-2*inside)
	b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2).TieOff().Stop()
	return b.Satin(line, st.SatinAlong{Width: 5, Pitch: 0.4}).TieOff().Design()
}

// The cut size of the card, what is listed to cut, and the shapes of template and
// cutter's file are one size, wherever the tack-down lies.
func TestOneCutSize(t *testing.T) {
	designs := map[string]*stitchfile.Design{"inside": tackedAt(0.5, 0), "outside": tackedAt(-1, 0), "aside": tackedAt(0, 1.2)}
	demos, _ := filepath.Glob(filepath.Join("..", "testdata", "demo", "*-1[0-9]0.pes"))
	for _, path := range demos {
		d, err := stitchfile.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		designs[filepath.Base(path)] = d
	}
	for name, d := range designs {
		r := mustRun(d, report.DefaultSettings())
		all := shapes(d, r, 0)
		if len(all) == 0 || len(all) != len(r.Pieces) {
			t.Fatalf("%s: %d shapes of %d pieces", name, len(all), len(r.Pieces))
		}
		for i, s := range all {
			p := &r.Pieces[i]
			var pts []geom.Point
			for _, ring := range s.cut {
				pts = append(pts, ring...)
			}
			b := geom.BoxOf(pts)
			if math.Abs(b.Width()-p.CutSizeMM[0]) > 0.1 || math.Abs(b.Height()-p.CutSizeMM[1]) > 0.1 {
				t.Errorf("%s, piece %d: the shape to cut is %.2f x %.2f mm, the card says %.2f x %.2f", name, p.Number, b.Width(), b.Height(), p.CutSizeMM[0], p.CutSizeMM[1])
			}
			for _, c := range r.Cloths {
				if c.Piece == p.Number && (c.WidthMM != math.Ceil(p.CutSizeMM[0]) || c.HeightMM != math.Ceil(p.CutSizeMM[1])) {
					t.Errorf("%s, piece %d: %v x %v mm to cut, the card says %v", name, p.Number, c.WidthMM, c.HeightMM, p.CutSizeMM)
				}
			}
			told := fmt.Sprintf("%.0f x %.0f mm", math.Ceil(p.CutSizeMM[0]), math.Ceil(p.CutSizeMM[1]))
			if lay := strings.Join(r.Stops[p.TackDownStop-1].Before, " "); !strings.Contains(lay, told) {
				t.Errorf("%s, piece %d: %q does not say %s", name, p.Number, lay, told)
			}
		}
	}
}
