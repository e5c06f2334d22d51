package measure_test

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A square under another that lies over its right end: its satin, 4 mm wide, goes on by so
// many mm past the line of the upper one, whose satin lies 2 mm to either side of it.
func TestJointOfCovers(t *testing.T) {
	for _, c := range []struct {
		name        string
		past        float64
		least, most float64
	}{
		{"ends well under the upper", 3, 4.4, 6},
		{"ends at its line", 0, 1.4, 2.6},
		{"ends within its satin", -1, 0.4, 1.6},
		{"ends at its satin", -2, 0, 0.6},
		{"ends before it", -3, 0, 0},
	} {
		lower, upper := st.Rect(st.Point{}, 40, 30), st.Rect(st.Point{X: 25}, 30, 50)
		b := &st.Builder{}
		for _, line := range []st.Path{lower, upper} {
			b.Run(line, 2.5).TieOff().Stop()
			b.Run(line, 2).TieOff().Stop()
		}
		end := 10 + c.past
		b.Satin(st.Path{{X: end, Y: -15}, {X: -20, Y: -15}, {X: -20, Y: 15}, {X: end, Y: 15}}, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
		b.Satin(upper, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		rec, err := applique.Recognise(context.Background(), b.Design())
		if err != nil {
			t.Fatal(err)
		}
		p := pass(t)(measure.NewPass(context.Background(), rec, report.DefaultSettings(), 1))
		if err := p.Do(measure.Pieces); err != nil {
			t.Fatal(err)
		}
		if len(p.Report.Pieces) != 2 {
			t.Fatalf("%s: %d pieces", c.name, len(p.Report.Pieces))
		}
		if got := p.Joint(&p.Report.Pieces[0]); got < c.least || got > c.most {
			t.Errorf("%s: both hide %.2f mm, want %g to %g", c.name, got, c.least, c.most)
		}
		if got := p.Joint(&p.Report.Pieces[1]); !math.IsInf(got, 1) {
			t.Errorf("%s: nothing hides the edge of the upper, and its joint is %.2f mm", c.name, got)
		}
	}
}
