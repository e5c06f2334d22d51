package stitchfile_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image/color"
	"slices"
	"strings"
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

// pesThread is one entry of a thread list whose kind takes the given bytes.
func pesThread(kind int, code string, c color.RGBA, name string) []byte {
	out := append([]byte{byte(len(code))}, code...)
	out = append(append(out, c.R, c.G, c.B), make([]byte, kind)...)
	return append(append(append(out, byte(len(name))), name...), 0, 0)
}

// Version 5 has a shorter block of settings, known from a real file alone, so what
// follows the thread list must be as expected too.
func TestPESVersion5(t *testing.T) {
	p := stitchfile.PECPalette()
	list := slices.Concat(pesThread(4, "A1", color.RGBA{250, 1, 2, 0xFF}, "Red"), pesThread(4, "A2", color.RGBA{3, 4, 5, 0xFF}, "Black"))
	for _, test := range []struct {
		name, version string
		behind        string
		listed        bool
	}{
		{"as expected", "0050", "\x01\x00\xFF\xFF\x00\x00", true},
		{"otherwise", "0056", "\x01\x00\x00\x00\x00\x00", false},
		{"nothing behind", "0055", "", false},
	} {
		head := []byte("#PES" + test.version + "\x00\x00\x00\x00\x01\x0001\x00\x00\x00\x00\x00")
		settings := make([]byte, 24)
		copy(settings[2:], []byte{130, 0, 180, 0})
		head = slices.Concat(head, settings, make([]byte, 1+24), []byte{0, 0, 0, 0, 0, 0, 2, 0}, list, []byte(test.behind))
		binary.LittleEndian.PutUint32(head[8:], uint32(len(head)))
		d, err := new(stitchfile.Decoder).DecodeBytes(append(head, encode(t, "PEC", pecSample())[8:]...))
		if err != nil || len(d.Warnings) > 0 {
			t.Fatalf("%s: %v, %v", test.name, err, d.Warnings)
		}
		want, hoop := stitchfile.Thread{Index: 5, Colour: p[4]}, stitchfile.Hoop{}
		if test.listed {
			want = stitchfile.Thread{Index: 5, Colour: color.RGBA{250, 1, 2, 0xFF}, Name: "Red", Catalogue: "A1"}
			hoop = stitchfile.Hoop{Width: 130, Height: 180}
		}
		if d.Threads[0] != want || d.Hoop != hoop {
			t.Errorf("%s: %+v, hoop %v", test.name, d.Threads, d.Hoop)
		}
	}
}

// More threads may be listed than are sewn; those of the palette's colours are the
// ones that count.
func TestPESUnusedThreads(t *testing.T) {
	p := stitchfile.PECPalette()
	for _, test := range []struct {
		name   string
		first  color.RGBA
		listed bool
	}{{"same colours", p[4], true}, {"one other", color.RGBA{1, 2, 3, 0xFF}, false}} {
		head := []byte("#PES0060\x00\x00\x00\x00\x01\x0001\x00\x00\x00\x00\x00")
		head = slices.Concat(head, make([]byte, 36+1+24), []byte{0, 0, 0, 0, 0, 0, 3, 0},
			pesThread(5, "1", p[30], "Spare"), pesThread(5, "2", p[19], "Black"), pesThread(5, "3", test.first, "Red"))
		binary.LittleEndian.PutUint32(head[8:], uint32(len(head)))
		d, err := new(stitchfile.Decoder).DecodeBytes(append(head, encode(t, "PEC", pecSample())[8:]...))
		if err != nil || len(d.Warnings) > 0 == test.listed {
			t.Fatalf("%s: %v, %v", test.name, err, d.Warnings)
		}
		names := [2]string{d.Threads[0].Name, d.Threads[1].Name}
		if want := map[bool][2]string{true: {"Red", "Black"}}[test.listed]; names != want || d.Threads[0].Colour != p[4] || d.Threads[0].Index != 5 {
			t.Errorf("%s: %+v", test.name, d.Threads)
		}
	}
}

// Writers of version 1 state the canvas for the size; others do not.
func TestPESCanvas(t *testing.T) {
	for version, claimed := range map[string]int{"0001": -1, "0060": 1800} {
		data := encode(t, "PES", pecSample())
		copy(data[4:], version)
		binary.LittleEndian.PutUint16(data[22+520:], 1800)
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if err != nil || d.Claims.Width != claimed {
			t.Errorf("version %s: %+v, %v", version, d.Claims, err)
		}
		said := slices.ContainsFunc(d.Warnings, func(w stitchfile.Warning) bool { return w.Offset == 22+520 })
		if said != (claimed > 0) {
			t.Errorf("version %s: warnings %v", version, d.Warnings)
		}
	}
}

// Without an end code the thumbnails end the stitches, if they begin where the
// header says; a file cut short has none.
func TestPECWithoutEnd(t *testing.T) {
	data := pecWith(t, []byte{1, 1, 2, 2}, 20)
	thumbnails := append(slices.Clone(data), make([]byte, 228*2)...)
	d, err := new(stitchfile.Decoder).DecodeBytes(thumbnails)
	if err != nil || d.Counts().Stitches != 2 || len(d.Warnings) == 0 || d.Warnings[len(d.Warnings)-1].Offset != int64(len(data)) {
		t.Errorf("thumbnails behind: %+v, %v", d, err)
	}
	if d, err := new(stitchfile.Decoder).DecodeBytes(data[:len(data)-2]); !errors.Is(err, stitchfile.ErrTruncated) || d == nil {
		t.Errorf("cut short: %+v, %v", d, err)
	}
}

// A drawing that was saved without stitches is told to be one.
func TestPESWithoutStitches(t *testing.T) {
	data := append([]byte("#PES0001"), make([]byte, 800)...)
	d, err := stitchfile.Decode(bytes.NewReader(data))
	if d != nil || !errors.Is(err, stitchfile.ErrCorrupt) || !strings.Contains(err.Error(), "without stitches for a machine") {
		t.Errorf("%v", err)
	}
	data[8] = 200
	if _, err := stitchfile.Decode(bytes.NewReader(data)); err == nil || !strings.Contains(err.Error(), "no stitch block at or near byte 200") {
		t.Errorf("%v", err)
	}
}
