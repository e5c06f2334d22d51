package analyse_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// sewnPiece is a piece whose cover is sewn side by side, for holding bare edges
// against a library of polygons.
type sewnPiece struct {
	outline st.Path // placement line, counter-clockwise, straight sides
	tack    string
	open    bool            // columns end at the corners
	gaps    map[int]float64 // mm without satin in the middle of a side
	inwards map[int]float64 // mm by which the satin of a side is moved in
}

const (
	pieceWidth  = 4.0
	pieceInset  = 0.5    // of the tack-down from the placement line
	pieceThread = 0.1493 // half of what 40 wt lays: Peirce's diameter times 1.6
)

// outside is the outermost line of the tack-down's stitches, by how they are laid: a
// zigzag's every other point is on its outer rail, a blanket stitch comes back to its
// line.
func (s *sewnPiece) outside() st.Path {
	tack := s.outline.Offset(pieceInset)
	var b st.Builder
	zigzag := s.zigzag(&b, tack)
	switch {
	case zigzag:
	case s.tack == "blanket":
		b.EStitch(tack, 2, 2.5)
	default:
		return tack
	}
	var out st.Path
	k := 0
	odd := 0 // which of two points lies outside
	if s.tack == "zigzag, clockwise" {
		odd = 1
	}
	for _, m := range b.Design().Moves {
		if m.Kind != stitchfile.Stitch {
			continue
		}
		if k++; zigzag && k%2 == odd || s.tack == "blanket" && k%3 != 2 {
			q := st.Point{X: float64(m.X) / 10, Y: float64(m.Y) / 10}
			if n := len(out); n == 0 || out[n-1] != q && out[0] != q {
				out = append(out, q)
			}
		}
	}
	if odd == 1 {
		slices.Reverse(out)
	}
	return append(out, out[0])
}

// zigzag sews the tack-down if it is a zigzag.
func (s *sewnPiece) zigzag(b *st.Builder, tack st.Path) bool {
	switch s.tack {
	case "zigzag":
		b.OpenZigzag(tack, 2, 2)
	case "zigzag, wide":
		b.OpenZigzag(tack, 2.6, 2.3)
	case "zigzag, clockwise":
		tack = slices.Clone(tack)
		slices.Reverse(tack)
		b.OpenZigzag(tack, 2, 1.7)
	default:
		return false
	}
	return true
}

// cut is the outside set out by 1 mm with mitred corners, by the library: what it
// encloses, a strip along each side and a tip on each corner, united.
func (s *sewnPiece) cut(t *testing.T) sf.LineString {
	t.Helper()
	line := s.outside()
	polygon := func(pts ...st.Point) sf.Geometry {
		var flat []float64
		for _, q := range append(pts, pts[0]) {
			flat = append(flat, q.X, q.Y)
		}
		return sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(flat, sf.DimXY))}).AsGeometry()
	}
	parts := []sf.Geometry{polygon(line[:len(line)-1]...)}
	n := len(line) - 1
	normal := func(i int) st.Point {
		a, b := line[i%n], line[(i+1)%n]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		return st.Point{X: (b.Y - a.Y) / l, Y: (a.X - b.X) / l}
	}
	for i := range n {
		a, b, u, v := line[i], line[(i+1)%n], normal(i), normal(i+1)
		if math.Hypot(b.X-a.X, b.Y-a.Y) < 0.01 {
			continue
		}
		parts = append(parts, polygon(a, st.Point{X: a.X + u.X, Y: a.Y + u.Y}, st.Point{X: b.X + u.X, Y: b.Y + u.Y}, b))
		if turn := u.X*v.Y - u.Y*v.X; turn > 0.01 {
			k := 1 / (1 + u.X*v.X + u.Y*v.Y)
			parts = append(parts, polygon(b, st.Point{X: b.X + u.X, Y: b.Y + u.Y}, st.Point{X: b.X + (u.X+v.X)*k, Y: b.Y + (u.Y+v.Y)*k}, st.Point{X: b.X + v.X, Y: b.Y + v.Y}))
		}
	}
	all, err := sf.UnionMany(parts)
	if err != nil {
		t.Fatal(err)
	}
	area, ok := all.AsPolygon()
	if !ok {
		t.Fatalf("the cloth is a %s", all.Type())
	}
	return area.ExteriorRing()
}

// columns are the ends of the satin columns along each side.
func (s *sewnPiece) columns(each func(a, b st.Point)) {
	for i := 0; i+1 < len(s.outline); i++ {
		a, b := s.outline[i], s.outline[i+1]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		u := st.Point{X: (b.X - a.X) / l, Y: (b.Y - a.Y) / l}
		at := func(t float64) st.Point {
			in := s.inwards[i]
			return st.Point{X: a.X + u.X*t - u.Y*in, Y: a.Y + u.Y*t + u.X*in}
		}
		past := pieceWidth / 2
		if s.open {
			past = 0
		}
		if g := s.gaps[i]; g > 0 {
			each(at(-past), at(l/2-g/2))
			each(at(l/2+g/2), at(l+past))
			continue
		}
		each(at(-past), at(l+past))
	}
}

