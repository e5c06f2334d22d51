package stitchtest

import (
	"math"
	"testing"
)

func TestMitredStaysInItsCorner(t *testing.T) {
	const width = 4.0
	var b Builder
	b.Mitred(Path{{0, 0}, {30, 0}, {30, 30}}, width, 0.4)
	for i, q := range stitches(b.Design()) {
		inLeg1 := math.Abs(q.Y) <= 2.06 && q.X <= 32.06 && q.X >= -0.06
		inLeg2 := math.Abs(q.X-30) <= 2.06 && q.Y >= -2.06 && q.Y <= 30.06
		if !inLeg1 && !inLeg2 {
			t.Errorf("penetration %d at %v lies outside both legs", i, q)
		}
		// The mitre runs from the inner corner (28, 2) to the outer (32, -2).
		if over := q.X + q.Y - 30; inLeg1 && !inLeg2 && over > 0.15 {
			t.Errorf("penetration %d at %v lies %.2f beyond the mitre", i, q, over)
		}
	}
	outer := 0
	for _, q := range stitches(b.Design()) {
		if q.X > 31.5 && q.Y < -1.5 {
			outer++
		}
	}
	if outer == 0 {
		t.Error("no penetration in the outer corner")
	}
}

func TestShortStitchesPullInTheInnerRail(t *testing.T) {
	var b Builder
	b.ShortStitches(Arc(Point{}, 5, 0, math.Pi), SatinAlong{Width: 4, Pitch: 0.5}, 0.25)
	count := map[int]int{}
	for _, q := range stitches(b.Design()) {
		count[int(math.Round(q.length()))]++
	}
	// Rails at 3 and 7 mm; every second inner penetration at 4 mm.
	if count[3] < 14 || count[4] < 14 || count[7] < 29 || count[5]+count[6] > 0 {
		t.Errorf("penetrations by radius: %v", count)
	}
}

func TestEStitch(t *testing.T) {
	p := stitches(new(Builder).EStitch(Line(Point{}, Point{20, 0}), 2, 2).Design())
	if len(p) != 33 {
		t.Fatalf("%d penetrations, want 3 for each of 11 teeth", len(p))
	}
	for i, q := range p {
		if want := []float64{0, 2, 0}[i%3]; q.Y != want {
			t.Errorf("penetration %d at %v", i, q)
		}
	}
}

func TestRailsSplit(t *testing.T) {
	left, right := Line(Point{0, 6}, Point{20, 6}), Line(Point{0, -6}, Point{20, -6})
	p := stitches(new(Builder).Rails(left, right, 0.4, 7).Design())
	inner := 0
	for _, q := range p {
		if math.Abs(q.Y) < 5.9 {
			inner++
		}
	}
	if inner != 100 || len(p) != 201 {
		t.Errorf("%d inner of %d penetrations, want 100 of 201", inner, len(p))
	}
}

func TestSlantFill(t *testing.T) {
	b := new(Builder).SlantFill(Rect(Point{}, 20, 10), 0.5, 3, 0)
	p := stitches(b.Design())
	for i := 1; i < len(p); i++ {
		d := p[i].sub(p[i-1])
		if math.Abs(d.X) < math.Abs(d.Y) {
			t.Errorf("stitch %d runs along the edge: %v", i, d)
		}
		if d.length() > 3.2 {
			t.Errorf("stitch %d is %.1f mm", i, d.length())
		}
	}
	if top := p[len(p)-1]; top.Y < 4.5 {
		t.Errorf("ends at %v", top)
	}
}

func TestEdgeRunKeepsItsInset(t *testing.T) {
	p := stitches(new(Builder).EdgeRun(Line(Point{}, Point{20, 0}), 4, 0.7, 2).Design())
	for i, q := range p {
		if math.Abs(math.Abs(q.Y)-1.3) > 0.01 {
			t.Errorf("penetration %d at %v", i, q)
		}
	}
	if p[0].X != 0 || p[len(p)-1].X != 0 {
		t.Errorf("from %v to %v, want there and back", p[0], p[len(p)-1])
	}
}

func TestLock(t *testing.T) {
	b := new(Builder).Lock(Point{1, 1}, Point{0, 1}, 0.4, 4)
	if len(b.Labels) != 5 {
		t.Fatalf("%d stitches", len(b.Labels))
	}
	for i, l := range b.Labels {
		if l != Tie {
			t.Errorf("stitch %d is labelled %d", i, l)
		}
	}
}
