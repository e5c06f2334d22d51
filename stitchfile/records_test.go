package stitchfile_test

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image/color"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
)

// body replaces what stands behind the header of an empty design of the format.
func body(t *testing.T, format string, header int, b ...byte) []byte {
	t.Helper()
	return slices.Concat(encode(t, format, &stitchfile.Design{})[:header], b)
}

type recordTest struct {
	name  string
	data  []byte
	want  []stitchfile.Move
	warns int
	cause error
}

func runRecordTests(t *testing.T, format string, tests []recordTest) {
	t.Helper()
	for _, test := range tests {
		d, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(test.data)
		if d == nil || d.Format != format || !errors.Is(err, test.cause) {
			t.Errorf("%s: %+v, %v", test.name, d, err)
			continue
		}
		if diff := cmp.Diff(test.want, deltas(d)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
		if len(d.Warnings) != test.warns {
			t.Errorf("%s: warnings %v", test.name, d.Warnings)
		}
	}
}

// The codes are those of the EduTech wiki (University of Geneva), page
// "Embroidery format XXX"; the bytes are worked out from it.
func TestXXXRecords(t *testing.T) {
	x := func(b ...byte) []byte {
		data := body(t, "XXX", 0x100, b...)
		binary.LittleEndian.PutUint32(data[0x17:], 3)
		return data
	}
	end := []byte{0x7F, 0x7F, 2, 0x14, 0, 0, 0, 1, 2, 3, 0, 4, 5, 6}
	with := func(b ...byte) []byte { return x(append(b, end...)...) }
	runRecordTests(t, "XXX", []recordTest{
		{"together", with(0x0A, 0xF6, 0x7D, 0x2C, 1, 0xD4, 0xFE, 0x7F, 1, 0x14, 0, 0x7F, 8, 0, 0),
			[]stitchfile.Move{{10, -10, s, 0}, {300, -300, s, 0}, {20, 0, j, 0}, {Kind: c}, {Kind: e}}, 1, nil},
		{"moves in commands", with(0x7F, 3, 5, 6, 0x7F, 8, 7, 8, 0x7F, 1, 0, 0),
			[]stitchfile.Move{{Kind: k}, {5, 6, j, 0}, {Kind: c}, {7, 8, j, 0}, {Kind: j}, {Kind: e}}, 1, nil},
		{"needle select", with(1, 1, 0x7F, 0x0A, 0, 0, 1, 1), []stitchfile.Move{{1, 1, s, 0}, {Kind: c}, {1, 1, s, 0}, {Kind: e}}, 1, nil},
		{"other end", x(1, 1, 0x7F, 0x18, 0, 0, 0, 0, 0, 1, 1, 1), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 1, nil},
		{"7e as 7d", with(0x7E, 0x2C, 1, 0, 0, 0x7E, 0, 0, 1, 0), []stitchfile.Move{{300, 0, s, 0}, {0, 1, s, 0}, {Kind: e}}, 2, nil},
		{"unknown command twice", with(0x7F, 5, 1, 2, 0x7F, 5, 1, 2), []stitchfile.Move{{1, 2, j, 0}, {1, 2, j, 0}, {Kind: e}}, 2, nil},
		{"no end", x(1, 1, 2), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 0, stitchfile.ErrTruncated},
		{"cut inside a command", x(1, 1, 0x7F, 1, 1), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 0, stitchfile.ErrTruncated},
		{"cut inside a big stitch", x(1, 1, 0x7D, 1, 1), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 0, stitchfile.ErrTruncated},
		{"no colours", x(1, 1, 0x7F, 0x7F, 2, 0x14), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 1, nil},
	})
	d, err := new(stitchfile.Decoder).DecodeBytes(with(1, 1, 0x7F, 8, 0, 0, 1, 1))
	if err != nil || !slices.Equal(d.Threads, []stitchfile.Thread{{Colour: color.RGBA{1, 2, 3, 255}}, {Colour: color.RGBA{4, 5, 6, 255}}}) {
		t.Errorf("threads %+v, %v", d, err)
	}
}

// Without its extension a file must run to an end by known codes alone.
func TestXXXRecognition(t *testing.T) {
	data := body(t, "XXX", 0x100, 1, 1, 0x7F, 0x44, 0, 0, 1, 1)
	binary.LittleEndian.PutUint32(data[0x17:], 3)
	for name, want := range map[string]bool{"a.xxx": true, "a.dst": false} {
		if d, _ := (&stitchfile.Decoder{Name: name}).DecodeBytes(data); (d != nil) != want {
			t.Errorf("%s: %v", name, d)
		}
	}
	if d, err := new(stitchfile.Decoder).DecodeBytes(make([]byte, 400)); d != nil || !errors.Is(err, stitchfile.ErrUnknown) {
		t.Errorf("zeros: %v, %v", d, err)
	}
}

// The records are the dump of a format note from the old file-format archives; the
// colour change is that of achatina.de, page "PCS Design format".
func TestPCSRecords(t *testing.T) {
	p := func(count byte, b ...byte) []byte {
		data := body(t, "PCS", 70, b...)
		data[68] = count
		copy(data[4+4*5:], []byte{10, 20, 30})
		return data
	}
	first := []byte{0, 0x73, 0, 0, 0, 0x27, 1, 0, 0}
	second := []byte{0, 0x33, 1, 0, 0, 0x81, 0, 0, 0}
	to0, to5 := []byte{0, 0, 0, 0, 0, 0, 0, 0, 3}, []byte{5, 6, 1, 0, 0, 8, 0, 0, 3}
	two := []stitchfile.Move{{115, 295, s, 0}, {192, -166, s, 0}, {Kind: e}}
	one := []stitchfile.Move{{115, 295, s, 0}, {Kind: e}}
	changed := []stitchfile.Move{{115, 295, s, 0}, {Kind: c}, {192, -166, s, 0}, {Kind: e}}
	name := []byte("FEDER.BMP\x00\x00\x00\x00feather\x00")
	flagged := func(r []byte, flag byte) []byte { return append(r[:8:8], flag) }
	runRecordTests(t, "PCS", []recordTest{
		{"note", p(2, slices.Concat(to0, first, second, name)...), two, 0, nil},
		{"no first change", p(2, slices.Concat(first, second)...), two, 0, nil},
		{"change between", p(2, slices.Concat(to0, first, to5, second)...), changed, 0, nil},
		{"two changes at once", p(1, slices.Concat(to0, to5, first)...), []stitchfile.Move{{Kind: c}, {115, 295, s, 0}, {Kind: e}}, 0, nil},
		{"jump", p(2, slices.Concat(flagged(first, 4), flagged(second, 2))...), []stitchfile.Move{{115, 295, j, 0}, {192, -166, s, 0}, {Kind: e}}, 0, nil},
		{"unknown flag", p(2, slices.Concat(flagged(first, 5), flagged(second, 5))...), []stitchfile.Move{{115, 295, j, 0}, {192, -166, j, 0}, {Kind: e}}, 1, nil},
		{"fraction rounds", p(1, 0x80, 0x73, 0, 0, 0x7F, 0xFF, 0xFF, 0xFF, 0), []stitchfile.Move{{116, -1 + 0, s, 0}, {Kind: e}}, 0, nil},
		{"text where records are due", p(9, slices.Concat(to0, first, []byte("FEDER.BMP\x00\x00\x00\x00"))...), one, 1, nil},
		{"cut short", p(2, slices.Concat(to0, first, second[:5])...), one, 0, stitchfile.ErrTruncated},
		{"beyond", p(2, slices.Concat(first, []byte{0, 0, 0, 0x40, 0, 0, 0, 0, 0})...), one, 0, stitchfile.ErrCorrupt},
		{"colour 16", p(1, slices.Concat([]byte{16, 0, 0, 0, 0, 0, 0, 0, 3}, first)...), one, 1, nil},
	})
	data := p(2, slices.Concat(to0, first, to5, second, name)...)
	data[1] = 2
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if err != nil || d.Comments != "feather" || !slices.Equal(d.Fields, []stitchfile.Field{{Name: "picture", Value: "FEDER.BMP"}}) ||
		d.Hoop != (stitchfile.Hoop{Width: 80, Height: 80}) || d.Threads[1] != (stitchfile.Thread{Colour: color.RGBA{10, 20, 30, 255}, Index: 5}) {
		t.Errorf("%+v, %v", d, err)
	}
}

// The records follow the EduTech wiki page on U01 and, for DSB, a developer's
// analysis in Japanese of 2022; the bytes are worked out from them.
func TestU01Records(t *testing.T) {
	each := []byte{0x80, 100, 10, 0xC0, 100, 10, 0xA0, 100, 10, 0xE1, 10, 20, 0xE7, 0, 0, 0xE8, 0, 0, 0x89, 0, 0}
	moves := []stitchfile.Move{{10, 100, s, 0}, {10, -100, s, 0}, {-10, 100, s, 0}, {-20, -10, j, 0}, {Kind: k}, {Kind: c}, {Kind: c}, {Kind: e}}
	end := []byte{0xF8, 0, 0}
	for _, format := range []struct {
		name   string
		header int
	}{{"U01", 0x100}, {"DSB", 512}} {
		with := func(b ...byte) []byte {
			data := body(t, format.name, format.header, b...)
			if format.name == "DSB" {
				copy(data[20:], "ST:       ")
				copy(data[31:], "CO:   ")
			} else {
				copy(data[0x8C:], "\x00\x00\x00\x00")
			}
			return data
		}
		runRecordTests(t, format.name, []recordTest{
			{"each kind", with(slices.Concat(each, end)...), moves, 0, nil},
			{"padded", with(slices.Concat(each, end, []byte{0x1A, 0, 0})...), moves, 0, nil},
			{"no end", with(each...), moves, 0, stitchfile.ErrTruncated},
			{"partial record", with(slices.Concat(each, []byte{0x80, 1})...), moves, 0, stitchfile.ErrTruncated},
		})
	}
	with := func(b ...byte) []byte {
		data := body(t, "U01", 0x100, b...)
		data[0x8C] = 0 // no count
		return data
	}
	runRecordTests(t, "U01", []recordTest{
		{"out of step", with(0x80, 1, 2, 0x12, 1, 2, 0x80, 0, 0), []stitchfile.Move{{2, 1, s, 0}, {Kind: e}}, 0, stitchfile.ErrCorrupt},
		{"speeds", with(0x82, 1, 2, 0x82, 1, 2, 0x83, 1, 2, 0x9A, 1, 2, 0xF8, 0, 0),
			[]stitchfile.Move{{2, 1, s, 0}, {2, 1, s, 0}, {2, 1, j, 0}, {2, 1, j, 0}, {Kind: e}}, 3, nil},
		{"first needle is no stop", with(0xEB, 0, 0, 0x80, 1, 2, 0xF8, 0, 0), []stitchfile.Move{{2, 1, s, 0}, {Kind: e}}, 0, nil},
	})
}

func TestU01Threads(t *testing.T) {
	data := body(t, "U01", 0x100, 0xEB, 0, 0, 0x80, 1, 2, 0xEC, 0, 0, 0x80, 1, 2, 0xE8, 0, 0, 0x80, 1, 2, 0xEC, 0, 0, 0x80, 1, 2, 0xF8, 0, 0)
	data[0x8C] = 9
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if err != nil || len(d.Warnings) > 0 || d.Claims.Records != 9 {
		t.Fatal(d, err)
	}
	var got []string
	for _, m := range d.Moves {
		if m.Kind == c {
			got = append(got, fmt.Sprint(m.Mark == stitchfile.MarkHalt))
		}
	}
	for i := range 4 {
		got = append(got, fmt.Sprint(d.Thread(i).Index))
	}
	if diff := cmp.Diff([]string{"false", "true", "true", "3", "4", "4", "4"}, got); diff != "" {
		t.Errorf("halts and needles (-want +got):\n%s", diff)
	}
}

// Behind the records that the header of U01 counts may stand what a machine was
// taught.
func TestU01Count(t *testing.T) {
	stitches := []byte{0x80, 1, 2, 0x80, 1, 2}
	for _, test := range []struct {
		name     string
		count    byte
		body     []byte
		stitches int
		warns    int
		cause    error
	}{
		{"true", 3, append(stitches[:6:6], 0xF8, 0, 0), 2, 0, nil},
		{"end not counted", 2, append(stitches[:6:6], 0xF8, 0, 0), 2, 0, nil},
		{"too few", 1, append(stitches[:6:6], 0xF8, 0, 0), 2, 0, nil},
		{"too many", 9, append(stitches[:6:6], 0xF8, 0, 0), 2, 1, nil},
		{"taught block behind", 2, append(stitches[:6:6], 0x80, 9, 9, 1, 2, 3), 2, 1, nil},
		{"all there, no end", 2, stitches, 2, 1, nil},
		{"cut short", 4, stitches, 2, 0, stitchfile.ErrTruncated},
	} {
		data := body(t, "U01", 0x100, test.body...)
		data[0x8C] = test.count
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if d == nil || !errors.Is(err, test.cause) || d.Counts().Stitches != test.stitches || len(d.Warnings) != test.warns {
			t.Errorf("%s: %+v, %v", test.name, d, err)
		}
	}
}

// Whether x or y comes first in DSB is not certain; the header's extents decide.
func TestDSBOrder(t *testing.T) {
	for _, test := range []struct {
		extents string
		want    stitchfile.Move
		warns   int
	}{
		{"+X:   20\r-X:    0\r+Y:  100\r-Y:    0\r", stitchfile.Move{20, 100, s, 0}, 0},
		{"+X:  100\r-X:    0\r+Y:   20\r-Y:    0\r", stitchfile.Move{100, 20, s, 0}, 1},
		{"+X:   77\r-X:    0\r+Y:   33\r-Y:    0\r", stitchfile.Move{20, 100, s, 0}, 0},
	} {
		data := body(t, "DSB", 512, 0x80, 100, 20, 0x80, 0, 0, 0xF8, 0, 0)
		copy(data[20:], "ST:      3\r")
		copy(data[38:], test.extents)
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if err != nil || d.Format != "DSB" || d.Moves[0] != test.want || len(d.Warnings) != test.warns {
			t.Errorf("%q: %+v, %v", test.extents, d, err)
		}
	}
}

func TestDSBSequins(t *testing.T) {
	data := body(t, "DSB", 512, 0x80, 5, 5, 0xD7, 0, 0, 0x81, 0, 6, 0xD7, 0, 0, 0x81, 0, 6, 0xF8, 0, 0)
	d, err := new(stitchfile.Decoder).DecodeBytes(data)
	if err != nil || d.Counts().Jumps != 2 || d.Moves[1].Mark != stitchfile.MarkSequin || d.Moves[2].Mark != 0 || d.Counts().ColourStops != 0 {
		t.Errorf("%+v, %v", d, err)
	}
}

// The records are the examples of a format note from the old file-format archives,
// with bit 6 as the sign of y.
func TestKSMRecords(t *testing.T) {
	with := func(b ...byte) []byte { return body(t, "KSM", 512, b...) }
	each := []byte{0x0F, 2, 0x80, 0x0A, 6, 0xC0, 3, 0x7F, 0xA0, 0x20, 0x13, 0xE0, 3, 8, 0x99}
	moves := []stitchfile.Move{{2, 15, s, 0}, {6, -10, s, 0}, {-127, 3, s, 0}, {-19, -32, s, 0}, {Kind: c}, {8, 3, j, 0}, {Kind: e}}
	runRecordTests(t, "KSM", []recordTest{
		{"note", with(each...), moves, 1, nil},
		{"padded", with(append(each, 0, 0, 0, 0x1A, 0)...), moves, 1, nil},
		{"half a record", with(append(each, 1)...), moves, 0, stitchfile.ErrTruncated},
		{"unknown code twice", with(0, 1, 0x80, 1, 2, 0x81, 1, 2, 0x81), []stitchfile.Move{{1, 0, s, 0}, {2, 1, j, 0}, {2, 1, j, 0}, {Kind: e}}, 2, nil},
	})
	// A header unlike that of DST leaves the matter to the name.
	data := slices.Concat(make([]byte, 512), slices.Repeat(each, 4))
	for name, want := range map[string]bool{"a.ksm": true, "a.dst": false} {
		if d, _ := (&stitchfile.Decoder{Name: name}).DecodeBytes(data); (d != nil) != want {
			t.Errorf("%s: %v", name, d)
		}
	}
	if _, err := (&stitchfile.Decoder{Name: "a.ksm"}).DecodeBytes(append(data, 1, 2, 3)); !errors.Is(err, stitchfile.ErrUnknown) {
		t.Errorf("out of step: %v", err)
	}
}

func TestSEWRecords(t *testing.T) {
	with := func(b ...byte) []byte { return body(t, "SEW", 0x1D78, b...) }
	runRecordTests(t, "SEW", []recordTest{
		{"each kind", with(10, 0xF6, 0x80, 2, 5, 5, 0x80, 4, 6, 6, 0x80, 1, 0, 0, 0x80, 1, 7, 7, 0x80, 0x10),
			[]stitchfile.Move{{10, -10, s, 0}, {5, 5, j, 0}, {6, 6, j, 0}, {Kind: c}, {Kind: c}, {7, 7, j, 0}, {Kind: e}}, 2, nil},
		{"no end mark", with(1, 1), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 2, nil},
		{"cut inside a command", with(1, 1, 0x80, 2), []stitchfile.Move{{1, 1, s, 0}, {Kind: e}}, 1, stitchfile.ErrTruncated},
	})
	for name, data := range map[string][]byte{
		"unknown command":     with(1, 1, 0x80, 0x20, 0, 0, 1, 1, 0x80, 0x10),
		"index past palette":  append([]byte{1, 0, 79, 0}, with(1, 1, 0x80, 0x10)[4:]...),
		"named as another":    with(1, 1, 0x80, 0x10),
		"no colours":          append([]byte{0, 0}, with(1, 1, 0x80, 0x10)[2:]...),
		"nothing but a table": with(),
	} {
		ext := ".sew"
		if name == "named as another" {
			ext = ".pes"
		}
		if d, err := (&stitchfile.Decoder{Name: "a" + ext}).DecodeBytes(data); d != nil || !errors.Is(err, stitchfile.ErrUnknown) {
			t.Errorf("%s: %v, %v", name, d, err)
		}
	}
}

// One header stands before three kinds of records.
func TestDSTFamily(t *testing.T) {
	for _, format := range []string{"DST", "DSB", "KSM"} {
		for _, design := range []*stitchfile.Design{tiny(), sampler(), pecSample()} {
			for _, name := range []string{"", "x.dst", "x.dsb", "x.ksm", "x.bin"} {
				d, err := (&stitchfile.Decoder{Name: name}).DecodeBytes(encode(t, format, design))
				if err != nil || d.Format != format {
					t.Errorf("%s named %q: %v, %v", format, name, d, err)
				}
			}
		}
	}
}

// A jump of DST whose first byte looks like the end of DSB is none where more records follow
// it than come before.
func TestDSTThatBeginsLikeTheEndOfDSB(t *testing.T) {
	for _, test := range []struct {
		after int
		want  string
	}{{40, "DST"}, {4, "DSB"}} {
		records := []byte{0x98, 0x8A, 0x9B}
		for range test.after {
			records = append(records, 0x03, 0x04, 0x03)
		}
		d, err := new(stitchfile.Decoder).DecodeBytes(body(t, "DST", 512, records...))
		if d == nil || d.Format != test.want {
			t.Errorf("with %d stitches after it: %+v, %v, want %s", test.after, d, err, test.want)
		}
	}
}
