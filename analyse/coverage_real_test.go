package analyse_test

import (
	"cmp"
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Coverage of columns that people have sewn is that of a library of polygons: the
// ground is what lies between the stations of the rails, the thread all stitches from
// the column's first to its last, each as wide as laid with round ends. The library
// cuts them with lines close together, since the union of hundreds of threads that lie
// over one another is more than it can be trusted with. At most one column in fifty differs by more than 0.05, and none is
// called thin, or not, wrongly by more than 0.02.
func TestCoverageOfRealColumns(t *testing.T) {
	wholeOnly(t)
	files, _ := filepath.Glob("../../shared/designs/*/*.*")
	if len(files) == 0 {
		t.Skip("the real designs are not here: ../../shared/designs")
	}
	if testing.Short() {
		t.Skip("the library takes its time")
	}
	const (
		most    = 120 // crossings of the columns looked at: the library takes its time
		mostOff = 30  // columns of one design
	)
	set := report.DefaultSettings()
	half, limit := set.LaidWidth()/2, set.Limit("thin-cover")
	n, off := 0, 0
	for _, f := range files {
		data, err := os.Open(f)
		if err != nil {
			t.Fatal(err)
		}
		d, _ := stitchfile.Decode(data)
		data.Close()
		if d == nil {
			continue
		}
		r, err := analyse.Run(context.Background(), d, analyse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		of := 0
		for i := range r.SatinColumns {
			c := &r.SatinColumns[i]
			if c.LengthMM < 5 || c.Crossings > most || of == mostOff {
				continue
			}
			of++
			var ground, thread []sf.Geometry
			for k := 1; k+2 < len(c.Left); k++ {
				for _, three := range [][3]geom.Point{{c.Left[k], c.Right[k], c.Right[k+1]}, {c.Left[k], c.Right[k+1], c.Left[k+1]}} {
					if math.Abs(geom.PolygonArea(three[:])) > 1e-6 {
						ground = append(ground, polygonOf(three[:]))
					}
				}
			}
			at := func(m stitchfile.Move) geom.Point {
				return geom.Point{X: (float64(m.X) - r.CentreX) / 10, Y: (float64(m.Y) - r.CentreY) / 10}
			}
			for k := c.First + 1; k < c.Last; k++ {
				if a, b := d.Moves[k-1], d.Moves[k]; a.Kind == stitchfile.Stitch && b.Kind == stitchfile.Stitch && a != b {
					thread = append(thread, capsule(at(a), at(b), half))
				}
			}
			n++
			want := scanned(t, ground, thread)
			if math.Abs(c.Coverage-want) > 0.05 {
				off++
				t.Logf("%s, stop %d, %.0f mm, %.2f wide, pitch %.2f: %.3f, want %.3f", filepath.Base(f), c.Stop, c.LengthMM, c.Width.Median, c.Pitch.Median, c.Coverage, want)
			}
			if (c.Coverage < limit) != (want < limit) && math.Abs(c.Coverage-want) > 0.02 {
				t.Errorf("%s, stop %d, %.0f mm, %.2f wide, pitch %.2f: %.3f, want %.3f", filepath.Base(f), c.Stop, c.LengthMM, c.Width.Median, c.Pitch.Median, c.Coverage, want)
			}
		}
	}
	t.Logf("%d columns, %d of them off by more than 0.05", n, off)
	if n < 50 || off*50 > n {
		t.Errorf("%d of %d columns are off by more than 0.05", off, n)
	}
}

// scanned is the share of the ground that lies under threads, along lines slanted so
// that few threads run along them.
func scanned(t *testing.T, ground, thread []sf.Geometry) float64 {
	t.Helper()
	const apart = 0.17 // mm
	sin, cos := math.Sincos(0.65)
	across := func(q sf.XY) float64 { return q.Y*cos - q.X*sin }
	type span struct{ lo, hi float64 }
	reach := func(g sf.Geometry) span {
		s := span{math.Inf(1), math.Inf(-1)}
		c := g.MustAsPolygon().ExteriorRing().Coordinates()
		for i := range c.Length() {
			s.lo, s.hi = min(s.lo, across(c.GetXY(i))), max(s.hi, across(c.GetXY(i)))
		}
		return s
	}
	lines := map[int]*[2][]span{}
	for side, all := range [2][]sf.Geometry{ground, thread} {
		for _, g := range all {
			r := reach(g)
			for k := int(math.Ceil(r.lo / apart)); float64(k)*apart <= r.hi; k++ {
				at := func(along float64) (x, y float64) {
					return along*cos - float64(k)*apart*sin, along*sin + float64(k)*apart*cos
				}
				x0, y0 := at(-500)
				x1, y1 := at(500)
				cut, err := sf.Intersection(sf.NewLineString(sf.NewSequence([]float64{x0, y0, x1, y1}, sf.DimXY)).AsGeometry(), g)
				if err != nil {
					t.Fatal(err)
				}
				l, ok := cut.AsLineString()
				if !ok || l.IsEmpty() {
					continue
				}
				p, q := l.Coordinates().GetXY(0), l.Coordinates().GetXY(l.Coordinates().Length()-1)
				a, b := p.X*cos+p.Y*sin, q.X*cos+q.Y*sin
				if lines[k] == nil {
					lines[k] = &[2][]span{}
				}
				lines[k][side] = append(lines[k][side], span{min(a, b), max(a, b)})
			}
		}
	}
	joined := func(all []span) (out []span) {
		slices.SortFunc(all, func(a, b span) int { return cmp.Compare(a.lo, b.lo) })
		for _, s := range all {
			if n := len(out); n > 0 && s.lo <= out[n-1].hi {
				out[n-1].hi = max(out[n-1].hi, s.hi)
			} else {
				out = append(out, s)
			}
		}
		return out
	}
	var all, under float64
	for _, l := range lines {
		threads := joined(l[1])
		for _, g := range joined(l[0]) {
			all += g.hi - g.lo
			for _, h := range threads {
				under += max(0, min(g.hi, h.hi)-max(g.lo, h.lo))
			}
		}
	}
	return under / all
}

func polygonOf(pts []geom.Point) sf.Geometry {
	var flat []float64
	for _, q := range append(append([]geom.Point{}, pts...), pts[0]) {
		flat = append(flat, q.X, q.Y)
	}
	return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(flat, sf.DimXY))}).AsGeometry()
}

// capsule is the ground under a thread, its round ends as half a dodecagon.
func capsule(a, b geom.Point, half float64) sf.Geometry {
	v := b.Sub(a)
	to := math.Atan2(v.Y, v.X)
	var pts []geom.Point
	for _, end := range []struct {
		at   geom.Point
		from float64
	}{{b, to - math.Pi/2}, {a, to + math.Pi/2}} {
		for k := range 7 {
			sin, cos := math.Sincos(end.from + math.Pi/6*float64(k))
			pts = append(pts, end.at.Add(geom.Point{X: cos * half, Y: sin * half}))
		}
	}
	return polygonOf(pts)
}
