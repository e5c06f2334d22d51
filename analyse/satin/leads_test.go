package satin_test

import (
	"context"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func columns(d *stitchfile.Design) []report.SatinColumn {
	r, err := analyse.Run(context.Background(), d, analyse.Options{})
	if err != nil {
		panic(err)
	}
	return r.SatinColumns
}

// A column is as wide, close and long as it was drawn, however the thread comes to
// it: on a rail, from the middle of its end, over an underlay, out of a corner.
func TestColumnEndsWithoutTheLeadIn(t *testing.T) {
	line := func(length float64) st.Path { return st.Line(st.Point{}, st.Point{X: length}) }
	satin := st.SatinAlong{Width: 3.5, Pitch: 0.4}
	builder := func() *st.Builder { return new(st.Builder) }
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
	}{
		{"on a rail", builder().Satin(line(40), satin).Design()},
		{"from the middle of its end", builder().StitchTo(st.Point{}).Satin(line(40), satin).StitchTo(st.Point{X: 40}).Design()},
		{"from before its end", builder().StitchTo(st.Point{X: -1}).Satin(line(40), satin).Design()},
		{"over a middle line and back", builder().Run(line(40), 2.5).Run(line(40).Reverse(), 2.5).Satin(line(40), satin).Design()},
		{"over a zigzag underlay", builder().Satin(line(40).Reverse(), st.SatinAlong{Width: 2.2, Pitch: 2}).Satin(line(40), satin).Design()},
		{"over a line of another end", builder().Run(st.Line(st.Point{X: 40, Y: 0.5}, st.Point{X: 0, Y: 0.5}), 2).Satin(line(40), satin).Design()},
		{"with ties", builder().TieIn(st.Point{}, st.Point{X: 1}).Satin(line(40), satin).TieOff().Design()},
	} {
		t.Run(c.name, func(t *testing.T) {
			cols := columns(c.design)
			var col *report.SatinColumn
			for i := range cols {
				if cols[i].LengthMM > 10 && cols[i].Pitch.Median < 1 {
					col = &cols[i]
				}
			}
			if col == nil {
				t.Fatalf("no column in %d", len(cols))
			}
			for _, v := range []struct {
				what              string
				got, want, within float64
			}{
				{"least width", col.Width.Min, 3.5, 0.15},
				{"greatest width", col.Width.Max, 3.5, 0.15},
				{"greatest pitch", col.Pitch.Max, 0.4, 0.03},
				{"least pitch", col.Pitch.Min, 0.4, 0.03},
				{"length", col.LengthMM, 40, 0.45},
			} {
				if math.Abs(v.got-v.want) > v.within {
					t.Errorf("%s is %.3f, want %.2f within %.2f", v.what, v.got, v.want, v.within)
				}
			}
		})
	}
}

// A column shorter than 3 mm is a dot, about which nothing is told.
func TestDotsAreNotTold(t *testing.T) {
	for _, c := range []struct {
		length float64
		want   bool
	}{{2.6, false}, {3.5, true}} {
		d := new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: c.length}), st.SatinAlong{Width: 0.75, Pitch: 0.25}).Design()
		r, err := analyse.Run(context.Background(), d, analyse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := false
		for _, f := range r.Findings {
			got = got || f.Rule == "narrow-satin"
		}
		if got != c.want {
			t.Errorf("narrow satin %.1f mm long is told: %v", c.length, got)
		}
	}
}
