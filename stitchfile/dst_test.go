package stitchfile_test

import (
	"errors"
	"fmt"
	"image/color"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
)

// dstWith is a DST file of the given records and an end record; its header counts
// nothing.
func dstWith(t *testing.T, records ...byte) []byte {
	data := body(t, "DST", 512, append(records, 0, 0, 0xF3)...)
	copy(data[20:], strings.Repeat(" ", 94))
	return data
}

func TestDSTRecords(t *testing.T) {
	one, jump := []byte{1, 0, 3}, []byte{1, 0, 0x83}
	sewn := stitchfile.Move{X: 1, Kind: s}
	far := slices.Repeat([]byte{0xA5, 0xA5, 0xA7}, 80) // jumps of 121, 121
	runRecordTests(t, "DST", []recordTest{
		{"no records", dstWith(t), []stitchfile.Move{{Kind: e}}, 0, nil},
		{"jumps alone", dstWith(t, slices.Repeat(jump, 2)...), []stitchfile.Move{{1, 0, j, 0}, {1, 0, j, 0}, {Kind: e}}, 0, nil},
		{"padding behind the end", append(dstWith(t, one...), 0, 0x1A, ' ', '\r', '\n', 0), []stitchfile.Move{sewn, {Kind: e}}, 0, nil},
		{"bytes behind the end", append(dstWith(t, one...), 0, 'x', 'y'), []stitchfile.Move{sewn, {Kind: e}}, 1, nil},
		{"no end", dstWith(t, one...)[:515], []stitchfile.Move{sewn, {Kind: e}}, 0, stitchfile.ErrTruncated},
		{"half a record", append(dstWith(t, one...)[:515], 0, 0), []stitchfile.Move{sewn, {Kind: e}}, 0, stitchfile.ErrTruncated},
		{"change with a move", dstWith(t, append(one, 1, 0, 0xC3)...), []stitchfile.Move{sewn, {1, 0, j, 0}, {Kind: c}, {Kind: e}}, 0, nil},
		{"changes in a row", dstWith(t, 0, 0, 0xC3, 0, 0, 0xC3), []stitchfile.Move{{Kind: c}, {Kind: c}, {Kind: e}}, 0, nil},
		{"low bits not set", dstWith(t, append(slices.Repeat(one, 25), 1, 0, 0)...),
			append(slices.Repeat([]stitchfile.Move{sewn}, 26), stitchfile.Move{Kind: e}), 1, nil},
		{"far away first", dstWith(t, append(far, one...)...),
			append(slices.Repeat([]stitchfile.Move{{121, 121, j, 0}}, 80), sewn, stitchfile.Move{Kind: e}), 0, nil},
		{"beyond 100 m", dstWith(t, slices.Repeat([]byte{0xA5, 0xA5, 0x27}, 8265)...),
			append(slices.Repeat([]stitchfile.Move{{121, 121, s, 0}}, 8264), stitchfile.Move{Kind: e}), 0, stitchfile.ErrCorrupt},
	})
	d, err := new(stitchfile.Decoder).DecodeBytes(dstWith(t, append(far, one...)...))
	if box, ok := d.Bounds(); err != nil || !ok || box != (stitchfile.Box{MinX: 9681, MinY: 9680, MaxX: 9681, MaxY: 9680}) {
		t.Errorf("travel from the origin counts as sewn: %v, %v", box, err)
	}
}

// A file without an end record is whole if the records that its header counts are
// there.
func TestDSTCounts(t *testing.T) {
	for _, test := range []struct {
		st, co   int
		end      bool
		warns    int
		cause    error
		stitches int
	}{
		{4, 1, true, 0, nil, 3}, // three stitches and a change
		{5, 1, true, 0, nil, 3}, // the end counted too
		{4, 2, true, 0, nil, 3}, // threads counted
		{9, 1, true, 1, nil, 3},
		{4, 5, true, 1, nil, 3},
		{0, 0, true, 2, nil, 3},
		{4, 1, false, 1, nil, 3},
		{9, 1, false, 1, stitchfile.ErrTruncated, 3},
		{0, 1, false, 1, stitchfile.ErrTruncated, 3},
	} {
		data := dstWith(t, 1, 0, 3, 1, 0, 3, 0, 0, 0xC3, 1, 0, 3)
		copy(data[20:], fmt.Sprintf("ST:%7d\rCO:%3d\r", test.st, test.co))
		if !test.end {
			data = data[:len(data)-3]
		}
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if d == nil || !errors.Is(err, test.cause) || d.Counts().Stitches != test.stitches || len(d.Warnings) != test.warns {
			t.Errorf("%+v: %+v, %v", test, d, err)
		}
		if d.Claims.Records != test.st || d.Claims.ColourStops != test.co {
			t.Errorf("%+v: claims %+v", test, d.Claims)
		}
	}
}

