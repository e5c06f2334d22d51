package measure

import (
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// crowding fills in the crowding of every cell, and gives the place where it is worst
// and how much it is there, in holes to the mm2.
//
// It is the number of holes about a place over the area about it, holes near to it
// counting more: their weight falls evenly to nothing crowdReach cells away along
// either axis, twice a moving mean over four half cells. So much of it lies within 3 x
// 3 mm as within a square of that size, but holes in regular rows, as all stitching
// has, are told to a percent or two, where a square would catch a row more or less.
func crowding(t *stitches.Track, g *report.Grid, on *ground) (geom.Point, float64) {
	half := g.CellMM / 2
	cell := func(q geom.Point) (x, y int) {
		return min(int((q.X-g.X)/half), 2*g.NX-1), min(int((q.Y-g.Y)/half), 2*g.NY-1)
	}
	// The half cells that any of the holes crowds.
	x0, y0, x1, y1 := 0, 0, 2*g.NX, 2*g.NY
	if on != nil {
		x0, y0, x1, y1 = x1, y1, 0, 0
		for i, q := range t.Pts {
			if on.has(i) && isHole(t, i) {
				x, y := cell(q)
				x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x+1), max(y1, y+1)
			}
		}
		if x0 >= x1 {
			return geom.Point{}, 0
		}
		x0, y0, x1, y1 = max(0, x0-crowdSpan+1), max(0, y0-crowdSpan+1), min(2*g.NX, x1+crowdSpan-1), min(2*g.NY, y1+crowdSpan-1)
	}
	nx, ny := x1-x0+2*(crowdSpan-1), y1-y0+2*(crowdSpan-1)
	buffers := countPool.Get().(*counts)
	defer countPool.Put(buffers)
	count := buffers.zero(0, nx*ny)
	for i, q := range t.Pts {
		if on.has(i) && isHole(t, i) {
			x, y := cell(q)
			if k := (y-y0)*nx + x - x0; count[k] < mostHoles {
				count[k]++
			}
		}
	}
	count = movingMeans(count, buffers.zero(1, nx*ny), nx, ny)
	// A sum stands crowdSpan-1 half cells after the middle of what it sums up.
	most, mx, my := uint32(0), 0, 0
	var each float64 = 1 / (crowdSpan * crowdSpan * crowdSpan * crowdSpan * half * half)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			v := count[(y-y0+crowdSpan-1)*nx+x-x0+crowdSpan-1]
			if v > most {
				most, mx, my = v, x, y
			}
			if g.Crowding != nil {
				c := &g.Crowding[y/2*g.NX+x/2]
				*c = max(*c, float32(float64(v)*each))
			}
		}
	}
	return geom.Point{X: g.X + (float64(mx)+0.5)*half, Y: g.Y + (float64(my)+0.5)*half}, float64(most) * each
}

const (
	crowdSpan  = 4       // half cells in each moving mean
	crowdReach = 2.0     // cells
	mostHoles  = 1 << 22 // in a half cell, so that sums do not overflow
	ownShare   = 0.15    // of what crowds a place; stops with less are not named
)

// counts are numbers of half cells, used again from design to design.
type counts [2][]uint32

var countPool = sync.Pool{New: func() any { return new(counts) }}

func (c *counts) zero(k, n int) []uint32 {
	c[k] = slices.Grow(c[k][:0], n)[:n]
	clear(c[k])
	return c[k]
}

// movingMeans sums up what is near each half cell, twice along either axis. Where few
// hold anything, each of these is spread out instead. It works in sum, which is zero.
func movingMeans(count, sum []uint32, nx, ny int) []uint32 {
	const reach = crowdSpan - 1
	held := 0
	for _, n := range count {
		if n > 0 {
			held++
		}
	}
	if held*(2*reach+1)*(2*reach+1) < 2*nx*ny {
		for y := range ny - 2*reach {
			for x, n := range count[y*nx : y*nx+nx-2*reach] {
				if n == 0 {
					continue
				}
				for dy := range 2*reach + 1 {
					row := sum[(y+dy)*nx+x:]
					ny := n * uint32(crowdSpan-max(dy-reach, reach-dy))
					for dx := range 2*reach + 1 {
						row[dx] += ny * uint32(crowdSpan-max(dx-reach, reach-dx))
					}
				}
			}
		}
		return sum
	}
	for range 2 {
		for y := range ny {
			sumAlong(count[y*nx:(y+1)*nx], sum[y*nx:(y+1)*nx])
		}
		count, sum = sum, count
		sumDown(count, sum, nx)
		count, sum = sum, count
	}
	return count
}

// sumAlong sums up crowdSpan values up to each.
func sumAlong(v, out []uint32) {
	var s uint32
	for i, k := range v {
		s += k
		if j := i - crowdSpan; j >= 0 {
			s -= v[j]
		}
		out[i] = s
	}
}

// sumDown sums up crowdSpan values up to each of those above it, in rows of nx.
func sumDown(v, out []uint32, nx int) {
	copy(out[:nx], v)
	for from := nx; from < len(v); from += nx {
		above, here, sum := out[from-nx:from], v[from:from+nx], out[from:from+nx]
		if from < crowdSpan*nx {
			for x, k := range here {
				sum[x] = above[x] + k
			}
			continue
		}
		gone := v[from-crowdSpan*nx:][:nx]
		for x, k := range here {
			sum[x] = above[x] + k - gone[x]
		}
	}
}
