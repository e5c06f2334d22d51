package stitchfile_test

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// editing is a part for editing that holds the stitches of a design, scaled by a share,
// with the palette entries of its colour blocks.
func editing(d *stitchfile.Design, percent int32, threads ...uint16) []byte {
	le := binary.LittleEndian
	b := []byte("#PES0001\x00\x00\x00\x00\x01\x00\x01\x00\x01\x00\xFF\xFF\x00\x00\x07\x00CEmbOne")
	b = append(b, make([]byte, 16)...)
	for _, v := range []uint32{0x3F800000, 0, 0, 0x3F800000, 0, 0} {
		b = le.AppendUint32(b, v)
	}
	b = append(b, make([]byte, 18)...)
	b = append(b, "\xFF\xFF\x00\x00\x07\x00CSewSeg"...)
	var starts []uint16
	segment := uint16(0)
	var points []byte
	flush := func(more bool) {
		b = le.AppendUint16(b, 0)
		b = le.AppendUint16(b, 1)
		b = le.AppendUint16(b, uint16(len(points)/4))
		b = append(b, points...)
		starts, segment, points = append(starts, segment), segment+1, nil
		if more {
			b = le.AppendUint16(b, 0x8003)
		}
	}
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.Stitch:
			points = le.AppendUint16(points, uint16(int16(m.X*percent/100)))
			points = le.AppendUint16(points, uint16(int16(-m.Y*percent/100)))
		case stitchfile.ColourStop:
			flush(true)
		}
	}
	flush(false)
	b = le.AppendUint16(b, uint16(len(threads)))
	for i, t := range threads {
		b = le.AppendUint16(b, starts[min(i, len(starts)-1)])
		b = le.AppendUint16(b, t)
	}
	b = append(b, 0, 0, 0, 0)
	le.PutUint32(b[8:], uint32(len(b)))
	return b
}

// joined is a PES file of the part for editing and the stitch block of another.
func joined(head, of []byte) []byte {
	head = slices.Clone(head)
	binary.LittleEndian.PutUint32(head[8:], uint32(len(head)))
	return append(head, of[binary.LittleEndian.Uint32(of[8:]):]...)
}

func TestEditingPartOfAnotherDesign(t *testing.T) {
	d := wholeSample()
	block, err := stitchtest.Encode("PES", d)
	if err != nil {
		t.Fatal(err)
	}
	sound, err := new(stitchfile.Decoder).DecodeBytes(block)
	if err != nil {
		t.Fatal(err)
	}
	fewer := *sound
	fewer.Moves = slices.DeleteFunc(slices.Clone(sound.Moves), func(m stitchfile.Move) bool {
		// The middle of the satin, so that the size stays.
		return m.Kind == stitchfile.Stitch && m.X > 80 && m.X < 270 && m.Y > 20 && m.Y < 80
	})
	for _, c := range []struct {
		name string
		head []byte
		says string // empty: nothing
		warn string
	}{
		{"its own", editing(sound, 100, 20, 5), "", ""},
		{"its own, a thread not set", editing(sound, 100, 0), "", ""},
		{"a unit wider", editing(sound, 102, 20, 5), "", ""},
		{"another size", editing(sound, 106, 20, 5), "it is 53.0 by 31.8 mm, what is sewn 50.0 by 30.0 mm", ""},
		{"fewer stitches", editing(&fewer, 100, 20, 5), " stitches, what is sewn ", ""},
		{"more threads", editing(sound, 100, 20, 5, 20), "it changes the thread 2 times, what is sewn 1 time", ""},
		{"other threads", editing(sound, 100, 20, 6), "", "names other threads"},
		{"cut short", editing(sound, 106, 20, 5)[:200], "", ""},
	} {
		whole := joined(c.head, block)
		// The sample's threads have no colour; the block is given two entries.
		base := len(c.head)
		whole[base+49], whole[base+50] = 20, 5
		d, err := new(stitchfile.Decoder).DecodeBytes(whole)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.says == "" && d.Whole != stitchfile.Whole {
			t.Errorf("%s: whole: %s, %q", c.name, d.Whole, d.WholeReasons)
		}
		if c.says != "" && (d.Whole != stitchfile.NotWhole || len(d.WholeReasons) != 1 || !strings.Contains(d.WholeReasons[0], c.says)) {
			t.Errorf("%s: whole: %s, %q; want %q", c.name, d.Whole, d.WholeReasons, c.says)
		}
		if c.warn != "" && (len(d.Warnings) != 1 || !strings.Contains(d.Warnings[0].Message, c.warn)) {
			t.Errorf("%s: %v", c.name, d.Warnings)
		}
	}
}

// No real file's part for editing is taken for that of another design, and every one
// that is put before the stitches of another is found out.
func TestEditingPartsOfRealFiles(t *testing.T) {
	needReal(t)
	names, err := filepath.Glob(realDesigns + "/*/*.pes")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if err != nil {
			continue // damaged as it comes
		}
		files[name] = data
		if d.Whole != stitchfile.Whole {
			t.Errorf("%s: whole: %s, %q", name, d.Whole, d.WholeReasons)
		}
	}
	for a, head := range files {
		for b, block := range files {
			if a == b {
				continue
			}
			d, err := new(stitchfile.Decoder).DecodeBytes(joined(head[:binary.LittleEndian.Uint32(head[8:])], block))
			if err != nil || d.Whole != stitchfile.NotWhole {
				t.Errorf("%s before the stitches of %s: %v", a, b, err)
			}
		}
	}
}
