package analyse_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// onePieceOf lays one piece: its placement line, its tack-down, and satin along covers.
func onePieceOf(place, tack st.Path, width float64, covers ...st.Path) *stitchfile.Design {
	var b st.Builder
	b.Run(place, 2.5).TieOff().Stop()
	b.DoubleRun(tack, 2).TieOff().Stop()
	for _, c := range covers {
		b.Satin(c, st.SatinAlong{Width: width, Pitch: 0.4}).TieOff().Trim()
	}
	return b.Design()
}

func onePiece(t *testing.T, d *stitchfile.Design) *report.Piece {
	t.Helper()
	r := mustRun(d, report.DefaultSettings())
	if len(r.Pieces) != 1 {
		t.Fatalf("%d pieces, want 1", len(r.Pieces))
	}
	return &r.Pieces[0]
}

// Satin of width W centred on a circle of radius R reaches W/2 + d outwards and
// W/2 - d inwards from a tack-down on the circle of radius R - d.
func TestCoverOfARing(t *testing.T) {
	for _, c := range []struct{ radius, width, inside float64 }{
		{25, 3.5, 0.5}, {25, 4, 0}, {40, 5, 1}, {60, 4, 0.3}, {18, 3, 0.4}, {110, 4, 0.8},
		{30, 4, -0.5}, // a tack-down outside the placement line
	} {
		t.Run(fmt.Sprintf("R %.0f, W %.1f, tack-down %.1f inside", c.radius, c.width, c.inside), func(t *testing.T) {
			ring, tack := st.Circle(st.Point{}, c.radius), c.radius-c.inside
			p := onePiece(t, onePieceOf(ring, st.Circle(st.Point{}, tack), c.width, ring))
			near(t, "outer cover, median", p.OuterCoverMM.Median, c.width/2+c.inside, 0.1)
			near(t, "inner cover, median", p.InnerCoverMM.Median, c.width/2-c.inside, 0.1)
			// Where the seam is, and on the grid, a little less.
			near(t, "outer cover, least", p.OuterCoverMM.Min, c.width/2+c.inside, 0.3)
			near(t, "uncovered", p.UncoveredMM, 0, 0)
			near(t, "hidden", p.HiddenMM, 0, 0)
			// A circle of n chords: perimeter 2nR sin(pi/n), area n/2 R2 sin(2 pi/n).
			n := math.Round(2 * math.Pi * tack / 2)
			perimeter, area := 2*n*tack*math.Sin(math.Pi/n), n/2*tack*tack*math.Sin(2*math.Pi/n)
			near(t, "perimeter", p.PerimeterMM, perimeter, 0.003*perimeter)
			near(t, "area", p.AreaMM2, area, 0.003*area)
			for i, v := range p.CutSizeMM {
				near(t, fmt.Sprintf("cut size %d", i), v, 2*max(c.radius, tack)+2*12.7, 1.5)
			}
			if p.PlacementStop != 1 || p.TackDownStop != 2 || p.CoverStop != 3 || p.Holes != 0 {
				t.Errorf("stops %d, %d, %d, %d holes", p.PlacementStop, p.TackDownStop, p.CoverStop, p.Holes)
			}
		})
	}
}

// Straight sides: what lies inside a rectangle, and the way round it.
func TestPieceOfARectangle(t *testing.T) {
	for _, c := range []struct{ w, h float64 }{{60, 40}, {30, 30}, {120, 10}} {
		place, tack := st.Rect(st.Point{}, c.w, c.h), st.Rect(st.Point{}, c.w-1, c.h-1)
		var b st.Builder
		b.Run(place, 2.5).Stop()
		b.DoubleRun(tack, 2).Stop()
		b.Mitred(place, 4, 0.4)
		p := onePiece(t, b.Design())
		near(t, "area", p.AreaMM2, (c.w-1)*(c.h-1), 0.003*c.w*c.h)
		near(t, "perimeter", p.PerimeterMM, 2*(c.w+c.h-2), 0.005*2*(c.w+c.h))
		near(t, "outer cover", p.OuterCoverMM.Median, 2.5, 0.1)
		near(t, "inner cover", p.InnerCoverMM.Median, 1.5, 0.1)
		near(t, "uncovered", p.UncoveredMM, 0, 0)
		near(t, "cut width", p.CutSizeMM[0], c.w+25.4, 1.5)
		near(t, "cut height", p.CutSizeMM[1], c.h+25.4, 1.5)
	}
}

// A hole is taken out of the area and not counted in the perimeter.
func TestPieceWithAHole(t *testing.T) {
	outer, hole := st.Circle(st.Point{}, 40), st.Circle(st.Point{X: 4}, 15)
	var b st.Builder
	b.Run(outer, 2.5).Trim().Run(hole, 2.5).Stop()
	b.DoubleRun(st.Circle(st.Point{}, 39.5), 2).Trim().DoubleRun(st.Circle(st.Point{X: 4}, 15.5), 2).Stop()
	b.Satin(outer, st.SatinAlong{Width: 3.5, Pitch: 0.4}).Trim()
	b.Satin(hole, st.SatinAlong{Width: 3.5, Pitch: 0.4})
	p := onePiece(t, b.Design())
	area := math.Pi * (39.5*39.5 - 15.5*15.5)
	near(t, "area", p.AreaMM2, area, 0.004*area)
	near(t, "perimeter", p.PerimeterMM, 2*math.Pi*39.5, 0.004*2*math.Pi*39.5)
	near(t, "uncovered", p.UncoveredMM, 0, 0)
	if p.Holes != 1 {
		t.Errorf("%d holes", p.Holes)
	}
}

