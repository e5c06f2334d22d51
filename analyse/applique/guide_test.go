package applique

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// The place found is the nearest of all segments, wherever the one before was asked for:
// on a ring, on a line that folds back on itself, and on one that crosses itself.
func TestGuideFindsTheNearest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 7))
	var eight, folded []geom.Point
	for i := range 200 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 199)
		eight = append(eight, mm(30*sin, 15*sin*cos))
		folded = append(folded, mm(math.Abs(float64(i)-100)*0.6, 1.1*math.Sin(float64(i)/9)))
	}
	for name, line := range map[string][]geom.Point{"ring": arc(20, 0, 360), "eight": eight, "folded": folded, "edge": arc(3, 0, 360)} {
		g := newGuide(line)
		at := line[0]
		for range 4000 {
			if rnd.IntN(20) == 0 {
				at = line[rnd.IntN(len(line))]
			}
			at = at.Add(mm(rnd.NormFloat64(), rnd.NormFloat64()))
			want := math.Inf(1)
			for i := range len(g.sides) - 1 {
				want = min(want, geom.DistanceToSegment(at, g.sides[i].from, g.sides[i+1].from))
			}
			reach := 0.5 + 9*rnd.Float64()
			d, segment, along := g.nearest(at, reach)
			if segment < 0 {
				if want < reach {
					t.Fatalf("%s: nothing within %v mm of %v, which lies %v mm off", name, reach, at, want)
				}
				continue
			}
			if math.Abs(d-want) > 1e-9 || math.Abs(geom.DistanceToSegment(at, g.sides[segment].from, g.sides[segment+1].from)-d) > 1e-9 {
				t.Fatalf("%s: %v lies %v mm off, want %v", name, at, d, want)
			}
			if v := &g.sides[segment]; along < v.along-1e-9 || along > g.sides[segment+1].along+1e-9 {
				t.Fatalf("%s: %v mm along is not on segment %d", name, along, segment)
			}
		}
	}
}
