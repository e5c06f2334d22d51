package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A satin whose underlay is a zigzag there and back is the cover, and the zigzags are none;
// with no satin over them in their stop they are.
func TestZigzagsUnderSatin(t *testing.T) {
	for _, c := range []struct {
		name  string
		satin bool
		want  report.Finish
	}{{"satin over them", true, report.FinishSatin}, {"nothing over them", false, report.FinishZigzag}} {
		star := star(28, 17, 9)
		b := new(st.Builder).Run(star, 2.5).TieOff().Stop().Run(star.Offset(0.3), 2.2).TieOff().Stop()
		back := star.Sample(400)
		for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
			back[i], back[j] = back[j], back[i]
		}
		b.OpenZigzag(star, 3, 2.4).Trim().OpenZigzag(back, 3, 2.4).Trim()
		if c.satin {
			b.Satin(star, st.SatinAlong{Width: 4.2, Pitch: 0.4})
		}
		w := recognised(t, b.TieOff().Design()).Pieces
		if len(w) != 1 || w[0].Finish != c.want || w[0].Tack.Stop != 1 {
			t.Fatalf("%s: %d pieces %+v, want one held by stop 2 and finished with %q", c.name, len(w), w, c.want)
		}
	}
}

// star is a star of so many points, from a tip on.
func star(outer, inner float64, points int) st.Path {
	o, i := st.Circle(st.Point{}, outer).Sample(2*points), st.Circle(st.Point{}, inner).Sample(2*points)
	var corners []st.Point
	for k := range 2 * points {
		if k%2 == 0 {
			corners = append(corners, o[k])
		} else {
			corners = append(corners, i[k])
		}
	}
	return st.Polygon(corners...)
}

// Two lines of one stop with a zigzag between them, all midway under a later satin, are its
// underlay; a zigzag that lies aside of the satin's middle, or with no line on its other side,
// may hold cloth whose pause was lost.
func TestEdgeRunAndZigzagUnderLaterSatin(t *testing.T) {
	order := func(zig, satin, other float64, echo bool) evidence {
		c := ringChain(at(0, single, other, 0), at(0, zigzag, zig, 2), at(1, satinMade, satin, 4))
		c.echo = echo
		return apart().orderEvidence(c, &option{tack: c.rounds[1], cover: []*round{c.rounds[2]}})
	}
	held := order(0.8, 0, 0.8, false)
	weighsMore(t, "the zigzag 0.45 mm off the satin's middle", held, order(0.75+0.45, 0.75, 1.5, false), true)
	weighsMore(t, "0.55 mm off", held, order(0.3, 0.85, 1.7, false), false)
	weighsMore(t, "lines 1 mm apart", held, order(0.5, 0.5, 1, false), true)
	weighsMore(t, "lines 0.8 mm apart", held, order(0.4, 0.4, 0.8, false), false)
	weighsMore(t, "the other line 0.45 mm off", held, order(0.8, 0.8, 1.6+0.45, false), true)
	weighsMore(t, "the other line 0.55 mm off", held, order(0.8, 0.8, 1.6+0.55, false), false)
	weighsMore(t, "the other line sewn first, 0.96 mm away", held, order(-0.48, -0.48, -0.48, true), true)
	weighsMore(t, "the other line sewn first, 0.84 mm away", held, order(-0.42, -0.42, -0.42, true), false)
}

// A line, a line of the tack-down and its zigzag, all in one stop that lost its pause, are of one
// piece; lines of one stop that have a cover each are of two.
func TestOneCoverIsOfOnePiece(t *testing.T) {
	for _, c := range []struct {
		in    float64 // mm between the lines
		apart bool    // the inner has a cover of its own
		want  int
	}{{0.4, false, 1}, {1.2, false, 1}, {14, true, 2}} {
		ring := st.Circle(st.Point{}, 30)
		inner := ring.Offset(c.in)
		b := new(st.Builder).Run(ring, 2.5).Trim().Run(inner, 2.3)
		if c.apart {
			b.TieOff().Stop().Run(ring.Offset(0.3), 2.2).Trim().Run(inner.Offset(0.3), 2.2)
		} else {
			b.OpenZigzag(inner, 2, 2)
		}
		b.TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4})
		if c.apart {
			b.Trim().Satin(inner, st.SatinAlong{Width: 4, Pitch: 0.4})
		}
		w := recognised(t, b.TieOff().Design()).Pieces
		if len(w) != c.want {
			t.Errorf("lines %.1f mm apart: %d pieces and holes, want %d", c.in, len(w), c.want)
		}
	}
}

