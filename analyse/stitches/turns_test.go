package stitches

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

// What is known of single crossings since they were labelled is what is found when their
// strokes are made anew: in satin with stray, split and tiny stitches, and wherever a
// passage begins.
func TestTurnsOfSingleCrossings(t *testing.T) {
	type turn struct {
		from, to int32
		rung     bool
	}
	turnsOf := func(track *Track, first, last int) (out []turn) {
		w := track.Turns(first, last)
		defer w.Done()
		for i := range w.Len() {
			from, to, rung := w.At(i)
			out = append(out, turn{from, to, rung})
		}
		return out
	}
	known, other := 0, 0
	for seed := range uint64(60) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		d := &stitchfile.Design{}
		x, y, width := int32(0), int32(0), 10+rnd.Int32N(50)
		put := func(dx, dy int32) {
			x, y = x+dx, y+dy
			d.Moves = append(d.Moves, stitchfile.Move{X: x, Y: y})
		}
		for i := range 300 {
			across := width + rnd.Int32N(3)
			if i%2 == 1 {
				across = -across
			}
			switch rnd.IntN(150) {
			case 0: // split
				put(across/2, 1)
				put(across-across/2, 1)
			case 1: // on the spot
				put(across, 2)
				put(0, 0)
			case 2: // a step along the edge
				put(across, 0)
				put(0, 6)
			case 3: // onwards
				put(30, 30)
			default:
				put(across, 1+rnd.Int32N(4))
			}
		}
		s, err := Sew(t.Context(), d)
		if err != nil {
			t.Fatal(err)
		}
		anew := s.Track
		anew.Marks = make([]Mark, len(s.Track.Marks))
		for _, g := range s.Passages {
			if !g.Kind.Surface() {
				continue
			}
			for from := max(0, g.From-1); from < min(g.From+3, g.To); from++ {
				if s.Track.allAlone(from, g.To) {
					known++
				} else {
					other++
				}
				if got, want := turnsOf(&s.Track, from, g.To), turnsOf(&anew, from, g.To); !slices.Equal(got, want) {
					t.Fatalf("design %d, points %d to %d: %d crossings, anew %d", seed, from, g.To, len(got), len(want))
				}
			}
		}
	}
	if known < 50 || other < 50 {
		t.Errorf("%d stretches are of single crossings and %d are not: too few of either", known, other)
	}
}
