package applique

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
)

// Each needle point is of the trace that has it, of the later one where two meet, or of
// none; and those in a box are found, as far as the order of sewing is asked for.
func TestStrips(t *testing.T) {
	p := apart()
	for i := range 40 {
		p.sewn.Track.Pts = append(p.sewn.Track.Pts, mm(float64(i), 0))
	}
	p.traces = []Trace{{Spans: [][2]int{{3, 11}, {30, 34}}}, {Spans: [][2]int{{10, 16}}}, {Spans: [][2]int{{34, 40}}}}
	var got []int32
	for i := range p.strips() {
		s := &p.strips()[i]
		for i := s.from; i < s.to; i++ {
			got = append(got, s.trace)
			if want := geom.BoxOf(p.sewn.Track.Pts[s.from:s.to]); p.boxOfStrip(s) != want {
				t.Errorf("strip from %d: box %v, want %v", s.from, s.box, want)
			}
		}
	}
	want := slices.Concat(slices.Repeat([]int32{-1}, 3), slices.Repeat([]int32{0}, 7), slices.Repeat([]int32{1}, 6),
		slices.Repeat([]int32{-1}, 14), slices.Repeat([]int32{0}, 4), slices.Repeat([]int32{2}, 6))
	if !slices.Equal(got, want) {
		t.Errorf("traces of needle points\n%v, want\n%v", got, want)
	}
	for _, c := range []struct {
		lo, hi   float64
		from, to int
		want     []int32
	}{
		{8, 12, 0, 40, []int32{8, 9}},
		{8, 31.5, 9, 31, []int32{9, 30}},
		{0, 40, 0, 1 << 30, []int32{3, 4, 5, 6, 7, 8, 9, 30, 31, 32, 33}},
		{0, 40, 20, 20, nil},
	} {
		in := geom.Box{Lo: mm(c.lo, -1), Hi: mm(c.hi, 1)}
		if holes, few := p.holesIn(in, c.from, c.to, func(k int32) bool { return k == 0 }); !few || !slices.Equal(holes, c.want) {
			t.Errorf("from %v to %v mm, points %d to %d: %v, want %v", c.lo, c.hi, c.from, c.to, holes, c.want)
		}
	}
}
