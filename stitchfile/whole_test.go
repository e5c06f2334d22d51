package stitchfile_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// endMarks are the bytes that end a design, by format.
var endMarks = map[string][]byte{
	"DST": {0, 0, 0xF3}, "DSB": {0xF8, 0, 0}, "U01": {0xF8, 0, 0}, "JEF": {0x80, 0x10}, "SEW": {0x80, 0x10},
	"PES": {0xFF}, "PEC": {0xFF}, "XXX": {0x7F, 0x7F},
}

func wholeSample() *stitchfile.Design {
	b := new(stitchtest.Builder)
	b.Run(stitchtest.Rect(stitchtest.Point{}, 40, 30), 2.5).Trim()
	b.Satin(stitchtest.Line(stitchtest.Point{X: 5, Y: 5}, stitchtest.Point{X: 30, Y: 5}), stitchtest.SatinAlong{Width: 3, Pitch: 0.4}).Stop()
	b.Run(stitchtest.Circle(stitchtest.Point{}, 12), 2)
	return b.Design()
}

// A whole file is told to be whole, or not to tell; none is doubted.
func TestWholeFilesAreWhole(t *testing.T) {
	for _, format := range stitchfile.Names() {
		data, err := stitchtest.Encode(format, wholeSample())
		if err != nil {
			continue // it has no encoder of that name
		}
		d, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(data)
		if err != nil {
			t.Fatalf("%s: %v", format, err)
		}
		if d.Whole != stitchfile.Whole && d.Whole != stitchfile.CannotTell || len(d.WholeReasons) == 0 {
			t.Errorf("%s: whole: %s, %q", format, d.Whole, d.WholeReasons)
		}
		if _, marked := endMarks[format]; marked && d.Whole != stitchfile.Whole {
			t.Errorf("%s: whole: %s, %q", format, d.Whole, d.WholeReasons)
		}
	}
}

// An end mark planted anywhere in the stitches is never taken for the end of a whole
// design, nor is a second design behind the first.
func TestPlantedEndsAreDoubted(t *testing.T) {
	for format, mark := range endMarks {
		data, err := stitchtest.Encode(format, wholeSample())
		if err != nil {
			t.Fatal(err)
		}
		decode := func(data []byte) (*stitchfile.Design, error) {
			return (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(data)
		}
		sound, err := decode(data)
		if err != nil {
			t.Fatal(err)
		}
		all := sound.Counts().Stitches
		planted := 0
		for p := len(data) / 8; p+len(mark) <= len(data); p++ {
			bad := slices.Clone(data)
			copy(bad[p:], mark)
			d, err := decode(bad)
			// A stitch or two that became another is no end.
			if d == nil || err != nil || d.Counts().Stitches > all-4 {
				continue
			}
			planted++
			if d.Whole == stitchfile.Whole {
				t.Errorf("%s: with an end at byte %d, %d of %d stitches: whole: %s, %q", format, p, d.Counts().Stitches, all, d.Whole, d.WholeReasons)
			}
		}
		if planted < 10 {
			t.Errorf("%s: only %d ends were planted", format, planted)
		}
		if d, err := decode(append(slices.Clone(data), data...)); err == nil && d.Whole == stitchfile.Whole {
			t.Errorf("%s: two files joined: whole: %s, %q", format, d.Whole, d.WholeReasons)
		}
	}
}

// A second file behind the first is told in every format that can tell anything, and so
// is one of another design. What is said against a design is not mixed with what speaks
// for it.
func TestJoinedFilesAreDoubted(t *testing.T) {
	other := new(stitchtest.Builder).Run(stitchtest.Circle(stitchtest.Point{}, 20), 1.5).Design()
	for _, format := range stitchfile.Names() {
		if format == "EXP" || format == "KSM" {
			continue // they have neither a header nor an end, or none that is known
		}
		first, err := stitchtest.Encode(format, wholeSample())
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range []*stitchfile.Design{wholeSample(), other} {
			second, err := stitchtest.Encode(format, d)
			if err != nil {
				t.Fatal(err)
			}
			got, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(append(slices.Clone(first), second...))
			if err != nil || got.Whole != stitchfile.NotWhole || len(got.WholeReasons) != 1 {
				t.Errorf("%s: %v, whole: %s, %q", format, err, got.Whole, got.WholeReasons)
			}
		}
	}
}
