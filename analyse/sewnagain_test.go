package analyse_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// inPasses is a ring of applique 20 mm in radius whose cover, 4 mm wide with stitches 0.8 mm
// apart, is sewn once, and a second time out mm further out over a share of the way, between the
// stitches of the first. The second pass is its own stop if apart.
func inPasses(share, out float64, apart bool) *stitchfile.Design {
	const pitch = 0.8
	ring := st.Circle(st.Point{}, 20)
	b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().Run(ring, 2).TieOff().Stop()
	b.Satin(st.Arc(st.Point{}, 20, 0, 2*math.Pi), st.SatinAlong{Width: 4, Pitch: pitch}).TieOff().Trim()
	if apart {
		b.Stop()
	}
	if share > 0 {
		from := pitch / 2 / 20
		b.Satin(st.Arc(st.Point{}, 20+out, from, from+share*2*math.Pi), st.SatinAlong{Width: 4, Pitch: pitch}).TieOff()
	}
	return b.Design()
}

// A cover sewn in two passes, each of which leaves open what the other fills, hides as both do.
func TestCoverInPasses(t *testing.T) {
	for _, c := range []struct {
		name       string
		share, out float64
		apart      bool
		again      bool
		told       bool
	}{
		{"one pass", 0, 0, false, false, true},
		{"two passes", 1, 0, false, true, false},
		{"two passes, each a stop", 1, 0, true, true, false},
		{"the second over 0.75 of the way", 0.75, 0, false, false, true},
		{"over 0.85 of it, the rest is open", 0.85, 0, false, true, true},
		{"0.8 mm further out", 1, 0.8, false, true, true},
		{"1.2 mm further out", 1, 1.2, false, false, true},
	} {
		rec, err := analyse.Recognise(context.Background(), inPasses(c.share, c.out, c.apart), analyse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p, err := analyse.MeasurePass(context.Background(), rec, analyse.Options{}, 1)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(p.Report.Pieces); n != 1 {
			t.Fatalf("%s: %d pieces", c.name, n)
		}
		if got := p.SewnAgain(0); got != c.again {
			t.Errorf("%s: sewn again %v, want %v", c.name, got, c.again)
		}
		told := slices.ContainsFunc(p.Report.Findings, func(f report.Finding) bool { return f.Rule == "thin-cover" })
		if told != c.told {
			t.Errorf("%s: told %v, want %v: %+v", c.name, told, c.told, p.Report.Findings)
		}
		if c.told {
			continue
		}
		// It opens as it grows: the limit lies where the rule begins to tell.
		limits, err := resize.Limits(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(limits.Limits, func(l report.ResizeLimit) bool { return l.Rule == "thin-cover" })
		if i < 0 {
			t.Fatalf("%s: no limit in %+v", c.name, limits.Limits)
		}
		for by, want := range map[float64]bool{0: false, 0.01: true} {
			r, err := analyse.Measure(context.Background(), rec, analyse.Options{}, limits.Limits[i].Scale+by)
			if err != nil {
				t.Fatal(err)
			}
			if got := slices.ContainsFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "thin-cover" }); got != want {
				t.Errorf("%s, at %.2f: told %v, want %v", c.name, limits.Limits[i].Scale+by, got, want)
			}
		}
	}
}
