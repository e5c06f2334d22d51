package applique

import (
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A line in a line is the tack-down of a raw edge where scissors can go round what it
// holds; a smaller one is a figure in a figure, as of leaves and flowers in plain
// stitching. A cover over it tells of cloth all the same.
func TestRawEdgesAreNotOfTinyCloths(t *testing.T) {
	figures := func(outline, inner func(at st.Point) st.Path, filled bool) *stitchfile.Design {
		var b st.Builder
		places := []st.Point{{X: -30}, {X: 0}, {X: 30}}
		for _, at := range places {
			b.Run(outline(at), 2).TieOff().Trim()
		}
		b.Stop()
		for _, at := range places {
			b.Run(inner(at), 2).TieOff().Trim()
		}
		if filled {
			b.Stop()
			for _, at := range places {
				b.Fill(outline(at), 0.4, 3, 0.3).TieOff().Trim()
			}
		}
		return b.Design()
	}
	circle := func(radius float64) func(st.Point) st.Path {
		return func(at st.Point) st.Path { return st.Circle(at, radius) }
	}
	strip := func(width, height float64) func(st.Point) st.Path {
		return func(at st.Point) st.Path { return st.Rect(at, width, height) }
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   int
	}{
		{"circles of 5.4 mm in circles of 9", figures(circle(4.5), circle(2.7), false), 0},
		{"circles of 7 mm in circles of 11", figures(circle(5.5), circle(3.5), false), 3},
		{"circles of 5.4 mm in circles of 9, sewn full", figures(circle(4.5), circle(2.7), true), 3},
		{"strips of 2.6 mm in strips of 6", figures(strip(6, 40), strip(2.6, 36.6), false), 0},
		{"strips of 4.4 mm in strips of 7.8", figures(strip(7.8, 40), strip(4.4, 36.6), false), 3},
	} {
		if got := len(recognised(t, c.design).Pieces); got != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, got, c.want)
		}
	}
}

// Lines along both sides of satin that lies there already, each in a stop of its own, are
// its edges and no raw edge; satin along three sides of a line says nothing of it.
func TestLinesBesideSatinHoldNoCloth(t *testing.T) {
	outline := st.Rect(st.Point{}, 60, 40)
	for _, c := range []struct {
		name  string
		satin st.Path
		want  int
	}{
		{"satin all along", outline, 0},
		{"satin along three sides", outline[:4], 1},
	} {
		var b st.Builder
		b.Satin(c.satin, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Trim().Stop()
		b.Run(st.Rect(st.Point{}, 63.4, 43.4), 2).TieOff().Trim().Stop()
		b.Run(st.Rect(st.Point{}, 56.6, 36.6), 2).TieOff()
		if got := len(recognised(t, b.Design()).Pieces); got != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, got, c.want)
		}
	}
}

// Cloth is not laid over embroidery that it would hide for good. What is sewn on the cloth
// afterwards, or reaches out from under it, says nothing against it.
func TestRawEdgesDoNotBuryEmbroidery(t *testing.T) {
	frame := func(b *st.Builder) {
		b.Bean(st.Rect(st.Point{}, 90, 70), 2.5, 3).TieOff().Trim().Stop()
		b.Bean(st.Rect(st.Point{}, 84, 64), 2.5, 3).TieOff().Trim()
	}
	for _, c := range []struct {
		name   string
		filled st.Path
		first  bool
		want   int
	}{
		{"a fill before, within", st.Rect(st.Point{}, 30, 20), true, 0},
		{"a fill before, 4 mm inside", st.Rect(st.Point{X: 20}, 42, 20), true, 0},
		{"a fill before, up to 2 mm from the line", st.Rect(st.Point{X: 20}, 46, 20), true, 1},
		{"a fill before, reaching out", st.Rect(st.Point{X: 40}, 30, 20), true, 1},
		{"a fill after", st.Rect(st.Point{}, 30, 20), false, 1},
	} {
		var b st.Builder
		if c.first {
			b.Fill(c.filled, 0.4, 3.5, 0.3).TieOff().Trim().Stop()
		}
		frame(&b)
		if !c.first {
			b.Stop().Fill(c.filled, 0.4, 3.5, 0.3).TieOff()
		}
		if got := len(recognised(t, b.Design()).Pieces); got != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, got, c.want)
		}
	}
}
