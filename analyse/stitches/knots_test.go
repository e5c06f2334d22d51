package stitches

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// knot is spokes out from a hole and back into it, so many degrees apart.
func knot(at geom.Point, length, apart float64, spokes int) []geom.Point {
	out := []geom.Point{at}
	for k := range spokes {
		out = append(out, at.Add(turned(apart*float64(k)).Times(length)), at)
	}
	return out
}

// The spokes of a knot are no crossings; those of a fan, which goes half round a corner of
// satin, are.
func TestKnotsAreNoSatin(t *testing.T) {
	for _, c := range []struct {
		name   string
		apart  float64
		spokes int
		satin  bool
	}{
		{"eight spokes all round", 45, 8, false},
		{"five spokes all round", 72, 5, false},
		{"a fan of 13 over a half round", 15, 13, true},
		{"spokes over three quarters and no spoke for 110 degrees", 25, 11, true},
		{"spokes that leave out 90 degrees", 30, 10, false},
	} {
		pts := []geom.Point{mm(-9, 0), mm(-6, 0.2), mm(-3, 0)}
		pts = append(pts, knot(mm(0, 0), 1.5, c.apart, c.spokes)...)
		k := kinds(append(pts, mm(3, 0.3), mm(6, 0), mm(9, 0.2)))
		satin := 0
		for _, kind := range k[3 : len(k)-3] {
			if kind == report.KindSatin || kind == report.KindOpenZigzag {
				satin++
			}
		}
		if got := satin > c.spokes; got != c.satin {
			t.Errorf("%s: %d of %d stitches are crossings, want most: %v", c.name, satin, 2*c.spokes, c.satin)
		}
	}
	cross := knot(mm(0, 0), 1.5, 90, 4)
	track := &Track{Pts: cross, Kind: make([]report.Kind, len(cross)), Marks: make([]Mark, len(cross))}
	track.markKnots(0, len(cross))
	for i, k := range track.Kind {
		if k == knotted {
			t.Fatalf("stitch %d of a cross is of a knot", i)
		}
	}
}

// A stitch more than twice as long as its neighbours hops from one pearl of satin to the next;
// one of nearly that length is a crossing, and they are one surface.
func TestHopsFromPearlToPearl(t *testing.T) {
	for _, c := range []struct {
		hop  float64
		hops bool
	}{{3.4, false}, {4.4, true}} {
		pearl := func(x, y float64) (out []geom.Point) {
			for i := range 9 {
				out = append(out, mm(x+0.2*float64(i), y+1.8*float64(i%2)))
			}
			return out
		}
		k := kinds(append(pearl(0, 0), pearl(1.6, -c.hop)...))
		if got := !k[9].Surface(); got != c.hops {
			t.Errorf("a stitch of %.1f mm between crossings of 1.8 mm is %v: it hops: %v", c.hop, k[9], c.hops)
		}
		if c.hops && (k[4] != report.KindSatin || k[14] != report.KindSatin) {
			t.Errorf("the pearls that a stitch of %.1f mm joins are %v and %v, want satin", c.hop, k[4], k[14])
		}
	}
}
