package stitchfile_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

func TestEXPRecords(t *testing.T) {
	// Four stitches that go all ways, so that the file is known for what it is.
	round := []byte{5, 5, 0xFB, 0xFB, 5, 5, 0xFB, 0xFB}
	moves := func(more ...stitchfile.Move) []stitchfile.Move {
		m := []stitchfile.Move{{5, 5, s, 0}, {-5, -5, s, 0}, {5, 5, s, 0}, {-5, -5, s, 0}}
		return append(append(m, more...), stitchfile.Move{Kind: e})
	}
	with := func(b ...byte) []byte { return slices.Concat(round, []byte{0x80, 4, 1, 1}, b) }
	after := func(more ...stitchfile.Move) []stitchfile.Move {
		return moves(append([]stitchfile.Move{{1, 1, j, 0}}, more...)...)
	}
	runRecordTests(t, "EXP", []recordTest{
		{"no end mark", with(), after(), 1, nil},
		{"end mark, or half a cut", with(0x80, 0x80), after(), 1, nil},
		{"three bytes of a cut", with(0x80, 0x80, 7), after(), 0, stitchfile.ErrTruncated},
		{"end mark and padding", with(0x80, 0x80, 0, 0, 0x1A), after(), 0, nil},
		{"cut", with(0x80, 0x80, 7, 0, 1, 2), after(stitchfile.Move{Kind: k}, stitchfile.Move{1, 2, s, 0}), 1, nil},
		{"cut with odd filler", with(0x80, 0x80, 3, 9, 1, 2), after(stitchfile.Move{Kind: k}, stitchfile.Move{1, 2, s, 0}), 2, nil},
		{"change with a move", with(0x80, 1, 3, 4), after(stitchfile.Move{Kind: c}, stitchfile.Move{3, 4, j, 0}), 1, nil},
		{"disputed jump, twice", with(0x80, 2, 3, 4, 0x80, 2, 3, 4), after(stitchfile.Move{3, 4, j, 0}, stitchfile.Move{3, 4, j, 0}), 2, nil},
		{"one unknown command", with(0x80, 6, 3, 4, 1, 2), after(stitchfile.Move{Kind: c}, stitchfile.Move{3, 4, j, 0}, stitchfile.Move{1, 2, s, 0}), 2, nil},
		{"lowest y", with(1, 0x80, 1, 0x80), after(stitchfile.Move{1, -128, s, 0}, stitchfile.Move{1, -128, s, 0}), 2, nil},
		{"odd byte", with(9), after(), 1, nil},
		{"cut inside a command", with(0x80, 4, 9), after(), 0, stitchfile.ErrTruncated},
	})
	if d, err := (&stitchfile.Decoder{Name: "x.exp"}).DecodeBytes(with(0x80, 6, 0, 0, 0x80, 8, 0, 0, 0x80, 9, 0, 0)); !errors.Is(err, stitchfile.ErrUnknown) {
		t.Errorf("three unknown commands of four: %v, %v", d, err)
	}
	d, err := (&stitchfile.Decoder{Name: "x.exp"}).DecodeBytes(with(0x80, 6, 0, 0, 0x80, 9, 0, 0))
	if err != nil || d.Moves[5].Mark != stitchfile.MarkHalt || d.Moves[6].Mark != 0 {
		t.Errorf("an even command is a halt, an odd one a change: %+v, %v", d, err)
	}
}
