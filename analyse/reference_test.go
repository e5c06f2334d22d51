package analyse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
	"gonum.org/v1/gonum/stat"
)

func ring(line []geom.Point) orb.Ring {
	r := make(orb.Ring, 0, len(line)+1)
	for _, p := range line {
		r = append(r, orb.Point{p.X, p.Y})
	}
	if len(r) > 0 && r[0] != r[len(r)-1] {
		r = append(r, r[0])
	}
	return r
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.6f, want %.6f within %.6f", what, got, want, tol)
	}
}

// outlines are closed lines of every sort, their first point not repeated:
// simple, reflex, long and thin, far from the origin, few and many points.
func outlines() map[string][]geom.Point {
	rnd := rand.New(rand.NewPCG(7, 41))
	out := map[string][]geom.Point{
		"triangle 60-80-100": {{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 0, Y: 80}},
		"square":             {{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}},
		"sliver":             {{X: -200, Y: 0}, {X: 200, Y: 0.1}, {X: 200, Y: 0.3}},
		"far away":           {{X: 9000, Y: 9000}, {X: 9020, Y: 9000}, {X: 9020, Y: 9030}, {X: 9000, Y: 9030}},
	}
	for _, n := range []int{5, 36, 72, 360, 1000} {
		var star, round []geom.Point
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := 20 + 15*rnd.Float64()
			star = append(star, geom.Point{X: r * cos, Y: r * sin})
			round = append(round, geom.Point{X: 5 - 20*cos, Y: 20 * sin})
		}
		out[fmt.Sprintf("ragged, %d corners", n)] = star
		out[fmt.Sprintf("clockwise circle, %d corners", n)] = round
	}
	return out
}

// Areas and lengths are those of a geometry library of another hand.
func TestAreaAndLengthAgainstReference(t *testing.T) {
	for name, line := range outlines() {
		r := ring(line)
		closed := append(slices.Clone(line), line[0])
		area := planar.Area(r)
		if r.Orientation() == orb.CW {
			area = -area
		}
		within(t, name+": area", math.Abs(geom.PolygonArea(line)), math.Abs(area), 1e-6)
		within(t, name+": area, closing point repeated", math.Abs(geom.PolygonArea(closed)), math.Abs(area), 1e-6)
		if (geom.PolygonArea(line) > 0) != (r.Orientation() == orb.CCW) {
			t.Errorf("%s: area %.2f, orientation %d", name, geom.PolygonArea(line), r.Orientation())
		}
		within(t, name+": length", geom.PathLength(closed), planar.Length(orb.LineString(r)), 1e-6)
		b, want := geom.BoxOf(line), r.Bound()
		within(t, name+": width", b.Width(), want.Max[0]-want.Min[0], 1e-9)
		within(t, name+": height", b.Height(), want.Max[1]-want.Min[1], 1e-9)
	}
}

// A circle of n chords: perimeter 2nR sin(pi/n), area n/2 R2 sin(2 pi/n). The
// figures are worked for R = 20.
func TestCircleOfChords(t *testing.T) {
	for _, c := range []struct {
		n               int
		perimeter, area float64
	}{{36, 125.504, 1250.27}, {72, 125.624, 1255.04}, {360, 125.662, 1256.57}} {
		var line []geom.Point
		for i := range c.n + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(c.n))
			line = append(line, geom.Point{X: 20 * cos, Y: 20 * sin})
		}
		within(t, fmt.Sprintf("perimeter of %d", c.n), geom.PathLength(line), c.perimeter, 1e-3)
		within(t, fmt.Sprintf("area of %d", c.n), geom.PolygonArea(line), c.area, 1e-2)
	}
}

func TestInsideAgainstReference(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for name, line := range outlines() {
		r := ring(line)
		b := geom.BoxOf(line).Grown(3)
		for range 400 {
			q := geom.Point{X: b.Lo.X + rnd.Float64()*b.Width(), Y: b.Lo.Y + rnd.Float64()*b.Height()}
			if got, want := geom.InsidePolygon(q, line), planar.RingContains(r, orb.Point{q.X, q.Y}); got != want {
				t.Errorf("%s: %v inside is %v, want %v", name, q, got, want)
			}
		}
	}
}

