package match

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
	"github.com/stopcard/stopcard/stitchfile"
)

func TestThinning(t *testing.T) {
	for stitches, want := range map[int]int{0: 1, 1: 1, mostPoints: 1, mostPoints + 1: 2, 2 * mostPoints: 2, 2*mostPoints + 1: 3} {
		if got := thinning(stitches); got != want {
			t.Errorf("%d stitches: every %d, want %d", stitches, got, want)
		}
	}
}

// Signatures of absurd designs are bounded, begin each stop with its first point, and
// still tell that two are one.
func TestSignatureIsBounded(t *testing.T) {
	const n = 3*mostPoints + 7
	d := &stitchfile.Design{Moves: make([]stitchfile.Move, n)}
	for i := range d.Moves {
		d.Moves[i] = stitchfile.Move{X: int32(i % 1000), Y: int32(i / 1000 % 1000)}
	}
	r := &report.Report{Stitches: n, WidthMM: 99.9, HeightMM: 99.9, CentreX: 499.5, CentreY: 499.5,
		Stops: []report.Stop{{Number: 1, First: 0, Last: 10}, {Number: 2, First: 10, Last: n}}}
	rec := &applique.Recognised{Sewn: &stitches.Sewn{Design: d, Stops: r.Stops}}
	a, b := Sign(rec, r), Sign(rec, r)
	if len(a.points) > mostPoints+len(r.Stops) || a.pointsOf(0)[0] != (needlePoint{0, 0}) || a.pointsOf(1)[0] != (needlePoint{10, 0}) {
		t.Errorf("%d points, the stops begin with %v and %v", len(a.points), a.pointsOf(0)[0], a.pointsOf(1)[0])
	}
	if share := alike(a, b); share != 1 {
		t.Errorf("alike by %g", share)
	}
}
