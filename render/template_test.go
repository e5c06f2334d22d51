package render

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Together the sheets show all of a design larger than the paper, and each place
// in the strip that two of them share lies on both, one strip's width apart.
func TestTemplateSheetsJoin(t *testing.T) {
	for _, size := range [][2]float64{{300, 200}, {150, 400}, {131, 10}, {500, 500}} {
		r := &report.Report{WidthMM: size[0], HeightMM: size[1]}
		for _, paper := range everyPaper() {
			m := newTemplate(&stitchfile.Design{}, r, Options{Paper: paper, DPI: 100})
			on := func(q geom.Point) (sheets int) {
				for j := range m.rows {
					for i := range m.cols {
						field, place := m.placeOf(i, j)
						x, y := place.at(q)
						if x >= float64(field.Min.X) && x <= float64(field.Max.X) && y >= float64(field.Min.Y) && y <= float64(field.Max.Y) {
							sheets++
						}
					}
				}
				return sheets
			}
			for k := range 21 {
				for l := range 21 {
					q := geom.Point{X: size[0] * (float64(k)/20 - 0.5), Y: size[1] * (float64(l)/20 - 0.5)}
					if on(q) == 0 {
						t.Fatalf("%v on %v: %v is on no sheet", size, paper, q)
					}
				}
			}
			for i := range m.cols - 1 {
				field, place := m.placeOf(i, 0)
				_, next := m.placeOf(i+1, 0)
				// The middle of the strip at the right of one sheet is the middle of
				// the strip at the left of the next.
				x := float64(field.Max.X) - templateOverlap/2*place.perMM
				mm := (x - place.x) / place.perMM
				if got := next.x + mm*next.perMM - float64(field.Min.X); math.Abs(got-templateOverlap/2*place.perMM) > 1.5 {
					t.Errorf("%v on %v: the strips of sheets %s and %s do not join: %.1f pixels", size, paper, sheetName(i, 0), sheetName(i+1, 0), got)
				}
			}
		}
	}
}

func TestSheetName(t *testing.T) {
	for _, c := range []struct {
		i, j int
		want string
	}{{0, 0, "A1"}, {3, 0, "A4"}, {0, 1, "B1"}, {1, 25, "Z2"}, {0, 26, "AA1"}, {9, 27, "AB10"}} {
		if got := sheetName(c.i, c.j); got != c.want {
			t.Errorf("%d, %d: %s, want %s", c.i, c.j, got, c.want)
		}
	}
}