// The lines are those of the EduTech wiki page on DST; numbers are padded this way
// and that.
func TestDSTHeader(t *testing.T) {
	data := dstWith(t, 1, 0, 3)
	copy(data, "LA:Left sleeve\x00\x00\x00\x00\x00\rST:0000001\rCO:  0\r+X:1    \r-X:00000\r+Y:    0\r-Y:    0\r")
	copy(data[125:], "AU:Ida Quilt\rCP:2019 Ida\rTC:#FF8000,Orange,O12\rTC:#0000ff\rTC:none,Grey\rTC:\r\x1A")
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if err != nil || len(d.Warnings) > 0 {
		t.Fatal(err, d.Warnings)
	}
	want := &stitchfile.Design{
		Format: "DST", Name: "Left sleeve",
		Fields: []stitchfile.Field{{Name: "author", Value: "Ida Quilt"}, {Name: "copyright", Value: "2019 Ida"}},
		Threads: []stitchfile.Thread{
			{Colour: color.RGBA{255, 128, 0, 255}, Name: "Orange", Catalogue: "O12"}, {Colour: color.RGBA{0, 0, 255, 255}}, {Name: "Grey"}, {},
		},
		Moves:  []stitchfile.Move{{1, 0, s, 0}, {1, 0, e, 0}},
		Claims: stitchfile.Claims{Records: 1, Stitches: -1, ColourStops: 0, Width: 1, Height: 0}, Records: 1,
		Whole: stitchfile.Whole, WholeReasons: []string{"an end record, and nothing behind it", "the header counts 1 records, and all are there"},
	}
	if diff := cmp.Diff(want, d); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestDSTSequins(t *testing.T) {
	d, err := new(stitchfile.Decoder).DecodeBytes(dstWith(t, 1, 0, 3, 0, 0, 0x43, 1, 0, 0x83, 1, 0, 0x83, 1, 0, 0x83, 1, 0, 0x83, 1, 0, 3, 0, 0, 0x43, 1, 0, 0x83))
	if err != nil || len(d.Warnings) != 1 {
		t.Fatal(err, d.Warnings)
	}
	q := stitchfile.MarkSequin
	want := []stitchfile.Move{{1, 0, s, 0}, {1, 0, j, q}, {1, 0, j, q}, {1, 0, j, q}, {1, 0, j, q}, {1, 0, s, 0}, {1, 0, j, 0}, {0, 0, e, 0}}
	for i, m := range deltas(d) {
		m.Mark = d.Moves[i].Mark
		if m != want[i] {
			t.Errorf("move %d is %+v, want %+v", i, m, want[i])
		}
	}
	if d.Counts().Trims != 0 {
		t.Error("a row of sequins was taken for a cut")
	}
}

// A header that does not begin as it should is put up with where the name says
// what the file is.
func TestDSTWithoutMark(t *testing.T) {
	data := dstWith(t, 1, 0, 3, 1, 0, 3)
	copy(data, "XX:")
	d, err := (&stitchfile.Decoder{Name: "a.dst"}).DecodeBytes(data)
	if err != nil || d.Format != "DST" || d.Name != "" || d.Counts().Stitches != 2 || len(d.Warnings) != 1 {
		t.Errorf("%+v, %v", d, err)
	}
	for name, data := range map[string][]byte{"a.exp": data, "a.dst": data[:len(data)-3], "b.dst": append(data[:512:512], 0, 0, 0xF3)} {
		if d, err := (&stitchfile.Decoder{Name: name}).DecodeBytes(data); d != nil || !errors.Is(err, stitchfile.ErrUnknown) {
			t.Errorf("%s of %d bytes: %v, %v", name, len(data), d, err)
		}
	}
}