func TestDistanceAgainstReference(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 2))
	at := func() geom.Point { return geom.Point{X: rnd.Float64()*40 - 20, Y: rnd.Float64()*40 - 20} }
	for i := range 500 {
		q, a, b := at(), at(), at()
		if i%20 == 0 {
			b = a
		}
		want := planar.DistanceFromSegment(orb.Point{a.X, a.Y}, orb.Point{b.X, b.Y}, orb.Point{q.X, q.Y})
		within(t, fmt.Sprintf("distance from %v to %v-%v", q, a, b), geom.DistanceToSegment(q, a, b), want, 1e-9)
	}
}

// Resampling keeps ends and never lengthens a line, nor leaves wide steps.
func TestResample(t *testing.T) {
	for name, line := range outlines() {
		for _, step := range []float64{0.25, 1, 7} {
			q := geom.Resample(line, step)
			l := planar.Length(orb.LineString(ring(line)[:len(line)]))
			if q[0] != line[0] || q[len(q)-1] != line[len(line)-1] {
				t.Errorf("%s: ends moved", name)
			}
			if want := int(math.Ceil(l/step)) + 1; len(q) < want-1 || len(q) > want+1 {
				t.Errorf("%s: %d points every %.2f along %.2f, want %d", name, len(q), step, l, want)
			}
			for i := 1; i < len(q); i++ {
				if d := geom.Distance(q[i-1], q[i]); d > step+1e-9 {
					t.Fatalf("%s: step of %.3f, want %.2f at most", name, d, step)
				}
			}
			if geom.PathLength(q) > l+1e-6 {
				t.Errorf("%s: %.3f long after, %.3f before", name, geom.PathLength(q), l)
			}
		}
	}
}

// reference is Hyndman and Fan's quantile 7 by way of their quantile 4, which the
// reference library has: 4 reads the sorted values at n p, 7 at (n-1) p + 1.
func reference(values []float64, p float64) float64 {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	n := float64(len(sorted))
	return stat.Quantile(min(1, ((n-1)*p+1)/n), stat.LinInterp, sorted, nil)
}

func TestQuantileAgainstReference(t *testing.T) {
	rnd := rand.New(rand.NewPCG(19, 84))
	for _, n := range []int{1, 2, 3, 10, 101, 1000} {
		v := make([]float64, n)
		for i := range v {
			v[i] = rnd.NormFloat64()
			if i%3 == 0 {
				v[i] = math.Round(v[i]) // equal values
			}
		}
		slices.Sort(v)
		for _, p := range []float64{0, 0.05, 0.25, 0.5, 0.9, 0.95, 1} {
			within(t, fmt.Sprintf("quantile %.2f of %d", p, n), geom.Quantile(v, p), reference(v, p), 1e-9)
		}
	}
	// Worked by hand: the median of four lies between the middle two.
	within(t, "median of 1, 2, 4, 8", geom.Quantile([]float64{1, 2, 4, 8}, 0.5), 3, 1e-12)
}

// The spread of a column's width is that of the distances between its rails,
// and its centre is as long as the column.
func TestSpreadOfAColumnAgainstReference(t *testing.T) {
	left, right := st.Line(st.Point{Y: 3}, st.Point{X: 60, Y: 1}), st.Line(st.Point{Y: -3}, st.Point{X: 60, Y: -1})
	r := mustRun(new(st.Builder).Rails(left, right, 0.4, 0).Design(), report.DefaultSettings())
	if len(r.SatinColumns) != 1 {
		t.Fatalf("%d columns", len(r.SatinColumns))
	}
	c := r.SatinColumns[0]
	if len(c.Centre) < 100 || len(c.Left) != len(c.Centre) || len(c.Right) != len(c.Centre) {
		t.Fatalf("%d points along the centre, %d and %d along the rails", len(c.Centre), len(c.Left), len(c.Right))
	}
	var widths []float64
	for i := range c.Centre {
		widths = append(widths, geom.Distance(c.Left[i], c.Right[i]))
		within(t, "distance of the centre from the middle", geom.Distance(c.Centre[i], geom.Middle(c.Left[i], c.Right[i])), 0, 0.2)
	}
	within(t, "5 % of width", c.Width.P5, reference(widths, 0.05), 0.1)
	within(t, "median width", c.Width.Median, reference(widths, 0.5), 0.05)
	within(t, "95 % of width", c.Width.P95, reference(widths, 0.95), 0.1)
	var centre orb.LineString
	for _, p := range c.Centre {
		centre = append(centre, orb.Point{p.X, p.Y})
	}
	within(t, "length", c.LengthMM, planar.Length(centre), 0.01*c.LengthMM)
	within(t, "place of the least width", c.Width.MinAt[0], 30, 3)
	within(t, "place of the greatest width", c.Width.MaxAt[0], -30, 3)
}

