package stitchfile_test

import (
	"encoding/binary"
	"errors"
	"image/color"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// pecSample has satin, a trim with travel, a thread change and a long jump. Its
// colours are of the palette, so that they come back as they are.
func pecSample() *stitchfile.Design {
	type pt = stitchtest.Point
	p := stitchfile.PECPalette()
	b := stitchtest.Builder{Name: "leaf"}
	b.Thread(p[4], "").StitchTo(pt{}).Run(stitchtest.Line(pt{}, pt{X: 20, Y: 5}), 2.5)
	b.Trim().JumpTo(pt{X: 30, Y: 8}).Satin(stitchtest.Line(pt{X: 30, Y: 8}, pt{X: 30, Y: 28}), stitchtest.SatinAlong{Width: 9, Pitch: 0.8})
	b.Stop().Thread(p[19], "").JumpTo(pt{X: -150, Y: -60}).Run(stitchtest.Circle(pt{X: -150, Y: -60}, 6), 2)
	return b.Design()
}

func encode(t testing.TB, format string, d *stitchfile.Design) []byte {
	t.Helper()
	data, err := stitchtest.Encode(format, d)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestPESRoundTrip(t *testing.T) {
	want := pecSample()
	for _, format := range []string{"PES", "PEC"} {
		got, err := new(stitchfile.Decoder).DecodeBytes(encode(t, format, want))
		if err != nil {
			t.Fatal(format, err)
		}
		if got.Format != format || got.Name != want.Name || len(got.Warnings) > 0 {
			t.Errorf("%s: format %s, name %q, warnings %v", format, got.Format, got.Name, got.Warnings)
		}
		if !slices.Equal(got.Moves, want.Moves) {
			t.Errorf("%s: moves differ: %d, want %d", format, len(got.Moves), len(want.Moves))
		}
		for i := range want.Threads {
			if got.Thread(i).Colour != want.Thread(i).Colour {
				t.Errorf("%s: thread %d is %v", format, i, got.Thread(i))
			}
		}
	}
}

func TestPESTruncated(t *testing.T) {
	for _, format := range []string{"PES", "PEC"} {
		data := encode(t, format, pecSample())
		whole := pecSample().Counts().Stitches
		for n := range data {
			d, err := new(stitchfile.Decoder).DecodeBytes(data[:n])
			if err == nil && d.Counts().Stitches != whole {
				t.Fatalf("%s cut to %d bytes: %d stitches of %d without an error", format, n, d.Counts().Stitches, whole)
			}
			var fe *stitchfile.FormatError
			if err != nil && (!errors.As(err, &fe) || fe.Offset > int64(n)+8) {
				t.Fatalf("%s cut to %d bytes: %v", format, n, err)
			}
		}
	}
}

func TestPESBlockPlace(t *testing.T) {
	for _, c := range []struct {
		name  string
		place uint32
		cause error
	}{
		{"true", 22, nil},
		{"a little off", 60, nil},
		{"zero", 0, nil},
		{"past the end", 1 << 30, stitchfile.ErrTruncated},
		{"nothing near", 8000, stitchfile.ErrCorrupt},
	} {
		data := append(encode(t, "PES", pecSample()), make([]byte, 12000)...)
		binary.LittleEndian.PutUint32(data[8:], c.place)
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if !errors.Is(err, c.cause) || (d == nil) != (c.cause != nil) {
			t.Errorf("%s: %v", c.name, err)
		}
		if d != nil && (len(d.Warnings) > 0) != (c.place != 22) {
			t.Errorf("%s: warnings %v", c.name, d.Warnings)
		}
	}
}

// The header follows "Rough overview of a PES0070-File" at home.unix-ag.org.
func TestPESHeader(t *testing.T) {
	thread := func(code string, r, g, b byte, name, maker string) []byte {
		out := append([]byte{byte(len(code))}, code...)
		out = append(out, r, g, b, 0, 10, 0, 0, 0, byte(len(name)))
		out = append(append(out, name...), byte(len(maker)))
		return append(append(out, maker...), 0)
	}
	red, blue := thread("513", 250, 1, 2, "Red", "Own"), thread("7", 3, 4, 251, "Blue", "Own")
	both := slices.Concat(red, blue)
	for _, c := range []struct {
		name    string
		version string
		fills   byte
		count   byte
		threads []byte
		listed  bool
	}{
		{"v6", "0060", 0, 2, both, true},
		{"v7", "0070", 0, 2, both, true},
		{"fills before the threads", "0070", 1, 2, both, false},
		{"one thread of two", "0070", 0, 1, red, false},
		{"list cut short", "0070", 0, 200, both, false},
	} {
		head := []byte("#PES" + c.version + "\x00\x00\x00\x00\x01\x0001\x04Leaf\x00\x02Me\x00\x05notes")
		head = append(head, make([]byte, 36)...)
		copy(head[len(head)-36+4:], []byte{100, 0, 180, 0})
		head = append(head, 0)
		head = append(head, make([]byte, 24)...)
		head = append(head, c.fills, 0, 0, 0, 0, 0, c.count, 0)
		head = append(head, c.threads...)
		binary.LittleEndian.PutUint32(head[8:], uint32(len(head)))
		d, err := new(stitchfile.Decoder).DecodeBytes(append(head, encode(t, "PEC", pecSample())[8:]...))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if d.Name != "Leaf" || d.Comments != "notes" || !slices.Equal(d.Fields, []stitchfile.Field{{Name: "author", Value: "Me"}}) {
			t.Errorf("%s: texts %q %q %v", c.name, d.Name, d.Comments, d.Fields)
		}
		if c.count != 200 && d.Hoop != (stitchfile.Hoop{Width: 100, Height: 180}) {
			t.Errorf("%s: hoop %v", c.name, d.Hoop)
		}
		want := stitchfile.Thread{Colour: stitchfile.PECPalette()[4], Index: 5}
		if c.listed {
			want = stitchfile.Thread{Colour: color.RGBA{250, 1, 2, 0xFF}, Index: 5, Name: "Red", Catalogue: "513", Maker: "Own"}
		}
		if d.Thread(0) != want || len(d.Threads) != 2 || len(d.Warnings) > 0 == c.listed {
			t.Errorf("%s: threads %+v, warnings %v", c.name, d.Threads, d.Warnings)
		}
	}
}
