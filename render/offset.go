package render

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// offset gives the outer outlines of all that lies within margin mm of a closed
// line or inside it: the line pushed out with round corners. It is worked out
// as the contour of a field of distances, so that lines that cross themselves do
// no harm. Places are right to about 0.02 mm on shapes up to 300 mm.
func offset(line []geom.Point, margin float64) [][]geom.Point {
	if len(line) < 3 {
		return nil
	}
	if margin <= 0 {
		return [][]geom.Point{closeUp(line)}
	}
	f := newField(thin(line), margin)
	if f == nil {
		return nil
	}
	var out [][]geom.Point
	for _, loop := range f.contour(margin) {
		// Loops that run the other way round are pockets inside the shape.
		if signedArea(loop) > 0.5 {
			out = append(out, simplify(loop, 0.01))
		}
	}
	return out
}

// closeUp is the line with its first point repeated at its end.
func closeUp(line []geom.Point) []geom.Point {
	if n := len(line); n > 0 && line[0] != line[n-1] {
		return append(append([]geom.Point{}, line...), line[0])
	}
	return line
}

// maxCorners bounds the corners of a line that is pushed out, so that a crafted
// line costs precision and not time.
const maxCorners = 8192

func thin(line []geom.Point) []geom.Point {
	step := (len(line) + maxCorners - 1) / maxCorners
	if step <= 1 {
		return line
	}
	var out []geom.Point
	for i := 0; i < len(line); i += step {
		out = append(out, line[i])
	}
	return out
}

