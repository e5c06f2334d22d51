package analyse_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// penetrations gives where the needle goes in, mm.
func penetrations(d *stitchfile.Design) []st.Point {
	var at []st.Point
	for _, m := range d.Moves {
		if m.Kind == stitchfile.Stitch {
			at = append(at, st.Point{X: float64(m.X) / 10, Y: float64(m.Y) / 10})
		}
	}
	return at
}

// raster counts the cells of a fine grid that lie inside outline (even-odd) and
// those of them under a thread of width w.
func raster(outline []st.Path, stitches []st.Point, w float64) float64 {
	cell := w / 10
	lo, hi := st.Point{X: math.Inf(1), Y: math.Inf(1)}, st.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range outline {
		for _, q := range p {
			lo.X, lo.Y = min(lo.X, q.X), min(lo.Y, q.Y)
			hi.X, hi.Y = max(hi.X, q.X), max(hi.Y, q.Y)
		}
	}
	nx, ny := int((hi.X-lo.X)/cell)+1, int((hi.Y-lo.Y)/cell)+1
	inside, under := make([]bool, nx*ny), make([]bool, nx*ny)
	for j := range ny {
		y := lo.Y + (float64(j)+0.5)*cell
		var xs []float64
		for _, p := range outline {
			for i := 1; i < len(p); i++ {
				if a, b := p[i-1], p[i]; (a.Y <= y) != (b.Y <= y) {
					xs = append(xs, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			for k := max(0, int((xs[i]-lo.X)/cell-0.5)); k < nx; k++ {
				x := lo.X + (float64(k)+0.5)*cell
				if x >= xs[i+1] {
					break
				}
				inside[j*nx+k] = inside[j*nx+k] || x >= xs[i]
			}
		}
	}
	for i := 1; i < len(stitches); i++ {
		a, b := stitches[i-1], stitches[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		l2 := dx*dx + dy*dy
		j0, j1 := int((min(a.Y, b.Y)-w-lo.Y)/cell), int((max(a.Y, b.Y)+w-lo.Y)/cell)
		for j := max(0, j0); j <= min(ny-1, j1); j++ {
			y := lo.Y + (float64(j)+0.5)*cell - a.Y
			// Where the row can meet the thread at all.
			x0, x1 := min(a.X, b.X)-w, max(a.X, b.X)+w
			if math.Abs(dy) > w {
				mid, half := a.X+y*dx/dy, w*math.Sqrt(l2)/math.Abs(dy)
				x0, x1 = max(x0, mid-half), min(x1, mid+half)
			}
			for k := max(0, int((x0-lo.X)/cell)); k <= min(nx-1, int((x1-lo.X)/cell)); k++ {
				x := lo.X + (float64(k)+0.5)*cell - a.X
				u := 0.0
				if l2 > 0 {
					u = max(0, min(1, (x*dx+y*dy)/l2))
				}
				if math.Hypot(x-u*dx, y-u*dy) <= w/2 {
					under[j*nx+k] = true
				}
			}
		}
	}
	all, hit := 0, 0
	for i := range inside {
		if inside[i] {
			all++
			if under[i] {
				hit++
			}
		}
	}
	return float64(hit) / float64(max(1, all))
}

// The raster itself: parallel threads, and a zigzag by its formula.
func TestRaster(t *testing.T) {
	var parallel []st.Point
	for i := range 51 {
		y := 3.0
		if i%2 == 1 {
			y = -3
		}
		x := 0.4 * float64(i)
		parallel = append(parallel, st.Point{X: x, Y: y}, st.Point{X: x, Y: -y})
	}
	box := []st.Path{st.Rect(st.Point{X: 10}, 19.6, 4)}
	near(t, "parallel threads", raster(box, parallel, 0.3), 0.75, 0.005)
	var zigzag []st.Point
	for i := range 101 {
		zigzag = append(zigzag, st.Point{X: 0.2 * float64(i), Y: 10 - 20*float64(i%2)})
	}
	near(t, "zigzag", raster([]st.Path{st.Rect(st.Point{X: 10}, 18, 20)}, zigzag, 0.3), 0.9375, 0.005)
	near(t, "no thread", raster(box, nil, 0.3), 0, 0)
}

// between is the outline of what lies between the rails of a column along p.
func between(p st.Path, width float64) []st.Path {
	left, right := p.Offset(width/2), p.Offset(-width/2)
	if p.Closed() {
		return []st.Path{left, right}
	}
	return []st.Path{append(append(append(st.Path{}, left...), right.Reverse()...), left[0])}
}

// Coverage agrees with a raster that shares nothing with it but the stitches.
func TestCoverageAgainstARaster(t *testing.T) {
	arc := st.Arc(st.Point{}, 12, 0, 2.5)
	tight := st.Arc(st.Point{}, 6, 0, 4)
	var bend st.Path
	for i := range 241 {
		x := float64(i) / 4
		bend = append(bend, st.Point{X: x, Y: 6 * math.Sin(x/7)})
	}
	rails := func(a, b float64) (left, right st.Path, outline []st.Path) {
		left = st.Line(st.Point{Y: a / 2}, st.Point{X: 60, Y: b / 2})
		right = st.Line(st.Point{Y: -a / 2}, st.Point{X: 60, Y: -b / 2})
		return left, right, []st.Path{st.Polygon(left[0], left[1], right[1], right[0])}
	}
	tl, tr, taper := rails(6, 1.5)
	wl, wr, wide := rails(13, 6)
	sa := func(width, pitch, split float64) st.SatinAlong {
		return st.SatinAlong{Width: width, Pitch: pitch, Split: split}
	}
	for _, c := range []struct {
		name    string
		b       *st.Builder
		outline []st.Path
	}{
		{"straight", new(st.Builder).Satin(straight(50), sa(4, 0.4, 0)), between(straight(50), 4)},
		{"straight, narrow", new(st.Builder).Satin(straight(50), sa(1.5, 0.6, 0)), between(straight(50), 1.5)},
		{"straight and slant", new(st.Builder).Satin(straight(50), st.SatinAlong{Width: 3, Pitch: 0.6, Slant: true}), between(straight(50), 3)},
		{"at 0.9", new(st.Builder).Satin(straight(50), sa(5, 0.9, 0)), between(straight(50), 5)},
		{"ring", new(st.Builder).Satin(st.Circle(st.Point{}, 15), sa(4, 0.45, 0)), between(st.Circle(st.Point{}, 15), 4)},
		{"bend", new(st.Builder).Satin(arc, sa(4, 0.5, 0)), between(arc, 4)},
		{"tight bend", new(st.Builder).Satin(tight, sa(5, 0.5, 0)), between(tight, 5)},
		{"tight bend, short stitches", new(st.Builder).ShortStitches(tight, sa(5, 0.5, 0), 0.25), between(tight, 5)},
		{"bends both ways", new(st.Builder).Satin(bend, sa(4, 0.5, 0)), between(bend, 4)},
		{"tapering", new(st.Builder).Rails(tl, tr, 0.5, 0), taper},
		{"split", new(st.Builder).Satin(straight(50), sa(12, 0.5, 7)), between(straight(50), 12)},
		{"split, tapering", new(st.Builder).Rails(wl, wr, 0.5, 7), wide},
		{"ladder", new(st.Builder).Ladder(straight(50), 5, 0.5), between(straight(50), 5)},
	} {
		for _, w := range []float64{0.2, 0.3} {
			t.Run(fmt.Sprintf("%s, laid %.1f", c.name, w), func(t *testing.T) {
				d := c.b.Design()
				col := oneColumn(t, d, laying(w))
				near(t, "cover", col.Coverage, raster(c.outline, penetrations(d), w), 0.015)
			})
		}
	}
}