func (s *sewnPiece) sew(t *testing.T) *report.Piece {
	t.Helper()
	return onePiece(t, s.design())
}

func (s *sewnPiece) design() *stitchfile.Design {
	var b st.Builder
	b.Run(s.outline, 2.5).TieOff().Stop()
	tack := s.outline.Offset(pieceInset)
	switch s.tack {
	case "run":
		b.Run(tack, 2)
	case "double":
		b.DoubleRun(tack, 2)
	case "triple":
		b.TripleRun(tack, 2.5)
	case "bean":
		b.Bean(tack, 2.5, 3)
	case "blanket":
		b.EStitch(tack, 2, 2.5)
	default:
		s.zigzag(&b, tack)
	}
	b.TieOff().Stop()
	s.columns(func(p, q st.Point) {
		b.Satin(st.Line(p, q), st.SatinAlong{Width: pieceWidth, Pitch: 0.4}).Trim()
	})
	return b.Design()
}

// bare is the length of the cut edge that no thread of the cover hides, by the
// library; gaps of less than half a millimetre are the grain of the stitches, give or
// take a tenth.
func (s *sewnPiece) bare(t *testing.T) (least, most float64) {
	t.Helper()
	var b st.Builder
	s.columns(func(p, q st.Point) { b.Satin(st.Line(p, q), st.SatinAlong{Width: pieceWidth, Pitch: 0.4}).Trim() })
	type thread struct{ a, b st.Point }
	var threads []thread
	moves := b.Design().Moves
	for i := 1; i < len(moves); i++ {
		if m, k := moves[i-1], moves[i]; m.Kind == stitchfile.Stitch && k.Kind == stitchfile.Stitch {
			threads = append(threads, thread{st.Point{X: float64(m.X) / 10, Y: float64(m.Y) / 10}, st.Point{X: float64(k.X) / 10, Y: float64(k.Y) / 10}})
		}
	}
	ring := s.cut(t).Coordinates()
	var run float64 // of the gap that is open
	var runs []float64
	for i := 1; i < ring.Length(); i++ {
		p, q := ring.GetXY(i-1), ring.GetXY(i)
		side := sf.NewLineString(sf.NewSequence([]float64{p.X, p.Y, q.X, q.Y}, sf.DimXY))
		l := q.Sub(p).Length()
		type span struct{ lo, hi float64 }
		var hidden []span
		for _, h := range threads {
			if max(h.a.X, h.b.X) < min(p.X, q.X)-1 || min(h.a.X, h.b.X) > max(p.X, q.X)+1 || max(h.a.Y, h.b.Y) < min(p.Y, q.Y)-1 || min(h.a.Y, h.b.Y) > max(p.Y, q.Y)+1 {
				continue
			}
			d := math.Hypot(h.b.X-h.a.X, h.b.Y-h.a.Y)
			if d == 0 {
				continue
			}
			x, y := -(h.b.Y-h.a.Y)/d*pieceThread, (h.b.X-h.a.X)/d*pieceThread
			strip := sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence([]float64{h.a.X + x, h.a.Y + y, h.a.X - x, h.a.Y - y, h.b.X - x, h.b.Y - y, h.b.X + x, h.b.Y + y, h.a.X + x, h.a.Y + y}, sf.DimXY))})
			in, err := sf.Intersection(side.AsGeometry(), strip.AsGeometry())
			if err != nil {
				t.Fatal(err)
			}
			if cut, ok := in.AsLineString(); ok && !cut.IsEmpty() {
				c := cut.Coordinates()
				lo, hi := c.GetXY(0).Sub(p).Length(), c.GetXY(c.Length()-1).Sub(p).Length()
				hidden = append(hidden, span{min(lo, hi), max(lo, hi)})
			}
		}
		slices.SortFunc(hidden, func(a, b span) int { return cmp.Compare(a.lo, b.lo) })
		at := 0.0
		for _, h := range hidden {
			if h.lo > at {
				runs, run = append(runs, run+h.lo-at), 0
			} else if run > 0 {
				runs, run = append(runs, run), 0
			}
			at = max(at, h.hi)
		}
		run += max(0, l-at)
	}
	if len(runs) == 0 {
		return run, run
	}
	runs[0] += run // the ring closes there
	for _, r := range runs {
		if r >= 0.6 {
			least += r
		}
		if r >= 0.4 {
			most += r
		}
	}
	return least, most
}

