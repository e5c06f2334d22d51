package applique

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// flat is a row of n teeth that rise so far, 2.5 mm apart.
func flat(n int, rise float64) []geom.Point {
	out := []geom.Point{mm(-2.5, 0), mm(0, 0)}
	for i := range n {
		out = append(out, mm(2.5*float64(i+1), rise*float64(1-i%2)))
	}
	last := out[len(out)-1]
	return append(out, mm(last.X+2.5, last.Y), mm(last.X+5, last.Y))
}

func TestFlatTeeth(t *testing.T) {
	for _, c := range []struct {
		n    int
		rise float64
		want bool
	}{{20, 0.5, true}, {20, 0.36, false}, {9, 1, true}, {6, 1, false}} {
		if got := flatTeeth(flat(c.n, c.rise)) != nil; got != c.want {
			t.Errorf("%d teeth of %.2f mm are a flat zigzag: %v", c.n, c.rise, got)
		}
	}
	// Their middle is straight.
	pts := flat(30, 1)
	even := evened(pts)
	for i := 4; i < len(even)-4; i++ {
		near(t, "the middle of teeth", even[i].Y, 0.5, 1e-9)
	}
}

// A corner takes some teeth out of a row, and a way between two rows takes more.
func TestRowsOfTeeth(t *testing.T) {
	for _, c := range []struct {
		between int // needle points in line between two rows
		want    int
	}{{1, 1}, {6, 2}} {
		pts := flat(12, 1)
		last := pts[len(pts)-1]
		for i := range c.between {
			pts = append(pts, mm(last.X+2.5*float64(i+1), last.Y))
		}
		last = pts[len(pts)-1]
		for _, q := range flat(12, 1)[2:] {
			pts = append(pts, last.Add(q))
		}
		if n := len(toothed(pts)); n != c.want {
			t.Errorf("%d needle points between: %d rows, want %d", c.between+4, n, c.want)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if got < want-tolerance || got > want+tolerance {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// flatRing is a ring in a flat zigzag, which leaves an opening, once or twice round,
// and leads on to another.
func flatRing(opening, rounds float64) *stitchfile.Design {
	const r, pitch = 25.0, 2.5
	b := new(st.Builder)
	ring := func(x float64) {
		for i := 0; float64(i)*pitch < rounds*(2*math.Pi*r)-opening; i++ {
			p := st.Circle(st.Point{X: x}, r+0.6*float64(1-2*(i%2)))
			b.StitchTo(p[int(float64(i)*pitch/(2*math.Pi*r)*float64(len(p)-1))%(len(p)-1)])
		}
	}
	ring(0)
	b.Run(st.Line(b.At(), st.Point{X: 113}), 2.5)
	ring(90)
	return b.Design()
}

func TestFlatZigzagCloses(t *testing.T) {
	for _, c := range []struct {
		opening, rounds float64
		want            int
	}{{1, 1, 2}, {9, 1, 0}, {1, 2, 2}} {
		n := 0
		for _, tr := range recognised(t, flatRing(c.opening, c.rounds)).Traces {
			if tr.Closed && tr.Length > 130 && tr.Length < 200 {
				n++
			}
		}
		if n != c.want {
			t.Errorf("two rings %v times round, open by %v mm: %d closed lines, want %d", c.rounds, c.opening, n, c.want)
		}
	}
}

// A zigzag whose teeth are a surface on its curves and a line between is one zigzag.
func TestZigzagOfEitherKind(t *testing.T) {
	ring := st.Circle(st.Point{}, 28)
	d := new(st.Builder).Run(ring, 2.5).TieOff().Stop().OpenZigzag(ring.Offset(0.6), 1.2, 4).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	rec := recognised(t, d)
	if len(rec.Pieces) != 1 || !rec.Pieces[0].Held || !rec.Pieces[0].Tack.Closed {
		t.Fatalf("%d pieces, want one that is held all round", len(rec.Pieces))
	}
	both := map[report.Kind]bool{}
	for _, g := range rec.Sewn.Passages {
		if g.Stop == 2 {
			both[g.Kind] = true
		}
	}
	if !both[report.KindRun] || !both[report.KindOpenZigzag] {
		t.Errorf("the zigzag is of one kind of stitches only, and tests nothing: %v", both)
	}
}

// Bands of parts of a blanket stitch are not its line, however long the ways between
// them are.
func TestBlanketStitchInParts(t *testing.T) {
	var flower st.Path
	for i := range 301 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%300) / 300)
		r := 25 * (0.85 + 0.15*math.Cos(5*2*math.Pi*float64(i%300)/300))
		flower = append(flower, st.Point{X: r * cos, Y: r * sin})
	}
	for _, pitch := range []float64{2.5, 3.5, 4.2, 4.6, 5} {
		d := new(st.Builder).Run(flower, 2.5).TieOff().Stop().EStitch(flower.Offset(0.5), 1.5, pitch).TieOff().Stop().Satin(flower, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
		rec := recognised(t, d)
		if len(rec.Pieces) != 1 || !rec.Pieces[0].Held || !rec.Pieces[0].Tack.Closed || rec.Pieces[0].Like.Most > 1.5 {
			t.Errorf("blanket stitches %.1f mm apart: %d pieces, want one held all round", pitch, len(rec.Pieces))
		}
	}
}