// signedArea is positive for a loop that runs counter-clockwise.
func signedArea(loop []geom.Point) float64 {
	var sum float64
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

// field holds signed distances to a closed line, negative inside, at the corners
// of a square grid.
type field struct {
	x, y, cell float64
	nx, ny     int
	at         []float64
}

const (
	fieldCell = 0.25   // mm
	maxField  = 1400   // cells along a side
	maxLength = 80_000 // of the line, in cells: 20 m of a line round one piece is no outline
)

// newField makes the field of a line, or nil for one too long to be worked out.
func newField(line []geom.Point, margin float64) *field {
	lo, hi := line[0], line[0]
	for _, p := range line {
		lo.X, hi.X = min(lo.X, p.X), max(hi.X, p.X)
		lo.Y, hi.Y = min(lo.Y, p.Y), max(hi.Y, p.Y)
	}
	side := max(hi.X-lo.X, hi.Y-lo.Y) + 2*margin
	f := &field{cell: max(fieldCell, side/maxField)}
	reach := margin + 3*f.cell
	f.x, f.y = lo.X-reach, lo.Y-reach
	f.nx, f.ny = int((hi.X-lo.X+2*reach)/f.cell)+2, int((hi.Y-lo.Y+2*reach)/f.cell)+2
	f.at = make([]float64, f.nx*f.ny)
	for i := range f.at {
		f.at[i] = reach
	}
	length := 0.0
	for i, p := range line {
		q := line[(i+1)%len(line)]
		length += math.Hypot(q.X-p.X, q.Y-p.Y)
	}
	if !(length <= maxLength*f.cell) {
		return nil
	}
	for i, p := range line {
		q := line[(i+1)%len(line)]
		// A long side is taken in parts, whose boxes are small.
		n := math.Ceil(math.Hypot(q.X-p.X, q.Y-p.Y)/reach + 0.01)
		at := func(k float64) geom.Point {
			return geom.Point{X: p.X + (q.X-p.X)*k/n, Y: p.Y + (q.Y-p.Y)*k/n}
		}
		for k := 0.0; k < n; k++ {
			f.near(at(k), at(k+1), reach)
		}
	}
	f.inside(line)
	return f
}

// near lowers the distances around one side of the line.
func (f *field) near(p, q geom.Point, reach float64) {
	dx, dy := q.X-p.X, q.Y-p.Y
	l2 := dx*dx + dy*dy
	i0, i1 := max(0, int((min(p.X, q.X)-reach-f.x)/f.cell)), min(f.nx-1, int((max(p.X, q.X)+reach-f.x)/f.cell)+1)
	j0, j1 := max(0, int((min(p.Y, q.Y)-reach-f.y)/f.cell)), min(f.ny-1, int((max(p.Y, q.Y)+reach-f.y)/f.cell)+1)
	for j := j0; j <= j1; j++ {
		y := f.y + float64(j)*f.cell - p.Y
		for i := i0; i <= i1; i++ {
			x := f.x + float64(i)*f.cell - p.X
			t := 0.0
			if l2 > 0 {
				t = max(0, min(1, (x*dx+y*dy)/l2))
			}
			ex, ey := x-t*dx, y-t*dy
			if d := ex*ex + ey*ey; d < f.at[j*f.nx+i]*f.at[j*f.nx+i] {
				f.at[j*f.nx+i] = math.Sqrt(d)
			}
		}
	}
}

// inside turns the distances inside the line negative, by the even-odd rule.
func (f *field) inside(line []geom.Point) {
	in := make([]bool, len(f.at))
	for k, p := range line {
		q := line[(k+1)%len(line)]
		if p.Y > q.Y {
			p, q = q, p
		}
		// Both ends are rounded alike, so that sides which meet on a row of the
		// grid cross it once between them.
		j0, j1 := int(math.Ceil((p.Y-f.y)/f.cell)), int(math.Ceil((q.Y-f.y)/f.cell))
		for j := max(0, j0); j < min(j1, f.ny); j++ {
			y := f.y + float64(j)*f.cell
			x := p.X + (q.X-p.X)*(y-p.Y)/(q.Y-p.Y)
			if i := max(0, int(math.Ceil((x-f.x)/f.cell))); i < f.nx {
				in[j*f.nx+i] = !in[j*f.nx+i]
			}
		}
	}
	for j := range f.ny {
		odd := false
		for i := range f.nx {
			odd = odd != in[j*f.nx+i]
			if odd {
				f.at[j*f.nx+i] = -f.at[j*f.nx+i]
			}
		}
	}
}

// contour follows the line at which the field has a value, by marching squares,
// with what is less on the left hand.
func (f *field) contour(level float64) [][]geom.Point {
	// An edge of the grid is known by its corner and whether it goes up; each
	// edge the contour crosses leads to one next edge.
	next := make(map[int]int)
	where := make(map[int]geom.Point)
	var order []int
	cross := func(i, j int, up bool) int {
		a := j*f.nx + i
		b, id := a+1, 2*a
		if up {
			b, id = a+f.nx, 2*a+1
		}
		t := (level - f.at[a]) / (f.at[b] - f.at[a])
		p := geom.Point{X: f.x + float64(i)*f.cell, Y: f.y + float64(j)*f.cell}
		if up {
			p.Y += t * f.cell
		} else {
			p.X += t * f.cell
		}
		where[id] = p
		return id
	}
	for j := range f.ny - 1 {
		for i := range f.nx - 1 {
			a := j*f.nx + i
			code := 0
			for k, v := range [4]float64{f.at[a], f.at[a+1], f.at[a+f.nx+1], f.at[a+f.nx]} {
				if v < level {
					code |= 1 << k
				}
			}
			if code == 0 || code == 15 {
				continue
			}
			edge := func(k int) int {
				switch k {
				case 0:
					return cross(i, j, false)
				case 1:
					return cross(i+1, j, true)
				case 2:
					return cross(i, j+1, false)
				}
				return cross(i, j, true)
			}
			for _, s := range marching[code] {
				from := edge(s[0])
				next[from] = edge(s[1])
				order = append(order, from)
			}
		}
	}
	var loops [][]geom.Point
	for _, at := range order {
		var loop []geom.Point
		for to, ok := next[at]; ok; to, ok = next[at] {
			loop = append(loop, where[at])
			delete(next, at)
			at = to
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// marching gives for each set of corners below the level (lower left 1, lower
// right 2, upper right 4, upper left 8) the edges that the contour enters and
// leaves by (0 lower, 1 right, 2 upper, 3 left).
var marching = [16][][2]int{
	1: {{0, 3}}, 2: {{1, 0}}, 3: {{1, 3}}, 4: {{2, 1}}, 5: {{0, 3}, {2, 1}}, 6: {{2, 0}}, 7: {{2, 3}},
	8: {{3, 2}}, 9: {{0, 2}}, 10: {{1, 0}, {3, 2}}, 11: {{1, 2}}, 12: {{3, 1}}, 13: {{0, 1}}, 14: {{3, 0}},
}

// simplify leaves out the points of a closed loop that lie within tolerance of
// the line through their neighbours (Douglas and Peucker, 1973), and closes it.
func simplify(loop []geom.Point, tolerance float64) []geom.Point {
	n := len(loop)
	if n > 4*maxCorners { // only a crafted line has so many
		return closeUp(loop)
	}
	keep := make([]bool, n+1)
	pts := append(append([]geom.Point{}, loop...), loop[0])
	keep[0], keep[n/2], keep[n] = true, true, true
	work := [][2]int{{0, n / 2}, {n / 2, n}}
	for len(work) > 0 {
		a, b := work[len(work)-1][0], work[len(work)-1][1]
		work = work[:len(work)-1]
		far, at := tolerance, -1
		for i := a + 1; i < b; i++ {
			if d := fromLine(pts[i], pts[a], pts[b]); d > far {
				far, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			work = append(work, [2]int{a, at}, [2]int{at, b})
		}
	}
	var out []geom.Point
	for i, p := range pts {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// fromLine is the distance of p from the line through a and b, or from a where
// they are one point.
func fromLine(p, a, b geom.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return math.Hypot(p.X-a.X, p.Y-a.Y)
	}
	return math.Abs((p.X-a.X)*dy-(p.Y-a.Y)*dx) / l
}