// The sizes of a piece are those of its tack-down line, whatever its shape.
func TestPieceAgainstReference(t *testing.T) {
	heart := func() st.Path {
		var p st.Path
		for i := range 181 {
			sin, cos := math.Sincos(-2 * math.Pi * float64(i%180) / 180)
			a := -2 * math.Pi * float64(i%180) / 180
			p = append(p, st.Point{X: 32 * sin * sin * sin, Y: 2 * (13*cos - 5*math.Cos(2*a) - 2*math.Cos(3*a) - math.Cos(4*a))})
		}
		return p
	}()
	for name, outline := range map[string]st.Path{
		"circle":    st.Circle(st.Point{}, 30),
		"rectangle": st.Rect(st.Point{}, 70, 40),
		"triangle":  st.Polygon(st.Point{}, st.Point{X: 60}, st.Point{Y: 80}),
		"heart":     heart,
	} {
		var b st.Builder
		b.Run(outline, 2).Stop()
		b.DoubleRun(outline, 2).Stop()
		b.Satin(outline, st.SatinAlong{Width: 4, Pitch: 0.4})
		r := mustRun(b.Design(), report.DefaultSettings())
		if len(r.Pieces) != 1 {
			t.Errorf("%s: %d pieces", name, len(r.Pieces))
			continue
		}
		p := r.Pieces[0]
		var laid orb.Ring
		for _, q := range outline {
			laid = append(laid, orb.Point{q.X, q.Y})
		}
		area, length := planar.Area(laid), planar.Length(orb.LineString(laid))
		within(t, name+": area", p.AreaMM2, math.Abs(area), 0.005*math.Abs(area))
		within(t, name+": perimeter", p.PerimeterMM, length, 0.005*length)
		within(t, name+": area of the tack-down line", math.Abs(planar.Area(ring(p.TackDown))), math.Abs(area), 0.005*math.Abs(area))
		if name == "heart" {
			continue
		}
		// Steiner: a convex outline pushed out by r has the area A + Pr + pi r2
		// with round corners, and up to r2 times the tangents of half the turns
		// with sharp ones.
		const allowance = 1.0
		steiner := math.Abs(area) + length*allowance + math.Pi*allowance*allowance
		within(t, name+": area inside the cut edge", math.Abs(planar.Area(ring(p.CutEdge[0]))), steiner, 0.005*steiner)
	}
}

// Laid thread over cloth in the middle of satin is 2w/p; in all, thread area is length
// times width.
func TestDensityOfSatin(t *testing.T) {
	s := report.DefaultSettings()
	s.Flattening = 0.3 / report.Diameter(s.ThreadWeight)
	for _, c := range []struct{ pitch, width float64 }{{0.4, 9}, {0.6, 9}, {0.4, 4}} {
		d := new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: 60}), st.SatinAlong{Width: c.width, Pitch: c.pitch}).Design()
		r := mustRun(d, s)
		g := r.Density.Grid
		if g == nil {
			t.Fatal("no grid")
		}
		var laid, length float64
		for i := range g.Layers {
			laid += float64(g.Layers[i]) * g.CellMM * g.CellMM
		}
		var prev geom.Point
		for i, m := range d.Moves[:len(d.Moves)-1] {
			q := geom.Point{X: float64(m.X) / 10, Y: float64(m.Y) / 10}
			if i > 1 {
				length += geom.Distance(prev, q)
			}
			prev = q
		}
		within(t, "thread area", laid, length*0.3, 0.01*length*0.3)
		if c.width > 5 {
			// Rows of cells clear of the rails.
			var sum, n float64
			for j := range g.NY {
				for i := range g.NX {
					x, y := g.X+(float64(i)+0.5)*g.CellMM, g.Y+(float64(j)+0.5)*g.CellMM
					if math.Abs(x) < 25 && math.Abs(y) < c.width/2-1.5 {
						sum += float64(g.Layers[j*g.NX+i])
						n++
					}
				}
			}
			within(t, "layers", sum/n, 2*0.3/c.pitch, 0.02*2*0.3/c.pitch)
		}
	}
}
