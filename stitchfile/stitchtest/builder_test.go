package stitchtest

import (
	"fmt"
	"math"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

func stitches(d *stitchfile.Design) []Point {
	var p []Point
	for _, m := range d.Moves {
		if m.Kind == stitchfile.Stitch {
			p = append(p, Point{float64(m.X) / 10, float64(m.Y) / 10})
		}
	}
	return p
}

func TestRun(t *testing.T) {
	b := new(Builder).Run(Line(Point{0, 0}, Point{50, 0}), 2.5)
	p := stitches(b.Design())
	if len(p) != 21 {
		t.Fatalf("%d penetrations along 50 mm, want 21", len(p))
	}
	for i, q := range p {
		if q.Y != 0 || math.Abs(q.X-2.5*float64(i)) > 0.051 {
			t.Errorf("penetration %d at %v", i, q)
		}
	}
	if len(b.Labels) != len(p) || b.Labels[3] != Run {
		t.Errorf("%d labels, the fourth %d", len(b.Labels), b.Labels[3])
	}
}

func TestRunKeepsCorners(t *testing.T) {
	p := stitches(new(Builder).Run(Rect(Point{}, 10.3, 7.1), 2.5).Design())
	for _, corner := range Rect(Point{}, 10.3, 7.1) {
		near := math.Inf(1)
		for _, q := range p {
			near = min(near, q.sub(corner).length())
		}
		if near > 0.08 {
			t.Errorf("corner %v is cut by %.2f mm", corner, near)
		}
	}
}

func TestSatinRing(t *testing.T) {
	const radius, width = 20, 4
	p := stitches(new(Builder).Satin(Circle(Point{}, radius), SatinAlong{Width: width, Pitch: 0.4}).Design())
	if n := len(p) - 1; n < 626 || n > 630 {
		t.Errorf("%d crossings, want 628", n)
	}
	for i, q := range p {
		want := radius - width/2.0 // counter-clockwise, the left rail is inside
		if i%2 == 1 {
			want = radius + width/2.0
		}
		if math.Abs(q.length()-want) > 0.08 {
			t.Fatalf("penetration %d at radius %.2f, want %.2f", i, q.length(), want)
		}
	}
}

func TestSatinSplit(t *testing.T) {
	p := stitches(new(Builder).Satin(Line(Point{}, Point{20, 0}), SatinAlong{Width: 12, Pitch: 0.4, Split: 7}).Design())
	for i := 1; i < len(p); i++ {
		// The stagger makes one part of a crossing a third longer than half.
		if l := p[i].sub(p[i-1]).length(); l > 8.2 {
			t.Fatalf("stitch %d is %.1f mm", i, l)
		}
	}
}

func TestFill(t *testing.T) {
	p := stitches(new(Builder).Fill(Rect(Point{}, 20, 10), 0.5, 2.5, 0).Design())
	rows := map[float64]int{}
	for _, q := range p {
		rows[q.Y]++
		if math.Abs(q.X) > 10.06 || math.Abs(q.Y) > 5.06 {
			t.Errorf("%v lies outside the outline", q)
		}
	}
	if len(rows) != 20 {
		t.Errorf("%d rows, want 20", len(rows))
	}
	if len(p) < 20*8 || len(p) > 20*11 {
		t.Errorf("%d penetrations", len(p))
	}
}

func TestLadder(t *testing.T) {
	p := stitches(new(Builder).Ladder(Line(Point{}, Point{20, 0}), 4, 0.4).Design())
	if len(p) != 2*51 {
		t.Fatalf("%d penetrations, want two for each of 51 rungs", len(p))
	}
	for i := 0; i+1 < len(p); i += 2 {
		if p[i].X != p[i+1].X || math.Abs(p[i].Y-p[i+1].Y) != 4 {
			t.Errorf("rung from %v to %v is not square", p[i], p[i+1])
		}
	}
}

func ExampleBuilder() {
	b := &Builder{Name: "ring"}
	b.TieIn(Point{20, 0}, Point{0, 1})
	b.Run(Circle(Point{}, 20), 2.5).TieOff().Trim()
	b.Stop()
	b.Satin(Circle(Point{}, 20), SatinAlong{Width: 4, Pitch: 0.4}).Trim()
	fmt.Printf("%+v\n", b.Design().Counts())
	// Output: {Stitches:688 Jumps:2 Trims:2 ColourStops:1}
}
