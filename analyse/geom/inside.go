package geom

// Region is the inside of a closed line, for asking of many places whether they lie
// in it: a place is held against the sides at its height alone. It says what
// InsidePolygon says.
type Region struct {
	line  []Point
	lo    float64
	high  float64 // mm of a row
	start []int32
	side  []int32 // by the point that each ends at
}

const (
	fewSides  = 16 // that are gone through as fast as they are filed
	mostFiled = 8  // rows that a side lies in, on average: rows grow until it is no more
)

// NewRegion files the sides of a closed line, which it keeps.
func NewRegion(line []Point) *Region {
	r := &Region{line: line}
	n := len(line)
	if n < fewSides {
		return r
	}
	box := BoxOf(line)
	r.lo, r.high = box.Lo.Y, max(box.Height()/float64(n), 1e-9)
	rows, filed := 0, 0
	for {
		rows, filed = int(box.Height()/r.high)+1, 0
		for i := range line {
			a, b := r.rows(i, rows)
			filed += b - a + 1
		}
		if filed <= mostFiled*n || rows == 1 {
			break
		}
		r.high *= 2
	}
	r.start = make([]int32, rows+1)
	for i := range line {
		a, b := r.rows(i, rows)
		for k := a; k <= b; k++ {
			r.start[k]++
		}
	}
	for k := 1; k <= rows; k++ {
		r.start[k] += r.start[k-1]
	}
	r.side = make([]int32, filed)
	for i := range line {
		a, b := r.rows(i, rows)
		for k := a; k <= b; k++ {
			r.start[k]--
			r.side[r.start[k]] = int32(i)
		}
	}
	return r
}

func (r *Region) before(i int) int {
	if i == 0 {
		return len(r.line) - 1
	}
	return i - 1
}

// rows are the first and the last row that the side which ends at a point lies in.
func (r *Region) rows(i, rows int) (first, last int) {
	a, b := r.line[i].Y, r.line[r.before(i)].Y
	return cellAt((min(a, b)-r.lo)/r.high, rows), cellAt((max(a, b)-r.lo)/r.high, rows)
}

// Has reports whether q lies inside, by the even-odd rule.
func (r *Region) Has(q Point) bool {
	if r.start == nil {
		return len(r.line) > 0 && InsidePolygon(q, r.line)
	}
	k := cellAt((q.Y-r.lo)/r.high, len(r.start)-1)
	in := false
	for _, i := range r.side[r.start[k]:r.start[k+1]] {
		p, prev := r.line[i], r.line[r.before(int(i))]
		if (p.Y > q.Y) != (prev.Y > q.Y) && q.X < p.X+(q.Y-p.Y)/(prev.Y-p.Y)*(prev.X-p.X) {
			in = !in
		}
	}
	return in
}
