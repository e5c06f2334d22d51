package analyse

import "math"

// shape is what simple geometry tells of one stop's stitching.
type shape struct {
	line   []Point // where the thread goes, a point at least every lineStep
	length float64 // mm of thread on the cloth
	satin  float64 // share of stitches that cross a satin column
	zigzag float64 // share of stitches that cross an open zigzag
	triple float64 // share of stitches sewn forward, back and forward
	fill   float64 // share of stitches in rows that turn back on themselves
	closed bool    // the first thread path ends where it began
	sparse bool    // few stitches for the cloth it spans: a line, not a surface
	box    [4]float64
}

const (
	satinPitch  = 1.0 // mm: crossings closer than this hide the cloth, wider are open zigzag
	crossingMin = 0.8 // mm: shorter stitches cross nothing
	lineStep    = 1.0 // mm: well within the reach of every comparison
)

// shapeOf judges the stitching of a stop by each stitch and its neighbours: two
// stitches that turn back on one another and advance by less than a column's
// pitch are satin; those that come back to the very same hole are a triple run.
func shapeOf(p *Pass, stop *Stop) shape {
	sh := shape{box: stop.BoundsMM}
	pts := make([]Point, 0, stop.Stitches)
	sh.line = make([]Point, 0, 2*stop.Stitches)
	var paths []int // where each thread path starts in pts
	p.eachPoint(stop.Number-1, func(from, to Point, sewn bool) {
		if !sewn {
			paths = append(paths, len(pts))
		} else {
			l := distance(from, to)
			sh.length += l
			n := int(math.Ceil(l / lineStep))
			for k := 1; k <= n; k++ {
				t := float64(k) / float64(n)
				sh.line = append(sh.line, Point{from.X + (to.X-from.X)*t, from.Y + (to.Y-from.Y)*t})
			}
		}
		pts = append(pts, to)
	})
	if len(pts) < 3 {
		return sh
	}
	var satin, zigzag, triple int
	for i := 2; i < len(pts); i++ {
		a, b, c := pts[i-2], pts[i-1], pts[i]
		ab, bc, ac := distance(a, b), distance(b, c), distance(a, c)
		if ab < crossingMin || bc < crossingMin {
			continue
		}
		cos := ((b.X-a.X)*(c.X-b.X) + (b.Y-a.Y)*(c.Y-b.Y)) / (ab * bc)
		switch {
		case cos < -0.9 && ac < 0.15:
			triple++
		case cos < -0.8 && ac < satinPitch:
			satin++
		case cos < 0.2 && ac < 3.5 && turnsBack(pts, i):
			zigzag++
		}
	}
	n := float64(len(pts) - 2)
	sh.satin, sh.zigzag, sh.triple = float64(satin)/n, float64(zigzag)/n, float64(triple)/n

	end := len(pts) - 1
	if len(paths) > 1 {
		end = paths[1] - 1
	}
	sh.closed = distance(pts[0], pts[end]) < 1.5 || closesOn(pts[:end+1])
	w, h := sh.box[2]-sh.box[0], sh.box[3]-sh.box[1]
	sh.sparse = sh.length < 4*(2*(w+h)) && sh.satin < 0.3
	if !sh.sparse && sh.satin < 0.3 && sh.triple < 0.3 {
		sh.fill = 1
	}
	return sh
}

// turnsBack reports whether the stitch before i-1 also swung the other way, as
// every crossing of a zigzag does and a single corner does not.
func turnsBack(pts []Point, i int) bool {
	if i < 3 {
		return false
	}
	z, a, b, c := pts[i-3], pts[i-2], pts[i-1], pts[i]
	t1 := (a.X-z.X)*(b.Y-a.Y) - (a.Y-z.Y)*(b.X-a.X)
	t2 := (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X)
	return t1*t2 < 0
}

// closesOn reports whether a line comes back to its start and goes on, as one
// sewn twice round or tied off past its start does.
func closesOn(pts []Point) bool {
	far := false
	for _, q := range pts {
		d := distance(q, pts[0])
		if d > 8 {
			far = true
		} else if far && d < 1 {
			return true
		}
	}
	return false
}

// lineIndex tells whether a place lies near a line: a raster over the line's box,
// set wherever the line is within reach. It is right to within half a cell.
type lineIndex struct {
	cell   float64
	x, y   float64 // lower left corner
	nx, ny int
	set    []bool
}

// maxRaster bounds the cells along one side, so that a design of absurd extent
// costs precision and not memory.
const maxRaster = 2048

// indexLine makes the index of a line for the given reach in mm.
func indexLine(line []Point, reach float64) lineIndex {
	if len(line) == 0 {
		return lineIndex{}
	}
	lo, hi := line[0], line[0]
	for _, q := range line {
		lo.X, hi.X = min(lo.X, q.X), max(hi.X, q.X)
		lo.Y, hi.Y = min(lo.Y, q.Y), max(hi.Y, q.Y)
	}
	x := lineIndex{x: lo.X - reach, y: lo.Y - reach}
	x.cell = max(reach/3, (hi.X-lo.X+2*reach)/maxRaster, (hi.Y-lo.Y+2*reach)/maxRaster)
	x.nx, x.ny = int((hi.X-lo.X+2*reach)/x.cell)+1, int((hi.Y-lo.Y+2*reach)/x.cell)+1
	x.set = make([]bool, x.nx*x.ny)

	r := int(reach / x.cell)
	var disc [][2]int
	for dx := -r; dx <= r; dx++ {
		for dy := -r; dy <= r; dy++ {
			if dx*dx+dy*dy <= r*r {
				disc = append(disc, [2]int{dx, dy})
			}
		}
	}
	stamped := make([]bool, len(x.set))
	for _, q := range line {
		cx, cy := int((q.X-x.x)/x.cell), int((q.Y-x.y)/x.cell)
		if stamped[cy*x.nx+cx] {
			continue
		}
		stamped[cy*x.nx+cx] = true
		for _, d := range disc {
			if px, py := cx+d[0], cy+d[1]; px >= 0 && px < x.nx && py >= 0 && py < x.ny {
				x.set[py*x.nx+px] = true
			}
		}
	}
	return x
}

// share is the share of the points of line that lie within reach.
func (x lineIndex) share(line []Point) float64 {
	if len(line) == 0 {
		return 0
	}
	near := 0
	for _, q := range line {
		cx, cy := math.Floor((q.X-x.x)/x.cell), math.Floor((q.Y-x.y)/x.cell)
		if cx >= 0 && cx < float64(x.nx) && cy >= 0 && cy < float64(x.ny) && x.set[int(cy)*x.nx+int(cx)] {
			near++
		}
	}
	return float64(near) / float64(len(line))
}