// A sector of the satin is moved inwards, so that the cut edge shows there; the
// satin is missing over another.
func TestUncoveredSector(t *testing.T) {
	const radius, width, tack = 40.0, 3.5, 39.5
	ring := st.Circle(st.Point{}, radius)
	for _, c := range []struct {
		name       string
		from, to   float64
		moved      float64
		offTheRing bool
	}{
		{"moved in by 2 mm over 30 degrees", 0.4, 0.4 + math.Pi/6, 2, false},
		{"moved in by 1.6 mm over 60 degrees", 3.1, 3.1 + math.Pi/3, 1.6, false},
		{"missing over 20 degrees", 5.0, 5.0 + math.Pi/9, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			covers := []st.Path{st.Arc(st.Point{}, radius, c.to, c.from+2*math.Pi)}
			if !c.offTheRing {
				covers = append(covers, st.Arc(st.Point{}, radius-c.moved, c.from, c.to))
			}
			p := onePiece(t, onePieceOf(ring, st.Circle(st.Point{}, tack), width, covers...))
			// The edge to be hidden lies up to the trim allowance, 1 mm, outside
			// the tack-down; the difference in length is 0.4 mm at most.
			near(t, "uncovered", p.UncoveredMM, (c.to-c.from)*(tack+0.5), 1)
			if len(p.Gaps) != 1 {
				t.Fatalf("%d gaps, want 1: %v", len(p.Gaps), p.Gaps)
			}
			// The whole ring lies around the origin of the report but for what its
			// satin lacks, and that is at most 2 mm of 83.
			mid := (c.from + c.to) / 2
			near(t, "gap's place, x", p.Gaps[0].AtMM[0], tack*math.Cos(mid), 3)
			near(t, "gap's place, y", p.Gaps[0].AtMM[1], tack*math.Sin(mid), 3)
			if !c.offTheRing {
				near(t, "least cover", p.Gaps[0].LeastMM, width/2+radius-tack-c.moved, 0.2)
				near(t, "outer cover, least", p.OuterCoverMM.Min, width/2+radius-tack-c.moved, 0.2)
			}
			near(t, "outer cover, median", p.OuterCoverMM.Median, width/2+radius-tack, 0.1)
		})
	}
}

// What lies under the next piece needs no satin.
func TestHiddenEdge(t *testing.T) {
	const r1, r2, tack = 30.0, 25.0, 0.5
	c2 := st.Point{X: 38, Y: 6}
	d := math.Hypot(c2.X, c2.Y)
	// Angles at which the tack-downs cross.
	a1, a2 := r1-tack, r2-tack
	half := math.Acos((a1*a1 + d*d - a2*a2) / (2 * a1 * d))
	mid := math.Atan2(c2.Y, c2.X)
	var b st.Builder
	b.Run(st.Circle(st.Point{}, r1), 2.5).Stop()
	b.DoubleRun(st.Circle(st.Point{}, a1), 2).Stop()
	b.Satin(st.Arc(st.Point{}, r1, mid+half-0.05, mid-half+0.05+2*math.Pi), st.SatinAlong{Width: 3.5, Pitch: 0.4}).Stop()
	b.Run(st.Circle(c2, r2), 2.5).Stop()
	b.DoubleRun(st.Circle(c2, a2), 2).Stop()
	b.Satin(st.Circle(c2, r2), st.SatinAlong{Width: 3.5, Pitch: 0.4})
	r := mustRun(b.Design(), report.DefaultSettings())
	if len(r.Pieces) != 2 {
		t.Fatalf("%d pieces, want 2", len(r.Pieces))
	}
	near(t, "hidden of the first", r.Pieces[0].HiddenMM, 2*half*a1, 2.5)
	near(t, "uncovered of the first", r.Pieces[0].UncoveredMM, 0, 0.5)
	near(t, "hidden of the second", r.Pieces[1].HiddenMM, 0, 0.5)
	near(t, "uncovered of the second", r.Pieces[1].UncoveredMM, 0, 0)
}

// The rule says so where an edge shows, and is silent where none does.
func TestEdgeUncoveredFinding(t *testing.T) {
	ring, tack := st.Circle(st.Point{}, 40), st.Circle(st.Point{}, 39.5)
	for _, c := range []struct {
		name  string
		cover []st.Path
		want  bool
	}{
		{"sound", []st.Path{ring}, false},
		{"a sector moved in", []st.Path{st.Arc(st.Point{}, 40, 1, 0.4+2*math.Pi), st.Arc(st.Point{}, 38, 0.4, 1)}, true},
		{"the whole ring moved in", []st.Path{st.Circle(st.Point{}, 38.5)}, true},
	} {
		found := false
		for _, f := range mustRun(onePieceOf(ring, tack, 3.5, c.cover...), report.DefaultSettings()).Findings {
			found = found || f.Rule == "edge-uncovered"
		}
		if found != c.want {
			t.Errorf("%s: found %v", c.name, found)
		}
	}
}
