package analyse_test

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	columns "github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A curved column and how much of it lies under thread, by our lanes (with all else that
// is found out about the column) and by the union of its threads in a general library.
// Both must come to the same.
func BenchmarkCoverage(b *testing.B) {
	var bend st.Builder
	var path st.Path
	for degree := range 91 {
		sin, cos := math.Sincos(float64(degree) * math.Pi / 180)
		path = append(path, st.Point{X: 15 * cos, Y: 15 * sin})
	}
	bend.Satin(path, st.SatinAlong{Width: 4, Pitch: 0.4})
	sewn, err := stitches.Sew(b.Context(), bend.Design())
	if err != nil {
		b.Fatal(err)
	}
	set := report.DefaultSettings()
	column := func() report.SatinColumn {
		f, err := columns.Find(b.Context(), sewn)
		if err != nil {
			b.Fatal(err)
		}
		found, _, err := f.Measure(b.Context(), sewn, set.LaidWidth(), nil)
		if err != nil || len(found) != 1 {
			b.Fatalf("%d columns, %v; want one", len(found), err)
		}
		return found[0]
	}
	c := column()
	rails := append([]geom.Point{}, c.Left[1:len(c.Left)-1]...)
	for i := len(c.Right) - 2; i > 0; i-- {
		rails = append(rails, c.Right[i])
	}
	library := func() float64 {
		var threads []sf.Geometry
		for i := 1; i < len(sewn.Track.Pts); i++ {
			threads = append(threads, capsule(sewn.Track.Pts[i-1], sewn.Track.Pts[i], set.LaidWidth()/2))
		}
		union, err := sf.UnionMany(threads)
		if err != nil {
			b.Fatal(err)
		}
		under, err := sf.Intersection(union, polygonOf(rails))
		if err != nil {
			b.Fatal(err)
		}
		return under.Area() / polygonOf(rails).Area()
	}
	if want := library(); math.Abs(c.Coverage-want) > 0.005 {
		b.Fatalf("coverage %.4f, the library's %.4f", c.Coverage, want)
	}
	b.Run("lanes", func(b *testing.B) {
		for b.Loop() {
			column()
		}
	})
	b.Run("library", func(b *testing.B) {
		for b.Loop() {
			library()
		}
	})
}
