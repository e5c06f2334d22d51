package stitchfile_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image/color"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
)

// vp3With is a VP3 file of one block whose stitch run is body.
func vp3With(t *testing.T, body ...byte) []byte {
	t.Helper()
	data := encode(t, "VP3", &stitchfile.Design{Comments: "notes"})
	i := bytes.Index(data, []byte("\x0A\xF6\x00"))
	data = append(append(data[:i+3:i+3], body...), 0)
	binary.BigEndian.PutUint32(data[i-4:], uint32(3+len(body)))
	return data
}

// The first row is the example of the KDE Community Wiki page on VP3, worked out;
// its long move is sewn at its end, as in real files.
func TestVP3Records(t *testing.T) {
	for _, test := range []struct {
		name  string
		body  []byte
		want  []stitchfile.Move
		warns int
		cause error
	}{
		{"together", []byte{0x0A, 0xF6, 0x80, 1, 1, 0x2C, 0xFE, 0xD4, 0x80, 2, 5, 5, 0x80, 3},
			[]stitchfile.Move{{10, 10, s, 0}, {300, 300, j, 0}, {0, 0, s, 0}, {5, -5, s, 0}, {Kind: k}, {Kind: e}}, 1, nil},
		{"null stitch", []byte{1, 1, 0x80, 0, 1, 1}, []stitchfile.Move{{1, -1, s, 0}, {1, -1, s, 0}, {Kind: e}}, 0, nil},
		{"unclosed", []byte{0x80, 1, 0, 1, 0, 1, 1, 1}, []stitchfile.Move{{1, -1, j, 0}, {0, 0, s, 0}, {1, -1, s, 0}, {Kind: e}}, 1, nil},
		{"half a stitch", []byte{1, 1, 1}, []stitchfile.Move{{1, -1, s, 0}, {Kind: e}}, 1, nil},
		{"half a long move", []byte{1, 1, 0x80, 1, 0}, []stitchfile.Move{{1, -1, s, 0}, {Kind: e}}, 1, nil},
		{"unknown code", []byte{1, 1, 0x80, 9, 1, 1}, []stitchfile.Move{{1, -1, s, 0}, {Kind: e}}, 0, stitchfile.ErrCorrupt},
	} {
		d, err := new(stitchfile.Decoder).DecodeBytes(vp3With(t, test.body...))
		if d == nil || !errors.Is(err, test.cause) {
			t.Errorf("%s: %v, %v", test.name, d, err)
			continue
		}
		if diff := cmp.Diff(test.want, deltas(d)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
		// The displacement that the head states is zero, which is one warning more.
		var said []stitchfile.Warning
		for _, w := range d.Warnings {
			if !bytes.Contains([]byte(w.Message), []byte("is said to move")) {
				said = append(said, w)
			}
		}
		if len(said) != test.warns {
			t.Errorf("%s: warnings %v", test.name, said)
		}
	}
}

// vp3Two has two blocks of the threads given.
func vp3Two(t *testing.T, a, b stitchfile.Thread) []byte {
	return encode(t, "VP3", &stitchfile.Design{
		Comments: "for the left sleeve",
		Threads:  []stitchfile.Thread{a, b},
		Moves:    []stitchfile.Move{{-50, 20, j, 0}, {-50, 30, s, 0}, {-50, 30, c, 0}, {70, 10, j, 0}, {70, 15, s, 0}, {Kind: e}},
	})
}

func TestVP3Threads(t *testing.T) {
	red := stitchfile.Thread{Colour: color.RGBA{200, 10, 20, 0xFF}, Name: "red", Catalogue: "A12", Maker: "own", WeightClass: 40}
	blue := red
	blue.Colour = color.RGBA{1, 2, 200, 0xFF}
	for _, second := range []stitchfile.Thread{blue, red} {
		d, err := new(stitchfile.Decoder).DecodeBytes(vp3Two(t, red, second))
		if err != nil || len(d.Warnings) > 0 {
			t.Fatal(err, d.Warnings)
		}
		if diff := cmp.Diff([]stitchfile.Thread{red, second}, d.Threads); diff != "" {
			t.Errorf("threads (-want +got):\n%s", diff)
		}
		mark := stitchfile.Mark(0)
		if second == red {
			mark = stitchfile.MarkHalt
		}
		want := []stitchfile.Move{{-50, 20, j, 0}, {-50, 30, s, 0}, {-50, 30, c, mark}, {70, 10, j, 0}, {70, 15, s, 0}, {70, 15, e, 0}}
		if diff := cmp.Diff(want, d.Moves); diff != "" {
			t.Errorf("moves (-want +got):\n%s", diff)
		}
		if d.Comments != "for the left sleeve" || d.Claims.Records != 2 || d.Claims.ColourStops != 1 ||
			!slices.Equal(d.Fields, []stitchfile.Field{{Name: "producer", Value: "test"}}) {
			t.Errorf("comments %q, claims %+v, fields %v", d.Comments, d.Claims, d.Fields)
		}
	}
}

// Descriptions give the colour part 10 bytes or 11, and a table may hold more
// than one colour; where nothing fits the stitches are still found.
func TestVP3ThreadForms(t *testing.T) {
	whole := vp3Two(t, stitchfile.Thread{Colour: color.RGBA{9, 8, 7, 0xFF}, Name: "one"}, stitchfile.Thread{})
	i := bytes.Index(whole, []byte{1, 0, 9, 8, 7})
	block := i - 15 // tag, length and start stand before
	with := func(from, to int, b ...byte) []byte {
		data := slices.Concat(whole[:from], b, whole[to:])
		more := len(data) - len(whole)
		binary.BigEndian.PutUint32(data[block+3:], binary.BigEndian.Uint32(whole[block+3:])+uint32(more))
		return data
	}
	for _, test := range []struct {
		name string
		data []byte
		want stitchfile.Thread
		warn bool
	}{
		{"eleven bytes", with(i+1, i+1, 0), stitchfile.Thread{Colour: color.RGBA{9, 8, 7, 0xFF}, Name: "one"}, false},
		{"two colours", with(i, i+8, 2, 0, 9, 8, 7, 0, 0, 0, 1, 1, 1, 0, 0, 0), stitchfile.Thread{Colour: color.RGBA{9, 8, 7, 0xFF}, Name: "one"}, false},
		{"something else", with(i, i, 7, 7, 7, 7, 7), stitchfile.Thread{}, true},
	} {
		d, err := new(stitchfile.Decoder).DecodeBytes(test.data)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if d.Counts().Stitches != 2 || d.Threads[0] != test.want || (len(d.Warnings) > 0) != test.warn {
			t.Errorf("%s: %+v, %v", test.name, d.Threads, d.Warnings)
		}
	}
}

// Writers state the outer lengths too short, or not at all; the stitch runs alone
// bound the reading.
func TestVP3Lengths(t *testing.T) {
	whole := vp3Two(t, stitchfile.Thread{}, stitchfile.Thread{Name: "other"})
	want, err := new(stitchfile.Decoder).DecodeBytes(whole)
	if err != nil {
		t.Fatal(err)
	}
	for _, tag := range [][]byte{{0, 2, 0}, {0, 3, 0}, {0, 5, 0}} {
		for _, stated := range []uint32{0, 30, 1 << 30, 1<<32 - 1} {
			data := slices.Clone(whole)
			binary.BigEndian.PutUint32(data[bytes.Index(data, append(tag, 0, 0))+3:], stated)
			d, err := new(stitchfile.Decoder).DecodeBytes(data)
			if err != nil {
				t.Errorf("packet % x of %d bytes: %v", tag, stated, err)
			} else if diff := cmp.Diff(want.Moves, d.Moves); diff != "" {
				t.Errorf("packet % x of %d bytes (-want +got):\n%s", tag, stated, diff)
			}
		}
	}
	data := slices.Clone(whole)
	binary.BigEndian.PutUint32(data[bytes.LastIndex(data, []byte{0, 1, 0, 0, 0})+3:], 1<<31)
	if d, err := new(stitchfile.Decoder).DecodeBytes(data); !errors.Is(err, stitchfile.ErrTruncated) || d == nil {
		t.Errorf("a run longer than the file: %v, %v", d, err)
	}
	binary.BigEndian.PutUint32(data[bytes.LastIndex(data, []byte{0, 1, 0, 0x80, 0})+3:], 2)
	if d, err := new(stitchfile.Decoder).DecodeBytes(data); !errors.Is(err, stitchfile.ErrCorrupt) || d == nil {
		t.Errorf("a run without a scale: %v, %v", d, err)
	}
}

func TestVP3Designs(t *testing.T) {
	whole := vp3Two(t, stitchfile.Thread{}, stitchfile.Thread{Name: "other"})
	i := bytes.Index(whole, []byte{0, 3, 0, 0, 0})
	for _, test := range []struct {
		name     string
		data     []byte
		stitches int
		warns    bool
		cause    error
	}{
		{"two designs", slices.Concat(whole, whole[i:]), 4, true, nil},
		{"trailing bytes", slices.Concat(whole, []byte("left over")), 2, true, nil},
		{"unknown packet", slices.Concat(whole[:i], []byte{0, 9, 0, 0, 0, 0, 2, 1, 1}, whole[i:]), 2, true, nil},
		{"no design", whole[:i], 0, false, stitchfile.ErrTruncated},
		{"noise", slices.Concat(whole[:i], []byte("no packet at all")), 0, false, stitchfile.ErrCorrupt},
	} {
		d, err := new(stitchfile.Decoder).DecodeBytes(test.data)
		if d == nil || !errors.Is(err, test.cause) || d.Counts().Stitches != test.stitches || len(d.Warnings) > 0 != test.warns {
			t.Errorf("%s: %+v, %v", test.name, d, err)
		}
	}
}

// A file full of oddities does not make a report full of them.
func TestWarningsAreBounded(t *testing.T) {
	d, err := new(stitchfile.Decoder).DecodeBytes(vp3With(t, bytes.Repeat([]byte{0x80, 1, 0, 1, 0, 0}, 5000)...))
	if err != nil || d.Counts().Stitches != 5000 || len(d.Warnings) > 65 {
		t.Errorf("%d stitches, %d warnings, %v", d.Counts().Stitches, len(d.Warnings), err)
	}
}
