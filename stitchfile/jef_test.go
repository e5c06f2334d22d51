package stitchfile_test

import (
	"encoding/binary"
	"errors"
	"image/color"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
)

// jefWith is a JEF file of the given stream and palette indices, its count of
// points true and its extents those of the needle points about the start.
func jefWith(t *testing.T, stream []byte, indices ...uint32) []byte {
	t.Helper()
	le := binary.LittleEndian
	head := encode(t, "JEF", &stitchfile.Design{})[:116:116]
	le.PutUint32(head, uint32(116+8*len(indices)))
	le.PutUint32(head[24:], uint32(len(indices)))
	le.PutUint32(head[28:], uint32(len(stream)/2))
	for i := range 4 {
		le.PutUint32(head[36+4*i:], 1<<32-1)
	}
	for _, v := range indices {
		head = le.AppendUint32(head, v)
	}
	for range indices {
		head = le.AppendUint32(head, 13)
	}
	return append(head, stream...)
}

func TestJEFRecords(t *testing.T) {
	one := []byte{10, 0xF6}
	end := []byte{0x80, 0x10}
	sewn := stitchfile.Move{10, -10, s, 0}
	with := func(b ...byte) []byte { return jefWith(t, slices.Concat(one, b, end), 1) }
	runRecordTests(t, "JEF", []recordTest{
		{"zero jumps are one cut", with(0x80, 2, 0, 0, 0x80, 2, 0, 0, 0x80, 2, 0, 0, 5, 5), []stitchfile.Move{sewn, {Kind: k}, {5, 5, s, 0}, {Kind: e}}, 0, nil},
		{"cuts apart stay two", with(0x80, 2, 0, 0, 5, 5, 0x80, 2, 0, 0), []stitchfile.Move{sewn, {Kind: k}, {5, 5, s, 0}, {Kind: k}, {Kind: e}}, 0, nil},
		{"unknown command as a jump", with(0x80, 4, 5, 6, 0x80, 4, 5, 6), []stitchfile.Move{sewn, {5, 6, j, 0}, {5, 6, j, 0}, {Kind: e}}, 1, nil},
		{"no end mark, all points there", jefWith(t, one, 1), []stitchfile.Move{sewn, {Kind: e}}, 1, nil},
		{"no end mark", func() []byte { d := with(); return d[:len(d)-2] }(), []stitchfile.Move{sewn, {Kind: e}}, 0, stitchfile.ErrTruncated},
		{"bytes behind the end", append(with(), 1, 2, 3, 4, 5), []stitchfile.Move{sewn, {Kind: e}}, 1, nil},
	})
}

// Index 0 is a halt in which the thread before goes on.
func TestJEFThreads(t *testing.T) {
	change := []byte{0x80, 1, 0, 0, 1, 1}
	stream := slices.Concat([]byte{1, 1}, change, change, change, []byte{0x80, 0x10})
	red := stitchfile.Thread{Index: 10, Colour: color.RGBA{255, 0, 0, 255}}
	black := stitchfile.Thread{Index: 1, Colour: color.RGBA{0, 0, 0, 255}}
	for _, test := range []struct {
		name    string
		indices []uint32
		threads []stitchfile.Thread
		halts   []bool
		warns   int
	}{
		{"halt", []uint32{10, 0, 1, 10}, []stitchfile.Thread{red, red, black, red}, []bool{true, false, false}, 0},
		{"past the palette", []uint32{10, 79, 1, 10}, []stitchfile.Thread{red, {Index: 79, Colour: color.RGBA{A: 255}}, black, red}, []bool{false, false, false}, 1},
		{"no first colour", []uint32{0, 10, 1, 10}, []stitchfile.Thread{{Colour: color.RGBA{A: 255}}, red, black, red}, []bool{false, false, false}, 1},
		{"too few", []uint32{10, 1}, []stitchfile.Thread{red, black, black, black}, []bool{false, false, false}, 1},
		{"too many", []uint32{10, 1, 10, 1, 1}, []stitchfile.Thread{red, black, red, black}, []bool{false, false, false}, 1},
	} {
		d, err := new(stitchfile.Decoder).DecodeBytes(jefWith(t, stream, test.indices...))
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		var halts []bool
		for _, m := range d.Moves {
			if m.Kind == c {
				halts = append(halts, m.Mark&stitchfile.MarkHalt != 0)
			}
		}
		if diff := cmp.Diff(test.threads, d.Threads); diff != "" {
			t.Errorf("%s: threads (-want +got):\n%s", test.name, diff)
		}
		if !slices.Equal(halts, test.halts) || len(d.Warnings) != test.warns {
			t.Errorf("%s: halts %v, warnings %v", test.name, halts, d.Warnings)
		}
	}
}

