package stitchfile

import (
	"bytes"
	"encoding/hex"
	"errors"
	"strings"
	"testing"
)

func unhex(t *testing.T, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.ReplaceAll(s, " ", ""))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The packed bytes were made by a separate script from the KDE Community Wiki's
// description of the compression.
func TestUnpack(t *testing.T) {
	for _, test := range []struct {
		plain, packed string
	}{
		{"80 80 80 80 80 80", "00 02 20 04 30 31 B2 36 C0 04"},
		{"80 80 80 80 80 80 80 80 81 84 90", "00 05 33 69 4A 0A 1B 2B 67 C2 17 D0 03 5C 40"},
		{"05", "00 01 00 00 00 50 00"},
	} {
		want, packed := unhex(t, test.plain), unhex(t, test.packed)
		got, _, err := unpack(packed, len(want))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("% x: % x, %v; want % x", packed, got, err, want)
		}
		for n := range packed {
			if got, _, err := unpack(packed[:n], len(want)); err == nil && len(got) < len(want) || !bytes.HasPrefix(want, got) {
				t.Errorf("% x cut at %d: % x, %v", packed, n, got, err)
			}
		}
	}
}

// One symbol for a whole block takes no bits of its own, and the limit alone ends
// what a few bytes can stand for.
func TestUnpackLimit(t *testing.T) {
	got, _, err := unpack(unhex(t, "FF FF 00 00 00 50 00"), 1000)
	if err != nil || len(got) != 1000 || cap(got) > 2048 {
		t.Errorf("%d bytes, room for %d, %v", len(got), cap(got), err)
	}
	got, _, err = unpack(unhex(t, "00 0A 00 00 00 50 00"), 1000)
	if !errors.Is(err, errUnpackShort) || len(got) != 10 {
		t.Errorf("%d bytes, %v", len(got), err)
	}
}

// A table costs far more time than the bits it takes.
func TestUnpackBlocks(t *testing.T) {
	var fields [][2]int
	for range 1000 {
		fields = append(fields, [][2]int{{1, 16}, {0, 5}, {11, 5}, {511, 9}, {0, 10}, {65, 9}}...)
	}
	packed := bits(fields...)
	out, _, err := unpack(packed, 1<<20)
	if most := 64 + len(packed)/64; err == nil || len(out) != most {
		t.Errorf("%d blocks in %d bytes, %v; want %d", len(out), len(packed), err, most)
	}
}

// A block of one symbol has no table to build, and there may be as many as there is room for.
func TestUnpackBlocksOfOneSymbol(t *testing.T) {
	var fields [][2]int
	for range 1000 {
		fields = append(fields, [][2]int{{1, 16}, {0, 5}, {0, 5}, {0, 9}, {65, 9}, {0, 5}, {0, 5}}...)
	}
	if out, _, err := unpack(bits(fields...), 1000); err != nil || len(out) != 1000 {
		t.Errorf("%d bytes, %v", len(out), err)
	}
}

// bits packs fields of value and width, as the stream holds them.
func bits(fields ...[2]int) []byte {
	var out []byte
	n := 0
	for _, f := range fields {
		for i := f[1] - 1; i >= 0; i-- {
			if n%8 == 0 {
				out = append(out, 0)
			}
			out[n/8] |= byte(f[0]>>i&1) << (7 - n%8)
			n++
		}
	}
	return append(out, 0, 0)
}

func TestUnpackBad(t *testing.T) {
	for _, test := range []struct {
		name   string
		packed []byte
		says   string
	}{
		{"no codes", bits([2]int{0, 16}, [2]int{0, 10}, [2]int{0, 18}, [2]int{0, 10}), "without codes"},
		{"single symbol outside", bits([2]int{1, 16}, [2]int{0, 5}, [2]int{19, 5}), "symbol 19"},
		{"single byte outside", bits([2]int{1, 16}, [2]int{0, 10}, [2]int{0, 9}, [2]int{511, 9}), "symbol 511"},
		{"too many lengths", bits([2]int{1, 16}, [2]int{20, 5}), "table of 20"},
		{"over-subscribed", bits([2]int{1, 16}, [2]int{3, 5}, [2]int{1, 3}, [2]int{1, 3}, [2]int{1, 3}, [2]int{0, 2}), "more codes than bits"},
		{"too long a code", bits([2]int{1, 16}, [2]int{1, 5}, [2]int{7, 3}, [2]int{1<<12 - 1, 12}), "longer than 16"},
		{"a match before anything", bits([2]int{1, 16}, [2]int{0, 10}, [2]int{0, 9}, [2]int{300, 9}, [2]int{0, 10}), "1 bytes back, where 0"},
		{"a table of nothing", bits([2]int{1, 16}, [2]int{0, 10}, [2]int{3, 9}, [2]int{0, 10}), "outside the table"},
		{"empty", nil, "end early"},
	} {
		_, _, err := unpack(test.packed, 10)
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}