// Nobody lays cloth cut beforehand over embroidery that is done: a line that satin of a later
// stop follows round a letter is its underlay. A letter that is sewn after is on the cloth, and one
// that goes on beyond the line has its end under it.
func TestClothCutBeforehandBuriesNothing(t *testing.T) {
	ring := st.Circle(st.Point{}, 30)
	letter := func(b *st.Builder, to float64) {
		b.Satin(st.Line(st.Point{X: -10}, st.Point{X: to}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder)
		firm bool
	}{
		{"a letter before", func(b *st.Builder) { letter(b, 10); b.Stop() }, false},
		{"a stem that goes on beyond before", func(b *st.Builder) { letter(b, 50); b.Stop() }, true},
		{"nothing before", func(b *st.Builder) {}, true},
	} {
		b := new(st.Builder)
		c.sew(b)
		b.Run(ring, 2.5).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		if c.name == "nothing before" {
			letter(b.Stop(), 10)
		}
		w := recognised(t, b.Design()).Pieces
		if firm := len(w) == 1 && w[0].Next == ""; firm != c.firm {
			t.Errorf("%s: %d pieces, told firmly %v, want %v", c.name, len(w), firm, c.firm)
		}
	}
}

// Pearls of satin along a line hide no edge; columns that leave small gaps do.
func TestRowsOfDotsCoverNothing(t *testing.T) {
	row := func(n int, length, width, along float64) bool {
		r := at(1, satinMade, 0, width)
		r.traces = nil
		for range n {
			r.traces = append(r.traces, &Trace{Kind: report.KindSatin, Length: length})
		}
		return r.dotted(along)
	}
	for _, c := range []struct {
		name                 string
		n                    int
		length, width, along float64
		want                 bool
	}{
		{"six dots", 6, 2, 2, 30, true},
		{"five", 5, 2, 2, 25, false},
		{"as long as 1.1 of their width", 10, 2.2, 2, 50, true},
		{"as long as 1.3 of it", 10, 2.6, 2, 50, false},
		{"sewn along 0.75 of the way", 10, 2.2, 2, 29.3, true},
		{"sewn along 0.85 of the way", 10, 2.2, 2, 25.9, false},
	} {
		if got := row(c.n, c.length, c.width, c.along); got != c.want {
			t.Errorf("%s: a row of dots: %v, want %v", c.name, got, c.want)
		}
	}
	r := at(1, satinMade, 0, 2)
	whole := ringChain().coverEvidence(&option{tack: at(0, single, 0, 0), cover: []*round{r}})
	for range 8 {
		r.traces = append(r.traces, &Trace{Kind: report.KindSatin, Length: 2})
	}
	dots := ringChain().coverEvidence(&option{tack: at(0, single, 0, 0), cover: []*round{r}})
	weighsMore(t, "a row of dots for a cover", whole, dots, true)
}

// A zigzag midway under a satin of its stop is underlay where the line lies bare beside both; a
// satin that lies over the line may hide the edge of cloth that the zigzag holds.
func TestZigzagUnderASatinBesideTheLine(t *testing.T) {
	order := func(zig, satin float64) evidence {
		c := ringChain(at(1, zigzag, zig, 2), at(1, satinMade, satin, 4))
		return apart().orderEvidence(c, &option{tack: c.rounds[0], cover: []*round{c.rounds[1]}})
	}
	held := order(0, 0)
	weighsMore(t, "a satin that begins 0.5 mm inside the line", held, order(2.5, 2.5), true)
	weighsMore(t, "one that begins 0.3 mm inside", held, order(2.3, 2.3), false)
	weighsMore(t, "one that ends 0.5 mm outside", held, order(-2.5, -2.5), true)
	weighsMore(t, "a zigzag 0.45 mm off its middle", held, order(2.05, 2.5), true)
	weighsMore(t, "a zigzag 0.55 mm off", held, order(1.95, 2.5), false)
}

// A satin that closes round a line as its own cover finishes one piece, whichever line that is;
// one that goes on along others finishes each.
func TestOwnCoverIsOfOnePiece(t *testing.T) {
	for _, c := range []struct {
		long float64 // of the satin, times the line
		want bool    // both lines may be pieces
	}{{1, false}, {1.2, false}, {1.3, true}} {
		cover := traced(1, report.KindSatin, arc(40, 0, 360))
		cover.Length *= c.long
		cover.index = 2
		chains := make([]*chain, 2)
		for i := range chains {
			r := at(1, satinMade, 0, 4)
			r.traces = []*Trace{cover}
			chains[i] = ringChain(r)
			chains[i].line.index = int32(i)
			chains[i].options = []option{{cover: []*round{r}, score: 2}}
		}
		h := (&hypothesis{used: make([]uint64, 1)}).with(chains[0], 0, 0, 2)
		if got := h.frees(chains[1], &chains[1].options[0]); got != c.want {
			t.Errorf("a satin %.1f times as long as a line may cover another as well: %v, want %v", c.long, got, c.want)
		}
	}
}
