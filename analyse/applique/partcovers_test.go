package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// partly is a piece of which a later one hides all but a share of the way round, under
// satin along so much of what is in sight, beside a piece that is covered.
func partly(inSight, covered float64) *stitchfile.Design {
	const r, big = 20.0, 45.0
	ring, half := st.Circle(st.Point{}, r), math.Pi*inSight
	x, y := r*math.Cos(half), r*math.Sin(half)
	over := st.Circle(st.Point{X: x - math.Sqrt(big*big-y*y)}, big)
	if inSight == 0 {
		over = st.Circle(st.Point{X: r + 2 - big}, big)
	}
	b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
	b.Run(over, 2.5).TieOff().Stop().DoubleRun(over.Offset(0.5), 2.2).TieOff().Stop()
	if covered > 0 {
		b.Satin(st.Arc(st.Point{}, r, -half*covered, half*covered), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
	}
	return b.Satin(over, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

func TestPartCovers(t *testing.T) {
	for _, c := range []struct {
		name             string
		inSight, covered float64
		want             report.Finish
		under            bool
	}{
		{"a quarter in sight, all of it covered", 0.25, 1.1, report.FinishSatin, false},
		{"a quarter in sight, nothing covered", 0.25, 0, report.FinishMissing, false},
		{"nothing in sight, nothing covered", 0, 0, report.FinishRaw, true},
		{"a fifth in sight, nothing covered", 0.2, 0, report.FinishMissing, false},
		{"13 % in sight, all of it under the satin of the piece over it", 0.13, 0, report.FinishSatin, false},
		{"7 % in sight, all of it covered", 0.07, 1.1, report.FinishSatin, false},
		{"a third in sight, half of it covered", 0.33, 0.5, report.FinishSatin, false},
		{"a third in sight, a third of it covered", 0.33, 0.4, report.FinishMissing, false},
	} {
		rec := recognised(t, partly(c.inSight, c.covered))
		if len(rec.Pieces) != 2 || rec.Pieces[0].Finish != c.want || rec.Pieces[0].Under != c.under {
			t.Errorf("%s: %d pieces, the first finished %q, under other cloth: %v", c.name, len(rec.Pieces), rec.Pieces[0].Finish, rec.Pieces[0].Under)
		}
	}
}

// Of a point that looks out from under another piece satin must cover a few mm.
func TestPointInSight(t *testing.T) {
	for _, c := range []struct {
		covered float64 // mm along the point
		want    report.Finish
	}{{7.5, report.FinishMissing}, {8.6, report.FinishSatin}} {
		round := st.Arc(st.Point{}, 30, math.Pi+0.05, 3*math.Pi-0.05)
		point := st.Path{round[len(round)-1], {X: -46.5, Y: -1.5}, {X: -46.5, Y: 1.5}, round[0]}
		low, over := append(round, point[1:]...), st.Circle(st.Point{}, 36)
		b := new(st.Builder).Run(low, 2).TieOff().Stop().DoubleRun(low, 2).TieOff().Stop()
		b.Run(over, 2.5).TieOff().Stop().DoubleRun(over.Offset(0.3), 2.2).TieOff().Stop()
		var way st.Path
		for s := 9.0; s <= 9+c.covered; s += 0.5 {
			q, _ := point.At(s)
			way = append(way, q)
		}
		b.Satin(way, st.SatinAlong{Width: 2, Pitch: 0.4}).TieOff().Trim().Satin(over, st.SatinAlong{Width: 2.5, Pitch: 0.4})
		rec := recognised(t, b.TieOff().Design())
		if len(rec.Pieces) != 2 || rec.Pieces[0].Finish != c.want {
			t.Errorf("satin along %.1f mm of a point: %d pieces, want two, the first finished %q", c.covered, len(rec.Pieces), c.want)
			for _, k := range rec.Pieces {
				t.Log(k.Finish, k.Under)
			}
		}
	}
}

// A fill over all of a small piece leaves no edge to cover; one inside it, or over a
// larger piece, is no cover.
func TestFillOverASmallPiece(t *testing.T) {
	for _, c := range []struct {
		size, past float64
		under      bool
	}{{10, 1, true}, {10, 0.7, true}, {10, -0.3, false}, {15.5, 1, true}, {18, 1, false}, {10, 5, false}} {
		big, tiny := st.Circle(st.Point{}, 25), st.Circle(st.Point{X: 50}, c.size/2)
		b := new(st.Builder).Run(big, 2).TieOff().Trim().Run(tiny, 2).TieOff().Stop()
		b.DoubleRun(big.Offset(0.5), 2).TieOff().Trim().DoubleRun(tiny.Offset(0.2), 2).TieOff().Stop()
		b.Satin(big, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim().Fill(tiny.Offset(-c.past), 0.4, 4, 0).TieOff()
		rec := recognised(t, b.Design())
		if len(rec.Pieces) != 2 || rec.Pieces[1].Under != c.under {
			t.Errorf("a fill %.1f mm past a piece of %.1f mm: %d pieces, nothing of the second to cover: %v", c.past, c.size, len(rec.Pieces), !c.under)
		}
	}
}

// A bar of satin is the cover of a small piece if it reaches past its tack-down on all
// sides by what hides a fringe.
func TestBarOverASmallPiece(t *testing.T) {
	for _, c := range []struct {
		past float64
		want report.Finish
	}{{0.4, report.FinishMissing}, {0.6, report.FinishSatin}} {
		big, tiny := st.Circle(st.Point{X: -50}, 25), st.Rect(st.Point{}, 8, 8)
		b := new(st.Builder).Run(big, 2).TieOff().Trim().Run(tiny, 2).TieOff().Stop()
		b.DoubleRun(big.Offset(0.5), 2).TieOff().Trim().DoubleRun(tiny, 2).TieOff().Stop()
		b.Satin(big, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
		b.Satin(st.Line(st.Point{X: -4 - c.past}, st.Point{X: 4 + c.past}), st.SatinAlong{Width: 8 + 2*c.past, Pitch: 0.4}).TieOff()
		rec := recognised(t, b.Design())
		if len(rec.Pieces) != 2 || rec.Pieces[1].Finish != c.want {
			t.Errorf("a bar of satin %.1f mm past a piece of 8 mm: %d pieces, want two, the second finished %q", c.past, len(rec.Pieces), c.want)
		}
	}
}

// One satin that goes along what is in sight of a piece and on round the piece over it
// covers both; where it leaves some of that bare the cover is missing.
func TestSatinThatGoesOnRoundTheNextPiece(t *testing.T) {
	const r, big, at = 20.0, 18.0, 25.0
	for _, c := range []struct {
		covered float64 // of the arc in sight
		want    report.Finish
	}{{1.05, report.FinishSatin}, {0.5, report.FinishMissing}} {
		low, over := st.Circle(st.Point{}, r), st.Circle(st.Point{X: at}, big)
		cut := math.Acos((r*r + at*at - big*big) / (2 * r * at)) // of the lower circle, where they cross
		half := c.covered * (math.Pi - cut)
		way := st.Arc(st.Point{}, r, math.Pi+half, math.Pi-half)
		end, first := way[len(way)-1], 0
		ring := over.Sample(400)
		for i, q := range ring {
			if math.Hypot(q.X-end.X, q.Y-end.Y) < math.Hypot(ring[first].X-end.X, ring[first].Y-end.Y) {
				first = i
			}
		}
		way = append(append(append(way, ring[first:]...), ring[:first]...), ring[first])
		b := new(st.Builder).Run(low, 2.5).TieOff().Stop().DoubleRun(low.Offset(0.3), 2.2).TieOff().Stop()
		b.Run(over, 2.5).TieOff().Stop().DoubleRun(over.Offset(0.3), 2.2).TieOff().Stop()
		rec := recognised(t, b.Satin(way, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff().Design())
		if len(rec.Pieces) != 2 || rec.Pieces[0].Finish != c.want || rec.Pieces[1].Finish != report.FinishSatin {
			t.Errorf("%.0f %% of what is in sight covered: %d pieces, want two, the first finished %q", 100*c.covered, len(rec.Pieces), c.want)
		}
	}
}
