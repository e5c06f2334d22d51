package render

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// freeGround finds room for words where nothing is drawn: squares of a grid that
// lines pass through are taken.
type freeGround struct {
	cell   float64 // mm
	lo     geom.Point
	nx, ny int
	sums   []int32 // of taken squares, from the lower left: see sum
	taken  []bool
}

// mostGround bounds the squares of a grid.
const mostGround = 1 << 20

// newFreeGround takes the ground of a template's plan: lines of the design,
// placement lines, marks.
func newFreeGround(t *template) *freeGround {
	k := t.planTiles()
	air := 12.0
	w, h := k.hi.X-k.lo.X+2*air, k.hi.Y-k.lo.Y+2*air
	g := &freeGround{cell: max(0.7, math.Sqrt(w*h/mostGround)), lo: geom.Point{X: k.lo.X - air, Y: k.lo.Y - air}}
	g.nx, g.ny = int(w/g.cell)+1, int(h/g.cell)+1
	g.taken = make([]bool, g.nx*g.ny)
	one := plane{perMM: 1}
	for i := range t.r.Stops {
		one.stitches(t.d, t.r, &t.r.Stops[i], func(_ int, x0, y0, x1, y1 float64) {
			g.line(geom.Point{X: x0, Y: -y0}, geom.Point{X: x1, Y: -y1})
		})
	}
	for _, s := range t.shapes {
		for _, l := range s.placement {
			for i := 1; i < len(l); i++ {
				g.line(l[i-1], l[i])
			}
		}
	}
	g.block(geom.Point{}, 2*crossArm+1, 2*crossArm+1)
	for _, q := range [][2]float64{{t.r.WidthMM / 2, t.r.HeightMM / 2}, {t.hoopW / 2, t.hoopH / 2}} {
		if q[0] <= 0 || q[1] <= 0 {
			continue
		}
		for _, s := range []float64{-1, 1} {
			g.block(geom.Point{X: s * q[0]}, 2*centreTick, 2)
			g.block(geom.Point{Y: s * q[1]}, 2, 2*centreTick)
		}
	}
	if x, y := t.hoopW/2, t.hoopH/2; x > 0 && y > 0 {
		c := geom.BoxAround(geom.Point{}, t.hoopW, t.hoopH).Corners()
		for i := range c {
			g.line(c[i], c[(i+1)%4])
		}
	}
	g.add()
	return g
}

func (g *freeGround) at(q geom.Point) (i, j int) {
	return int((q.X - g.lo.X) / g.cell), int((q.Y - g.lo.Y) / g.cell)
}

func (g *freeGround) take(i, j int) {
	if i >= 0 && j >= 0 && i < g.nx && j < g.ny {
		g.taken[j*g.nx+i] = true
	}
}

func (g *freeGround) line(a, b geom.Point) {
	n := int(min(geom.Distance(a, b)/(g.cell*0.7), 1e5)) + 1
	for k := range n + 1 {
		t := float64(k) / float64(n)
		i, j := g.at(geom.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t})
		g.take(i, j)
	}
}

// block takes a rectangle round a middle.
func (g *freeGround) block(middle geom.Point, w, h float64) {
	i0, j0 := g.at(geom.Point{X: middle.X - w/2, Y: middle.Y - h/2})
	i1, j1 := g.at(geom.Point{X: middle.X + w/2, Y: middle.Y + h/2})
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			g.take(i, j)
		}
	}
}

// add sums the taken squares up, so that any rectangle is asked about at once.
func (g *freeGround) add() {
	g.sums = make([]int32, (g.nx+1)*(g.ny+1))
	for j := range g.ny {
		row := int32(0)
		for i := range g.nx {
			if g.taken[j*g.nx+i] {
				row++
			}
			g.sums[(j+1)*(g.nx+1)+i+1] = g.sums[j*(g.nx+1)+i+1] + row
		}
	}
}

func (g *freeGround) free(i0, j0, i1, j1 int) bool {
	if i0 < 0 || j0 < 0 || i1 >= g.nx || j1 >= g.ny {
		return false
	}
	w := g.nx + 1
	return g.sums[(j1+1)*w+i1+1]-g.sums[j0*w+i1+1]-g.sums[(j1+1)*w+i0]+g.sums[j0*w+i0] == 0
}

// find is the free place for w x h mm nearest to a point, and takes it. There is
// none where lines are everywhere.
func (g *freeGround) find(near geom.Point, w, h float64) (at geom.Point, ok bool) {
	ni, nj := int(math.Ceil(w/g.cell)), int(math.Ceil(h/g.cell))
	ci, cj := g.at(near)
	best := math.Inf(1)
	for j := 0; j+nj < g.ny; j++ {
		for i := 0; i+ni < g.nx; i++ {
			d := math.Hypot(float64(2*i+ni-2*ci), float64(2*j+nj-2*cj))
			if d >= best || !g.free(i, j, i+ni, j+nj) {
				continue
			}
			best = d
			at = geom.Point{X: g.lo.X + (float64(i)+float64(ni+1)/2)*g.cell, Y: g.lo.Y + (float64(j)+float64(nj+1)/2)*g.cell}
		}
	}
	if math.IsInf(best, 1) {
		return at, false
	}
	g.block(at, w, h)
	g.add()
	return at, true
}
