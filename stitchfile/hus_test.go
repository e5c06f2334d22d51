package stitchfile_test

import (
	"encoding/binary"
	"errors"
	"image/color"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// husWith is a HUS file of the given attributes and deltas, with one colour.
func husWith(claimed int, attributes, dx, dy []byte) []byte {
	le := binary.LittleEndian
	head := []byte{0x5B, 0xAF, 0xC8, 0}
	head = le.AppendUint32(head, uint32(claimed))
	head = append(le.AppendUint32(head, 1), make([]byte, 8)...)
	var body []byte
	for _, s := range [][]byte{attributes, dx, dy} {
		head = le.AppendUint32(head, uint32(44+len(body)))
		body = append(body, stitchtest.Compress(s)...)
	}
	return append(append(head, make([]byte, 12)...), body...)
}

// The attributes are those of the KDE Community Wiki's appendix on HUS.
func TestHUSRecords(t *testing.T) {
	for _, test := range []struct {
		name       string
		attributes []byte
		dx, dy     []byte
		want       []stitchfile.Move
		warns      int
	}{
		{"each kind", []byte{0x80, 0x81, 0x88, 0x84, 0x80, 0x90}, []byte{10, 0x80, 0, 0, 127, 0}, []byte{0xF6, 5, 0, 0, 1, 0},
			[]stitchfile.Move{{10, -10, s, 0}, {-128, 5, j, 0}, {Kind: k}, {Kind: c}, {127, 1, s, 0}, {Kind: e}}, 0},
		{"moves in commands", []byte{0x88, 0x84, 0x90}, []byte{1, 2, 3}, []byte{4, 5, 6},
			[]stitchfile.Move{{Kind: k}, {1, 4, j, 0}, {Kind: c}, {2, 5, j, 0}, {3, 6, j, 0}, {Kind: e}}, 0},
		{"no end", []byte{0x80, 0x80}, []byte{1, 1}, []byte{0, 0}, []stitchfile.Move{{1, 0, s, 0}, {1, 0, s, 0}, {Kind: e}}, 1},
		{"unknown bits", []byte{0, 0xA1, 0x90}, []byte{1, 1, 0}, []byte{0, 0, 0}, []stitchfile.Move{{1, 0, s, 0}, {1, 0, j, 0}, {Kind: e}}, 1},
		{"more behind the end", []byte{0x80, 0x90, 0x80}, []byte{1, 0, 1}, []byte{0, 0, 0}, []stitchfile.Move{{1, 0, s, 0}, {Kind: e}}, 1},
	} {
		d, err := new(stitchfile.Decoder).DecodeBytes(husWith(len(test.attributes), test.attributes, test.dx, test.dy))
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if diff := cmp.Diff(test.want, deltas(d)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
		warns := len(d.Warnings)
		if len(d.Threads) != d.Counts().ColourStops+1 {
			t.Errorf("%s: %d threads", test.name, len(d.Threads))
		}
		if d.Counts().ColourStops > 0 {
			warns-- // one colour is listed
		}
		if warns != test.warns {
			t.Errorf("%s: warnings %v", test.name, d.Warnings)
		}
	}
}

// Long streams go through matches of every length and distance.
func TestHUSLong(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	n := 70_000
	attributes, dx, dy := make([]byte, n), make([]byte, n), make([]byte, n)
	for i := range n {
		attributes[i] = 0x80
		dx[i] = byte(rng.UintN(4)) * byte(i>>9)
		dy[i] = byte(i % 37)
		if rng.UintN(50) == 0 {
			dy[i] = byte(rng.UintN(256))
		}
	}
	attributes[n-1] = 0x90
	data := husWith(n, attributes, dx, dy)
	if len(data) > 2*n {
		t.Errorf("%d records take %d bytes, so no matches are tried", n, len(data))
	}
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if err != nil && !errors.Is(err, stitchfile.ErrCorrupt) {
		t.Fatal(err)
	}
	var x, y int32
	for i, m := range d.Moves[:len(d.Moves)-1] {
		if i < n-1 && (m.X-x != int32(int8(dx[i])) || m.Y-y != int32(int8(dy[i]))) {
			t.Fatalf("record %d moves by %d, %d, want %d, %d", i, m.X-x, m.Y-y, int8(dx[i]), int8(dy[i]))
		}
		x, y = m.X, m.Y
	}
	if len(d.Moves) < n/2 {
		t.Errorf("%d moves of %d records", len(d.Moves), n)
	}
}

func TestHUSHeader(t *testing.T) {
	sound := husWith(3, []byte{0x80, 0x80, 0x90}, []byte{1, 2, 0}, []byte{1, 2, 0})
	for _, test := range []struct {
		name  string
		at    int
		value uint32
		cause error
		whole bool // the design is there all the same
	}{
		{"sound", 32, 0, nil, true},
		{"attributes in the header", 20, 41, stitchfile.ErrCorrupt, false},
		{"streams out of order", 24, 43, stitchfile.ErrCorrupt, false},
		{"last stream past the end", 28, 1 << 20, stitchfile.ErrTruncated, false},
		{"last stream past 31 bits", 28, 1<<32 - 1, stitchfile.ErrTruncated, false},
		{"more claimed than there is", 4, 1 << 31, nil, true},
		{"fewer claimed", 4, 1, nil, false},
		{"no colours", 8, 0, nil, true},
		{"too many colours", 8, 1 << 31, nil, true},
	} {
		data := slices.Clone(sound)
		binary.LittleEndian.PutUint32(data[test.at:], test.value)
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if !errors.Is(err, test.cause) || test.cause != nil && d != nil {
			t.Errorf("%s: %v, %v", test.name, d, err)
			continue
		}
		if test.whole && d.Counts().Stitches != 2 {
			t.Errorf("%s: %+v", test.name, d)
		}
	}
}

// Seven bytes can stand for 65535 equal ones, so a file must not get all it asks
// for.
func TestHUSExpansion(t *testing.T) {
	block := []byte{0xFF, 0xFF, 0, 0, 0, 0, 0} // 65535 zeros
	stitches := []byte{0xFF, 0xFF, 0, 0, 8, 0, 0}
	head := husWith(0, nil, nil, nil)[:44]
	binary.LittleEndian.PutUint32(head[4:], 4_000_000_000)
	data := head
	for i, s := range [][]byte{stitches, block, block} {
		binary.LittleEndian.PutUint32(data[20+4*i:], uint32(len(data)))
		data = append(data, s...)
	}
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if d == nil || !errors.Is(err, stitchfile.ErrTooLarge) || len(d.Moves) > 64*len(data)+1 {
		t.Errorf("%d bytes: %v", len(data), err)
	}
}

func TestHUSColours(t *testing.T) {
	data := husWith(2, []byte{0x80, 0x90}, []byte{1, 0}, []byte{1, 0})
	for index, want := range map[byte]color.RGBA{0: {0, 0, 0, 255}, 3: {255, 0, 0, 255}, 28: {0xB5, 0xA5, 0x84, 255}, 29: {0, 0, 0, 255}} {
		data[42] = index
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if err != nil || len(d.Threads) != 1 || d.Threads[0].Colour != want || d.Threads[0].Index != int(index) || len(d.Warnings) > 0 != (index >= 16) {
			t.Errorf("index %d: %+v, %v", index, d, err)
		}
	}
	copy(data[32:], "leaf")
	if d, err := new(stitchfile.Decoder).DecodeBytes(data); err != nil || !slices.Equal(d.Fields, []stitchfile.Field{{Name: "text", Value: "leaf"}}) {
		t.Errorf("text: %+v, %v", d, err)
	}
	data[0], data[1], data[2], data[3] = 0x5D, 0xFC, 0x90, 1
	if d, err := new(stitchfile.Decoder).DecodeBytes(data); err != nil || d.Format != "VIP" || len(d.Threads) != 0 || len(d.Warnings) != 1 || d.Counts().Stitches != 1 {
		t.Errorf("VIP: %+v, %v", d, err)
	}
}

// The header is that of a real file, dumped on preservation.tylerthorsted.com,
// "Embroidery Formats" (2023); its streams are not at hand.
func TestHUSRealHeader(t *testing.T) {
	data := []byte{0x5B, 0xAF, 0xC8, 0, 0x1A, 9, 0, 0, 1, 0, 0, 0, 0x98, 1, 0x67, 1, 0x6F, 0xFE, 0x9B, 0xFE,
		0x2C, 0, 0, 0, 0x47, 0, 0, 0, 0x0E, 7, 0, 0}
	data = append(data, make([]byte, 2000)...)
	data[42] = 7
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if d == nil || !errors.Is(err, stitchfile.ErrCorrupt) {
		t.Fatalf("%v, %v", d, err)
	}
	if want := (stitchfile.Claims{Records: 2330, Stitches: -1, ColourStops: 0, Width: 809, Height: 716}); d.Claims != want {
		t.Errorf("claims %+v, want %+v", d.Claims, want)
	}
	if len(d.Threads) != 1 || d.Threads[0] != (stitchfile.Thread{Index: 7, Colour: color.RGBA{0x84, 0x84, 0xE7, 0xFF}}) {
		t.Errorf("threads %+v", d.Threads)
	}
}
