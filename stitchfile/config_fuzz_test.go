package stitchfile_test

import (
	"bytes"
	"errors"
	"slices"
	"testing"
	"unicode/utf8"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// FuzzDecodeConfig holds the cheap question to the full reading of any bytes: it
// reads little, makes nothing up, and where it tells something Decode tells it too.
func FuzzDecodeConfig(f *testing.F) {
	for i, format := range stitchtest.Formats() {
		for _, d := range []*stitchfile.Design{tiny(), sampler()} {
			data, err := stitchtest.Encode(format, d)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(uint8(i), data)
			f.Add(uint8(i), data[:len(data)/3])
		}
	}
	f.Fuzz(func(t *testing.T, format uint8, data []byte) {
		known := stitchtest.Formats()
		dec := &stitchfile.Decoder{Name: "x." + known[int(format)%len(known)]}
		in := newSeeking(data)
		c, err := dec.DecodeConfig(in)
		if in.n > stitchfile.MaxConfigBytes || len(c.Name) > 2*in.n {
			t.Fatalf("%d bytes read for a name of %d", in.n, len(c.Name))
		}
		if !utf8.ValidString(c.Name) {
			t.Fatalf("name %q is not UTF-8", c.Name)
		}
		if n := c.Claims; min(n.Records, n.Stitches, n.ColourStops, n.Width, n.Height) < -1 {
			t.Fatalf("claims %+v", n)
		}
		var fe *stitchfile.FormatError
		if err != nil && (!errors.As(err, &fe) || fe.Offset < 0 || fe.Offset > int64(len(data)) || fe.Cause == nil || fe.Format != c.Format) {
			t.Fatalf("%s: %v", c.Format, err)
		}
		if err == nil && !slices.Contains(known, c.Format) {
			t.Fatalf("format %q", c.Format)
		}

		d, full := dec.DecodeBytes(data)
		if d != nil && err == nil && c.Format == d.Format {
			agrees(t, c, d)
		}
		if len(data) < 16<<10 { // all of it was seen
			if (err == nil || c.Format != "") != (!errors.Is(full, stitchfile.ErrUnknown) && !errors.Is(full, stitchfile.ErrEmpty)) {
				t.Fatalf("%v, but the full reading says %v", err, full)
			}
			if d != nil && (err != nil || c.Format != d.Format) {
				t.Fatalf("%s, %v, but it is read as %s", c.Format, err, d.Format)
			}
		}

		blind, err2 := dec.DecodeConfig(&counted{r: bytes.NewReader(data)})
		if blind.Format != c.Format || len(data) < 16<<10 && (blind != c || (err == nil) != (err2 == nil)) {
			t.Fatalf("without seeking: %+v, %v; with it %+v, %v", blind, err2, c, err)
		}
	})
}
