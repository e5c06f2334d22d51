package measure

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func passOf(t *testing.T, b *st.Builder) *Pass {
	t.Helper()
	rec, err := applique.Recognise(context.Background(), b.Design())
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPass(context.Background(), rec, report.DefaultSettings(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Do(DensityGrid); err != nil {
		t.Fatal(err)
	}
	return p
}

// Each hole is counted once, and all of it weighs on the ground about it, away from the
// border of the grid.
func TestCrowdingLosesNoHole(t *testing.T) {
	b := new(st.Builder).Satin(st.Line(st.Point{}, st.Point{X: 60}), st.SatinAlong{Width: 9, Pitch: 0.4})
	b.Trim().Run(st.Line(st.Point{X: -30, Y: -30}, st.Point{X: 90, Y: 30}), 2.5)
	p := passOf(t, b)
	holes := 0.0
	for i := range p.Sewn.Track.Pts {
		if isHole(&p.Sewn.Track, i) {
			holes++
		}
	}
	w := new(counts)
	g := p.Report.Density.Grid
	w.within(&p.Sewn.Track, g, nil)
	if !w.count(&p.Sewn.Track, g, nil) {
		t.Fatal("a byte does not count the holes of usual stitching")
	}
	counted := 0.0
	for _, n := range w.holes {
		counted += float64(n)
	}
	if counted != holes || holes < 300 {
		t.Errorf("%.0f holes are counted of %.0f", counted, holes)
	}
}

// However many holes a half cell has, they are counted: 255 by bytes, more by wider counts.
func TestCrowdingCountsAnyNumberOfHoles(t *testing.T) {
	for _, n := range []int{255, 256, 3000} {
		b := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 20}), 2.5)
		p := passOf(t, b)
		track := &p.Sewn.Track
		for range n - 1 {
			track.Pts, track.Kind, track.Marks = append(track.Pts, track.Pts[4]), append(track.Kind, report.KindRun), append(track.Marks, 0)
		}
		g := p.Report.Density.Grid
		w := new(counts)
		w.within(track, g, nil)
		if narrow := w.count(track, g, nil); narrow != (n <= math.MaxUint8) {
			t.Errorf("%d holes: a byte counts them: %v", n, narrow)
		}
		// The middle of the place has four of four parts of the holes, along either axis.
		want := float64(n) * crowdSpan * crowdSpan * eachHole(g.CellMM/2)
		if _, got := crowding(track, g, nil); got < want || got > 1.1*want {
			t.Errorf("%d holes in one place: %.1f to the mm2, want %.1f", n, got, want)
		}
	}
}

// Summed up four half cells at a time, each has what it has when it is summed up alone, up to
// the most that a byte counts.
func TestCrowdingOfFourHalfCellsAtATime(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, extent := range []float64{3, 11, 23.3} {
		p := passOf(t, new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: extent, Y: extent / 2}), 2.5))
		track, g := &p.Sewn.Track, p.Report.Density.Grid
		at := track.Pts[len(track.Pts)-1]
		for i := range 250 + 20*g.NX*g.NY {
			q := at // some half cells as full as may be, others as they come
			if i >= 250 {
				q = geom.Point{X: g.X + r.Float64()*float64(g.NX)*g.CellMM, Y: g.Y + r.Float64()*float64(g.NY)*g.CellMM}
			}
			track.Pts, track.Kind, track.Marks = append(track.Pts, q), append(track.Kind, report.KindRun), append(track.Marks, 0)
		}
		w := new(counts)
		w.within(track, g, nil)
		if !w.count(track, g, nil) {
			t.Fatal("a half cell has more holes than a byte counts")
		}
		want := w.wideSums(track, g, nil)
		w.eachRow(func(y int) {
			for x := range 2 * g.NX {
				if got := uint32(w.sums[x/laneCount]>>(x%laneCount*laneBits)) & laneMost; got != want[y*2*g.NX+x] {
					t.Fatalf("%g: half cell %d,%d has %d, alone %d", extent, x, y, got, want[y*2*g.NX+x])
				}
			}
		})
		w.count(track, g, nil)
		place, most := w.peak()
		if i := slices.Index(want, slices.Max(want)); most != want[i] || place != (cellPlace{i % (2 * g.NX), i / (2 * g.NX)}) {
			t.Errorf("%g: the peak of %d lies at %v, that of all at %d of %d", extent, most, place, i, 2*g.NX)
		}
	}
}