// Bare edges of pieces with corners and notches under every kind of tack-down are
// those of a library of polygons, within 0.3 mm or 3 %: the mitred outside of the
// tack-down, less the satin that was meant.
func TestBareEdgeAgainstReference(t *testing.T) {
	wholeOnly(t)
	pt := func(x, y float64) st.Point { return st.Point{X: x, Y: y} }
	turned := func(p st.Path, a float64) st.Path {
		sin, cos := math.Sincos(a)
		return p.Map(func(q st.Point) st.Point { return pt(q.X*cos-q.Y*sin, q.X*sin+q.Y*cos) })
	}
	shapes := []struct {
		name string
		path st.Path
	}{
		{"square", st.Rect(pt(0, 0), 60, 60)},
		{"square, turned", turned(st.Rect(pt(0, 0), 70, 50), 0.4)},
		{"house", st.Polygon(pt(-35, -30), pt(35, -30), pt(35, 15), pt(0, 45), pt(-35, 15))},
		{"hexagon", st.Polygon(pt(40, 0), pt(20, 34.64), pt(-20, 34.64), pt(-40, 0), pt(-20, -34.64), pt(20, -34.64))},
		{"notched", st.Polygon(pt(-40, -30), pt(40, -30), pt(40, 30), pt(15, 30), pt(15, 5), pt(-15, 5), pt(-15, 30), pt(-40, 30))},
		{"ell, turned", turned(st.Polygon(pt(-40, -40), pt(40, -40), pt(40, -5), pt(-5, -5), pt(-5, 40), pt(-40, 40)), 1.1)},
	}
	plants := []struct {
		name string
		p    sewnPiece
	}{
		{"sound", sewnPiece{}},
		{"open corners", sewnPiece{open: true}},
		{"a gap of 1.1 mm", sewnPiece{gaps: map[int]float64{0: 1.1}}},
		{"gaps of 1.5 and 4 mm", sewnPiece{gaps: map[int]float64{0: 1.5, 2: 4}}},
		{"a side moved in", sewnPiece{inwards: map[int]float64{1: 2}}},
		{"a side moved in and open corners", sewnPiece{open: true, inwards: map[int]float64{0: 1.8}}},
	}
	for _, shape := range shapes {
		for i, tack := range []string{"run", "bean", "zigzag", "blanket", "zigzag, wide", "zigzag, clockwise", "double", "triple"} {
			for k, plant := range plants {
				if i > 5 && k != 3 {
					continue // their outside is that of a run
				}
				if shape.name == "hexagon" && plant.p.open {
					continue // half a millimetre at each corner: the grain of the stitches
				}
				s := plant.p
				s.outline, s.tack = shape.path, tack
				name := fmt.Sprintf("%s, %s, %s", shape.name, tack, plant.name)
				t.Run(name, func(t *testing.T) {
					least, most := s.bare(t)
					got := s.sew(t)
					want := max(least, min(most, got.UncoveredMM))
					near(t, "bare edge", got.UncoveredMM, want, max(0.3, 0.03*want))
					if t.Failed() {
						t.Logf("gaps %+v, cut edge of %d rings, tack-down in stop %d, finish %s", got.Gaps, len(got.CutEdge), got.TackDownStop, got.Finish)
					}
				})
			}
		}
	}
}

// The cut edge of a hole lies inside it: 1 mm further in than its tack-down, with
// sharp or round corners. What its satin leaves out is bare.
func TestBareEdgeOfAHole(t *testing.T) {
	outer, hole := st.Rect(st.Point{}, 90, 90), st.Rect(st.Point{}, 40, 30)
	for _, left := range []int{-1, 0, 1} { // the side of the hole without satin
		var b st.Builder
		b.Run(outer, 2.5).Trim().Run(hole, 2.5).Stop()
		b.DoubleRun(outer.Offset(0.5), 2).Trim().DoubleRun(hole.Offset(-0.5), 2).Stop()
		b.Mitred(outer, 4, 0.4).Trim()
		for i := range 4 {
			if i == left {
				continue
			}
			p, q := hole[i], hole[i+1]
			l := math.Hypot(q.X-p.X, q.Y-p.Y)
			u := st.Point{X: (q.X - p.X) / l * 2, Y: (q.Y - p.Y) / l * 2}
			b.Satin(st.Line(st.Point{X: p.X - u.X, Y: p.Y - u.Y}, st.Point{X: q.X + u.X, Y: q.Y + u.Y}), st.SatinAlong{Width: 4, Pitch: 0.4}).Trim()
		}
		p := onePiece(t, b.Design())
		if len(p.CutEdge) != 2 {
			t.Fatalf("%d rings, want 2", len(p.CutEdge))
		}
		// The tack-down of the hole is 41 x 31 mm, its cut edge 39 x 29.
		near(t, "cut edge of the hole", geom.PathLength(p.CutEdge[1]), 2*(39+29), 0.3)
		want := 0.0
		if left >= 0 {
			side := []float64{39, 29}[left]
			// The satin of the sides beside it reaches 2 mm in from the line, less
			// the half millimetre by which the cut edge lies inside it.
			want = side - 2*(2-0.5)
		}
		near(t, fmt.Sprintf("bare without side %d", left), p.UncoveredMM, want, max(0.3, 0.03*want))
	}
}
