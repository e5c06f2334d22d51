package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Every node so near a contour that the contour may pass it on either side is known, and how
// far it lies from the lines: about corners of any turn, lines that cross themselves, and
// contours nearer than a cell.
func TestFieldKnowsAllNearItsContour(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 40 {
		var line []Point
		for range 3 + n%9 {
			line = append(line, Point{30 * r.Float64(), 30 * r.Float64()})
		}
		d := []float64{2, -2, 0.2, -0.3, 6}[n%5]
		f := newField([][]Point{line}, d)
		if f == nil {
			t.Fatalf("%d: nothing is enclosed", n)
		}
		near := 0
		for j := range f.ny * tileSide {
			for i := range f.nx * tileSide {
				q := f.place(i, j)
				away := math.Inf(1)
				for k := range f.sides {
					away = min(away, DistanceToSegment(q, f.sides[k].a, f.sides[k].b))
				}
				if windsRound(q, f.sides) {
					away = -away
				}
				if math.Abs(away-d) > math.Sqrt2*f.cell {
					continue
				}
				near++
				tile := f.tile[j/tileSide*f.nx+i/tileSide]
				if tile == 0 || f.known[int(tile-1)*tileSide+j%tileSide]>>(i%tileSide)&1 == 0 {
					t.Fatalf("%d: a node %.3f mm from the lines is not known, and the contour is at %g", n, away, d)
				}
				if got := rooted(f.dist[f.node(i, j)]); math.Abs(got-away) > 1e-9 {
					t.Fatalf("%d: a node lies at %.4f, and is told to at %.4f", n, away, got)
				}
			}
		}
		if near < 100 && d > 0 {
			t.Errorf("%d: %d nodes lie near the contour", n, near)
		}
		f.done()
	}
}

// windsRound reports whether sides wind round a place.
func windsRound(q Point, sides []fieldSide) bool {
	wound := 0
	for _, s := range sides {
		left := s.b.Sub(s.a).Cross(q.Sub(s.a)) > 0
		switch {
		case s.a.Y <= q.Y && s.b.Y > q.Y && left:
			wound++
		case s.a.Y > q.Y && s.b.Y <= q.Y && !left:
			wound--
		}
	}
	return wound != 0
}
