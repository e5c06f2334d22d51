package stitches

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/stitchfile"
)

// Whichever way the holes are remembered, a point is there again if the place occurred
// before.
func TestAgain(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	const far = 1_000_000
	const inverse = 244002641 // of the factor of scatter, mod 2^32: multiples of it scatter to 0, 1, 2, ...
	for name, at := range map[string]func(i int) (x, y int32){
		"close by":       func(int) (x, y int32) { return rnd.Int32N(300) - 150, rnd.Int32N(300) - 150 },
		"one hole":       func(int) (x, y int32) { return -far, far },
		"far and wide":   func(int) (x, y int32) { return rnd.Int32N(2)*2*far - far, rnd.Int32N(20_000) - far },
		"corner, corner": func(i int) (x, y int32) { return int32(i%2)*2*far - far, int32(i%2)*2*far - far },
		"made to collide": func(i int) (x, y int32) {
			place := uint32(i/2) * inverse
			return int32(place % 65536), int32(place / 65536 % 65535)
		},
		"a line across": func(i int) (x, y int32) { return int32(i%9000)*200 - far, 3 },
	} {
		var moves []stitchfile.Move
		track := Track{}
		var want []bool
		seen := map[[2]int32]bool{}
		for i := range 20_000 {
			x, y := at(i)
			track.Segs = append(track.Segs, Segment{First: i, Last: i + 1, Move: len(moves)})
			moves = append(moves, stitchfile.Move{X: x, Y: y}, stitchfile.Move{X: 7, Y: 7, Kind: stitchfile.Jump})
			want = append(want, seen[[2]int32{x, y}])
			seen[[2]int32{x, y}] = true
		}
		track.Pts, track.Marks = make([]geom.Point, len(want)), make([]Mark, len(want))
		found := func() []bool {
			out := make([]bool, len(want))
			for i := range out {
				out[i] = track.Again(i)
			}
			return out
		}
		box, _ := (&stitchfile.Design{Moves: moves}).Bounds()
		track.findAgain(moves, box)
		if !slices.Equal(found(), want) {
			t.Errorf("%s: differs", name)
		}
		clear(track.Marks)
		track.againByParts(moves)
		if !slices.Equal(found(), want) {
			t.Errorf("%s: differs by parts", name)
		}
	}
	new(Track).findAgain(nil, stitchfile.Box{})
}

// Every hole is of one part, and the parts are of about one size.
func TestHolesAreSpread(t *testing.T) {
	const parts = 8
	var n [parts]int
	for x := range int32(300) {
		for y := range int32(300) {
			n[hole{x - 150, y}.part(parts)]++
		}
	}
	for i, k := range n {
		if k < 300*300/parts/2 || k > 300*300/parts*2 {
			t.Errorf("part %d has %d of %d", i, k, 300*300)
		}
	}
}
