package stitchfile_test

import (
	"errors"
	"image/color"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// pecWith is a PEC file whose stitch part is body and whose colours are the
// given palette indices; none writes the mark for "no colours".
func pecWith(t *testing.T, body []byte, indices ...byte) []byte {
	t.Helper()
	data, err := stitchtest.Encode("PEC", &stitchfile.Design{Name: "block"})
	if err != nil {
		t.Fatal(err)
	}
	data = append(data[:8+532], body...)
	g := 20 + len(body)
	copy(data[8+514:], []byte{byte(g), byte(g >> 8), byte(g >> 16)})
	data[8+48] = byte(len(indices) - 1)
	copy(data[8+49:], indices)
	return data
}

// The record layout is that of the EduTech Wiki (University of Geneva), page
// "Embroidery format PEC", and of "PEC Design format" at achatina.de; the bytes
// are worked out from it. Y counts down in the file.
func TestPECRecords(t *testing.T) {
	type moves = []stitchfile.Move
	const st, ju, tr, cs, end = stitchfile.Stitch, stitchfile.Jump, stitchfile.Trim, stitchfile.ColourStop, stitchfile.End
	for _, c := range []struct {
		name  string
		bytes []byte
		want  moves
		cause error
		at    int64 // offset of the error from the first stitch
	}{
		{"short", []byte{0x05, 0x7B, 0xFF, 0}, moves{{5, 5, st, 0}, {5, 5, end, 0}}, nil, 0},
		{"short limits", []byte{0x3F, 0x40, 0xFF, 0}, moves{{63, 64, st, 0}, {63, 64, end, 0}}, nil, 0},
		{"long x", []byte{0x81, 0x2C, 0x05, 0xFF, 0}, moves{{300, -5, st, 0}, {300, -5, end, 0}}, nil, 0},
		{"long y", []byte{0x05, 0x81, 0x2C, 0xFF, 0}, moves{{5, -300, st, 0}, {5, -300, end, 0}}, nil, 0},
		{"jump", []byte{0x91, 0x2C, 0x9E, 0xD4, 0xFF, 0}, moves{{300, 300, ju, 0}, {300, 300, end, 0}}, nil, 0},
		{"trim", []byte{0xA0, 0x14, 0xAF, 0xF6, 0xFF, 0}, moves{{0, 0, tr, 0}, {20, 10, ju, 0}, {20, 10, end, 0}}, nil, 0},
		{"flag on y only", []byte{0x05, 0x90, 0x05, 0xFF, 0}, moves{{5, -5, ju, 0}, {5, -5, end, 0}}, nil, 0},
		{"long limits", []byte{0x87, 0xFF, 0x88, 0x00, 0xFF}, moves{{2047, 2048, st, 0}, {2047, 2048, end, 0}}, nil, 0},
		{"colour change", []byte{0xFE, 0xB0, 2, 0xFF, 0}, moves{{0, 0, cs, 0}, {0, 0, end, 0}}, nil, 0},
		{"together", []byte{0x05, 0x7B, 0x91, 0x2C, 0x9E, 0xD4, 0xFE, 0xB0, 2, 0x0A, 0x0A, 0xFF, 0},
			moves{{5, 5, st, 0}, {305, 305, ju, 0}, {305, 305, cs, 0}, {315, 295, st, 0}, {315, 295, end, 0}}, nil, 0},
		{"no end", []byte{0x05, 0x7B, 0x05}, moves{{5, 5, st, 0}, {5, 5, end, 0}}, stitchfile.ErrTruncated, 2},
		{"unknown code", []byte{0x05, 0x7B, 0xFE, 0x11, 2, 0xFF}, moves{{5, 5, st, 0}, {5, 5, end, 0}}, stitchfile.ErrCorrupt, 2},
	} {
		d, err := new(stitchfile.Decoder).DecodeBytes(pecWith(t, c.bytes, 20, 20))
		if d == nil || !errors.Is(err, c.cause) || !slices.Equal(d.Moves, c.want) {
			t.Errorf("%s: %+v, %v, want %v", c.name, d, err, c.want)
			continue
		}
		var fe *stitchfile.FormatError
		if errors.As(err, &fe) && fe.Offset != 8+532+c.at {
			t.Errorf("%s: error at byte %d, want %d", c.name, fe.Offset, 8+532+c.at)
		}
	}
}

func TestPECThreads(t *testing.T) {
	body := []byte{5, 5, 0xFE, 0xB0, 2, 5, 5, 0xFE, 0xB0, 1, 5, 5, 0xFF, 0}
	for _, c := range []struct {
		name    string
		indices []byte
		want    []int
		oddAt   int64 // offset of the only warning past the size; 0 means none
	}{
		{"one each", []byte{5, 20, 64}, []int{5, 20, 64}, 0},
		{"equal ones are still stops", []byte{5, 5, 5}, []int{5, 5, 5}, 0},
		{"too few", []byte{5, 20}, []int{5, 20, 20}, 56},
		{"too many", []byte{5, 20, 1, 2}, []int{5, 20, 1}, 56},
		{"no such colour", []byte{5, 0, 1}, []int{5, 0, 1}, 58},
		{"none", nil, nil, 56},
	} {
		data := pecWith(t, body, c.indices...)
		copy(data[8+520:], []byte{10, 0, 10, 0})
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		var got []int
		for _, th := range d.Threads {
			got = append(got, th.Index)
			if !th.HasColour() {
				t.Errorf("%s: thread %d without colour", c.name, th.Index)
			}
		}
		if !slices.Equal(got, c.want) || d.Counts().ColourStops != 2 {
			t.Errorf("%s: threads %v, %d stops", c.name, got, d.Counts().ColourStops)
		}
		if c.oddAt == 0 && len(d.Warnings) > 0 || c.oddAt != 0 && (len(d.Warnings) != 1 || d.Warnings[0].Offset != c.oddAt) {
			t.Errorf("%s: warnings %v", c.name, d.Warnings)
		}
	}
}

func TestPECSizeWarning(t *testing.T) {
	for _, c := range []struct {
		width byte
		warns bool
	}{{10, false}, {12, false}, {13, true}, {7, true}} {
		data := pecWith(t, []byte{0, 0, 10, 10, 0xFF}, 20)
		copy(data[8+520:], []byte{c.width, 0, 10, 0})
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if err != nil || d.Claims.Width != int(c.width) || len(d.Warnings) > 0 != c.warns {
			t.Errorf("width %d: %+v, %v", c.width, d, err)
		}
	}
}

func TestPECPalette(t *testing.T) {
	p := stitchfile.PECPalette()
	if len(p) != 64 || p[19] != (color.RGBA{A: 0xFF}) || p[63] != (color.RGBA{0xFF, 0xC8, 0xC8, 0xFF}) {
		t.Errorf("palette %v", p)
	}
	p[0] = color.RGBA{}
	if stitchfile.PECPalette()[0].A == 0 {
		t.Error("a caller can change the palette")
	}
}
