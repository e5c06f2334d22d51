package measure_test

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// covers measures the longest column of a design at every percent from 100 to 200.
func covers(t *testing.T, d *stitchfile.Design) (own, under []float64) {
	t.Helper()
	rec, err := applique.Recognise(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	for percent := 100; percent <= 200; percent++ {
		p := pass(t)(measure.NewPass(context.Background(), rec, report.DefaultSettings(), float64(percent)/100))
		if err := p.Do(measure.Columns); err != nil {
			t.Fatal(err)
		}
		var c report.SatinColumn
		for _, k := range p.Report.SatinColumns {
			if k.LengthMM > c.LengthMM {
				c = k
			}
		}
		own, under = append(own, c.Coverage), append(under, c.UnderThread)
	}
	return own, under
}

// Thread of one width hides less of a column the larger it is sewn, also where the
// column comes back over itself for a short way, side by side.
func TestCoverageFallsEvenly(t *testing.T) {
	var spiral st.Path
	for a := 0.0; a < 2*math.Pi+0.35; a += 0.05 {
		r := 9 - 0.9*a/(2*math.Pi)
		spiral = append(spiral, st.Point{X: r * math.Cos(a), Y: r * math.Sin(a)})
	}
	own, _ := covers(t, new(st.Builder).Satin(spiral, st.SatinAlong{Width: 3, Pitch: 0.5}).Design())
	for i := 1; i < len(own); i++ {
		if own[i] > own[i-1]+1e-6 {
			t.Errorf("at %d %%: %.4f, right before %.4f", 100+i, own[i], own[i-1])
		}
	}
	if own[0]-own[100] < 0.1 {
		t.Errorf("from %.3f to %.3f: nothing was looked at", own[0], own[100])
	}
}

// What other thread hides of a column is looked at in the same places at every scale:
// it does not jump where arithmetic rounds the length between two stations otherwise.
func TestPlacesAreTheSameAtEveryScale(t *testing.T) {
	line := st.Path{{}, {X: 32, Y: 24}} // stations come to lie on the grid of 0.1 mm, half a millimetre apart
	d := new(st.Builder).Fill(st.Rect(st.Point{X: 16, Y: 12}, 40, 32), 1.1, 4, 0).Trim().Satin(line, st.SatinAlong{Width: 3, Pitch: 0.5}).Design()
	own, under := covers(t, d)
	for i := 2; i < len(own); i++ {
		other, before, first := under[i]-own[i], under[i-1]-own[i-1], under[i-2]-own[i-2]
		if math.Abs(other-2*before+first) > 0.004 {
			t.Errorf("at %d %% other thread hides %.4f more, right before %.4f and %.4f", 100+i, other, before, first)
		}
	}
	if under[50]-own[50] < 0.05 {
		t.Errorf("other thread hides only %.3f", under[50]-own[50])
	}
}
