package stitchtest

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

func TestBeanGoesBackAndForth(t *testing.T) {
	for _, times := range []int{3, 5} {
		p := stitches(new(Builder).Bean(Line(Point{}, Point{20, 0}), 2, times).Design())
		if len(p) != 1+10*times {
			t.Fatalf("%d penetrations, want the start and %d for each of 10 stitches", len(p), times)
		}
		count := map[float64]int{}
		for _, q := range p {
			count[q.X]++
		}
		if half := (times + 1) / 2; count[0] != half || count[20] != half || count[10] != times {
			t.Errorf("%d times: %v", times, count)
		}
	}
}

func TestRounds(t *testing.T) {
	b := new(Builder).Rounds(Circle(Point{}, 10), 2.5, 3)
	if n := len(b.Labels); n != 1+3*25 || b.Labels[7] != TripleRun {
		t.Errorf("%d stitches, labelled %d", n, b.Labels[7])
	}
}

func TestDashed(t *testing.T) {
	d := new(Builder).Dashed(Line(Point{}, Point{57, 0}), 2, 6, 3).Design()
	jumps, at := 0, 0.0
	for _, m := range d.Moves[1:] { // the first brings the needle to its start
		x := float64(m.X) / 10
		switch m.Kind {
		case stitchfile.Jump:
			jumps++
			if math.Abs(x-at-3) > 0.11 {
				t.Errorf("a gap from %.1f to %.1f, want 3 mm", at, x)
			}
		case stitchfile.Stitch:
			if x-at > 2.11 {
				t.Errorf("a stitch from %.1f to %.1f", at, x)
			}
		}
		at = x
	}
	if jumps != 6 || at != 57 {
		t.Errorf("%d gaps, ends at %.1f; want 7 dashes to 57 mm", jumps, at)
	}
}

func TestMotif(t *testing.T) {
	figure := Path{{0, 0}, {0.5, 2}, {1, 0}}
	p := stitches(new(Builder).Motif(Line(Point{}, Point{20, 0}), figure, 5).Design())
	if len(p) != 9 {
		t.Fatalf("%d penetrations, want two for each of 4 figures and the start", len(p))
	}
	for i, q := range p {
		if want := float64(2 * (i % 2)); q.Y != want || q.X != 2.5*float64(i) {
			t.Errorf("penetration %d at %v", i, q)
		}
	}
}

func TestRoughStaysNearAndClosed(t *testing.T) {
	ring := Circle(Point{}, 30)
	p := ring.Rough(0.5, 3)
	most := 0.0
	for _, q := range p {
		most = max(most, math.Abs(q.length()-30))
	}
	if most < 0.15 || most > 0.51 || !p.Closed() {
		t.Errorf("wanders by up to %.2f mm, closed: %v", most, p.Closed())
	}
	if other := ring.Rough(0.5, 4); other[20] == p[20] {
		t.Error("another seed wanders the same way")
	}
}
