package applique

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A line that goes round beside a loop is another line; on it, it is the loop sewn again.
func TestLoopBesideALoop(t *testing.T) {
	for _, c := range []struct {
		off, share float64
		want       int
	}{
		{0.15, 1, 1},
		{0.45, 1, 2},
		{0.45, 0.9, 2},
		{0.45, 0.6, 1}, // an end that goes past where the loop closed
	} {
		b := new(st.Builder).Run(st.Circle(st.Point{}, 25), 2.5)
		in := st.Circle(st.Point{}, 25-c.off)
		b.Run(in[:int(c.share*float64(len(in)))], 2.2)
		n := 0
		for _, tr := range recognised(t, b.Design()).Traces {
			if tr.Length > 60 {
				n++
			}
		}
		if n != c.want {
			t.Errorf("%.2f of a round, %.2f mm beside a loop: %d lines, want %d", c.share, c.off, n, c.want)
		}
	}
}

// sewnOn sews a line and another along it in one stop, with n lock stitches there and
// back between, each of so many mm, and satin over both in the next.
func sewnOn(n int, length float64, cut bool) *stitchfile.Design {
	line := st.Circle(st.Point{}, 25)
	b := new(st.Builder).Run(line, 2.5)
	for range n {
		b.StitchTo(st.Point{X: 25 + length}).StitchTo(line[0])
	}
	if cut {
		b.Trim()
	}
	b.Run(line.Offset(0.5), 2.2).TieOff().Stop()
	return b.Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

func TestLockStitchesBetweenLines(t *testing.T) {
	for _, c := range []struct {
		name   string
		n      int
		length float64
		cut    bool
		want   bool
	}{
		{"no lock stitch", 0, 0.6, false, false},
		{"two lock stitches", 2, 0.6, false, true},
		{"two of 0.9 mm", 2, 0.9, false, true},
		{"two of 1.3 mm", 2, 1.3, false, false},
		{"two, and the thread is cut", 2, 0.6, true, false},
	} {
		d := sewnOn(c.n, c.length, c.cut)
		rec := recognised(t, d)
		var lines []*Trace
		for i := range rec.Traces {
			if tr := &rec.Traces[i]; tr.Stop == 0 && tr.Closed && tr.Length > 100 {
				lines = append(lines, tr)
			}
		}
		if len(lines) != 2 {
			t.Errorf("%s: %d lines, want 2", c.name, len(lines))
			continue
		}
		p := &finder{sewn: rec.Sewn}
		if got := p.tiedBetween(lines[0], lines[1]); got != c.want {
			t.Errorf("%s between: tied off: %v", c.name, got)
		}
	}
}

// Lock stitches that the thread sews on from are a pause that was lost; the same line
// sewn once more is no second piece.
func TestSewnOnIsOnePiece(t *testing.T) {
	rec := recognised(t, sewnOn(2, 0.6, false))
	if len(rec.Pieces) != 1 || !rec.Pieces[0].OneStop || len(rec.Rehearsal.Missing) != 1 {
		t.Errorf("%d pieces, %d pauses missing, want one each", len(rec.Pieces), len(rec.Rehearsal.Missing))
	}
	line := st.Circle(st.Point{}, 25)
	for _, from := range []int{0, len(line) / 4, len(line) / 2} { // where it is begun again
		again := slices.Concat(line[from:len(line)-1], line[:from+1])
		b := new(st.Builder).Run(line, 2.5).TieOff().Trim().Run(again, 2.5).TieOff().Stop()
		b.Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		if rec := recognised(t, b.Design()); len(rec.Pieces) != 1 || rec.Pieces[0].Hole {
			t.Errorf("a line sewn twice under one satin, from hole %d on, makes %d pieces", from, len(rec.Pieces))
		}
	}
}

// lockedPast sews a line that goes so many stitches past where it closes, n lock
// stitches there, the line once more, and satin over both in the next stop.
func lockedPast(past, n int, length float64) *stitchfile.Design {
	const round = 64 // stitches of 2.5 mm
	line := st.Circle(st.Point{}, 25)
	hole := func(i int) st.Point { return line[i%round*(len(line)-1)/round] }
	b := new(st.Builder)
	for i := range round + past + 1 {
		b.StitchTo(hole(i))
	}
	b.Lock(b.At(), st.Point{X: 1}, length, n)
	for i := range round + 1 {
		b.StitchTo(hole(past + i))
	}
	return b.TieOff().Stop().Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

// lockedAcross sews a line, goes straight across it in so many stitches, makes n lock
// stitches there, and sews the line once more; satin lies over both in the next stop.
func lockedAcross(way, n int) *stitchfile.Design {
	line := st.Circle(st.Point{}, 25)
	b, half := new(st.Builder).Run(line, 2.5), len(line)/2
	for i := range way {
		b.StitchTo(st.Point{X: 25 - 50*float64(i+1)/float64(way)})
	}
	b.Lock(b.At(), st.Point{Y: 1}, 0.6, n).Run(slices.Concat(line[half:len(line)-1], line[:half+1]), 2.5)
	return b.TieOff().Stop().Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

// Three lock stitches end a line; one there and back is the way that many begin. They lie
// where the line has gone a few stitches past its beginning, or a short way from its end.
func TestWhereLockStitchesEndALine(t *testing.T) {
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		lost   bool // a pause to lay the cloth
	}{
		{"a stitch of 0.3 mm there and back", lockedPast(2, 2, 0.3), false},
		{"three of 0.3 mm", lockedPast(2, 3, 0.3), true},
		{"a stitch of 0.6 mm there and back", lockedPast(2, 2, 0.6), false},
		{"three of 0.6 mm", lockedPast(2, 3, 0.6), true},
		{"three of 0.3 mm, 4 stitches past the beginning", lockedPast(4, 3, 0.3), true},
		{"three of 0.3 mm, 5 stitches past the beginning", lockedPast(5, 3, 0.3), false},
		{"three after 19 stitches across", lockedAcross(19, 3), true},
		{"three after 23 stitches across", lockedAcross(23, 3), false},
		{"a stitch there and back after 19 stitches across", lockedAcross(19, 2), false},
	} {
		rec := recognised(t, c.design)
		if len(rec.Pieces) != 1 || rec.Pieces[0].OneStop != c.lost {
			t.Errorf("%s: %d pieces, want one with a pause lost: %v", c.name, len(rec.Pieces), c.lost)
		}
	}
}

// Layers of a block are told without any piece where its lines are alone in their stops.
func TestBlockAlone(t *testing.T) {
	block := func(stray float64, lines ...float64) *stitchfile.Design {
		b := new(st.Builder)
		for i, out := range lines {
			if i == 2 {
				b.Bean(st.Circle(st.Point{X: 10}, 20), 2.5, 3).TieOff().Stop()
			}
			b.Run(st.Rect(st.Point{}, 120+2*out, 120+2*out), 2.5).TieOff()
			if i == 0 {
				b.Trim().Run(st.Line(st.Point{Y: -stray / 2}, st.Point{Y: stray / 2}), 2.5)
			}
			if i+1 < len(lines) {
				b.Stop()
			}
		}
		return b.Design()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   bool
	}{
		{"four lines", block(0, 0, 1, 1.5, 2), true},
		{"batting held 6 mm inside", block(0, 0, 1, -6, 2), true},
		{"a frame before and one after", block(0, 0, 1, 1.5), false},
		{"its outline with 35 mm of other stitching", block(35, 0, 1, 1.5, 2), true},
		{"its outline with 75 mm of it", block(75, 0, 1, 1.5, 2), false},
	} {
		rec := recognised(t, c.design)
		if got := rec.Roles[0].Role == report.RoleClothOutline; got != c.want {
			t.Errorf("%s: the first stop is %s (%s)", c.name, rec.Roles[0].Role, rec.Roles[0].Reason)
		}
		if c.want && len(rec.Round) != 4 {
			t.Errorf("%s: %d lines round the block, want 4", c.name, len(rec.Round))
		}
	}
}

// Of a line sewn before the satin of its stop, one of an edge run is no tack-down.
func TestEdgeRunIsNoTackDown(t *testing.T) {
	over := at(2, satinMade, 0, 4)
	over.q1, over.q3 = -2, 2
	for _, c := range []struct {
		inside, other float64
		want          bool
	}{
		{1.5, -1.5, true},
		{1.0, -1.0, true},
		{0.8, -0.8, false}, // so near the middle a tack-down lies
		{1.5, -1.05, true},
		{1.5, -0.9, false},
		{1.5, 1.5, false},
	} {
		line, other := at(2, single, c.inside, 0), at(2, single, c.other, 0)
		if got := ringChain(line, other, over).edgeRun(line, over); got != c.want {
			t.Errorf("lines %.1f mm and %.1f mm inside are an edge run: %v", c.inside, c.other, got)
		}
	}
	tack, other := at(2, single, 1.5, 0), at(2, single, -1.5, 0)
	with, without := ringChain(tack, other, over), ringChain(tack, at(3, single, -1.5, 0), over)
	o := &option{tack: tack, cover: []*round{over}}
	if d := float64(apart().orderEvidence(with, o) - apart().orderEvidence(without, o)); d > -2.4 || d < -2.6 {
		t.Errorf("an edge run for a tack-down weighs %.2f, want -2.5", d)
	}
}

// A line that is left open stays open, however near its ends come.
func TestLineLeftOpen(t *testing.T) {
	for _, open := range []float64{5, 7.5} {
		ring := st.Circle(st.Point{}, 25)
		in := ring.Offset(0.5).Sample(300)
		in = in[:len(in)-int(open/(2*3.14159265*24.5)*300)]
		d := new(st.Builder).Run(ring, 2.5).TieOff().Stop().Run(in, 2.2).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
		rec := recognised(t, d)
		if len(rec.Pieces) != 1 || rec.Pieces[0].Tack.Closed {
			t.Errorf("a tack-down open by %.1f mm: %d pieces, its end told: %v", open, len(rec.Pieces), len(rec.Pieces) == 1 && !rec.Pieces[0].Tack.Closed)
		}
	}
}

// The needle holes of a motif are not looked at in step with its figures.
func TestMotifOfAnyStitches(t *testing.T) {
	ring := st.Circle(st.Point{}, 95)
	for n, figure := range []st.Path{
		{{X: 0}, {X: 0.3, Y: 1.5}, {X: 0.5}, {X: 0.7, Y: -1.5}, {X: 1}},
		{{X: 0}, {X: 0.5}, {X: 0.25, Y: 0.9}, {X: 0.5, Y: 1.5}, {X: 0.75, Y: 0.9}, {X: 0.5}, {X: 1}},
		{{X: 0}, {X: 0.5}, {X: 0.5, Y: 1.5}, {X: 0.5, Y: -1.5}, {X: 0.5}, {X: 1}},
	} {
		for _, pitch := range []float64{3.1, 4.2, 5.3, 6.4} {
			d := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop().Motif(ring, figure, pitch).TieOff().Design()
			rec := recognised(t, d)
			if len(rec.Pieces) != 1 || len(rec.Pieces[0].Covers) != 1 || rec.Pieces[0].Finish == report.FinishSatin {
				t.Errorf("figure %d, %.1f mm: %d pieces, want one with a motif over its edge", n, pitch, len(rec.Pieces))
			}
		}
	}
}