func TestJEFHeader(t *testing.T) {
	stream := []byte{10, 20, 0xF6, 0xEC, 0x80, 2, 1, 1, 0x80, 0x10}
	le := binary.LittleEndian
	for _, test := range []struct {
		name   string
		change func([]byte) []byte
		warns  int
		claims stitchfile.Claims
		known  bool // without the extension
	}{
		{"sound", func(b []byte) []byte { return b }, 0, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: -1, Height: -1}, true},
		{"extents", func(b []byte) []byte {
			le.PutUint32(b[36:], 0)
			le.PutUint32(b[40:], 20)
			le.PutUint32(b[44:], 10)
			le.PutUint32(b[48:], 0)
			return b
		}, 0, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: 10, Height: 20}, true},
		{"wrong extents", func(b []byte) []byte {
			le.PutUint32(b[36:], 100)
			le.PutUint32(b[40:], 20)
			le.PutUint32(b[44:], 10)
			le.PutUint32(b[48:], 0)
			return b
		}, 1, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: 110, Height: 20}, true},
		{"wrong points", func(b []byte) []byte { le.PutUint32(b[28:], 99); return b },
			1, stitchfile.Claims{Records: 97, Stitches: -1, ColourStops: 0, Width: -1, Height: -1}, true},
		{"gap", func(b []byte) []byte {
			le.PutUint32(b, 132)
			return slices.Concat(b[:124], make([]byte, 8), b[124:])
		}, 1, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: -1, Height: -1}, true},
		{"gap with its mark", func(b []byte) []byte {
			le.PutUint32(b, 140)
			return slices.Concat(b[:124], []byte{0x4A, 0x41, 0x4E, 0x4F, 0x4D, 0x45, 0, 0}, make([]byte, 8), b[124:])
		}, 0, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: -1, Height: -1}, true},
		{"more colours than fit", func(b []byte) []byte { le.PutUint32(b[24:], 400); return b },
			1, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: -1, Height: -1}, false},
		{"colours past the palette", func(b []byte) []byte { le.PutUint32(b[116:], 200); return b },
			1, stitchfile.Claims{Records: 3, Stitches: -1, ColourStops: 0, Width: -1, Height: -1}, false},
	} {
		data := test.change(jefWith(t, stream, 1))
		d, err := (&stitchfile.Decoder{Name: "x.jef"}).DecodeBytes(data)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if diff := cmp.Diff(test.claims, d.Claims); diff != "" || len(d.Warnings) != test.warns || d.Counts().Stitches != 2 {
			t.Errorf("%s: %+v, warnings %v; claims (-want +got):\n%s", test.name, d.Counts(), d.Warnings, diff)
		}
		if d, _ := (&stitchfile.Decoder{Name: "x.bin"}).DecodeBytes(data); (d != nil) != test.known {
			t.Errorf("%s: named otherwise, read: %v", test.name, d != nil)
		}
	}
	for name, start := range map[string]uint32{"in the header": 60, "past the file": 4000, "past 31 bits": 1<<32 - 1} {
		data := jefWith(t, stream, 1)
		le.PutUint32(data, start)
		if d, err := (&stitchfile.Decoder{Name: "x.jef"}).DecodeBytes(data); d != nil || !errors.Is(err, stitchfile.ErrUnknown) {
			t.Errorf("stitches %s: %v, %v", name, d, err)
		}
	}
}
