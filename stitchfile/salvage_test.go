package stitchfile_test

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Of a file cut anywhere, in any format, what is read is the beginning of the
// whole and nothing else; the error says how much that is and where it ends.
func TestSalvageCut(t *testing.T) {
	whole := sampler()
	points, _ := needle(whole)
	for _, format := range stitchtest.Formats() {
		data := encoded(t, format, whole)
		partly := 0
		for n := range data {
			d, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(data[:n])
			if d == nil {
				continue
			}
			p, _ := needle(d)
			if len(p) > len(points) || !slices.Equal(p, points[:len(p)]) {
				t.Fatalf("%s cut at %d: what is read is not the beginning of the design", format, n)
			}
			if last := d.Moves[len(d.Moves)-1].Kind; last != stitchfile.End {
				t.Fatalf("%s cut at %d: the last move is a %v", format, n, last)
			}
			if err == nil {
				continue // TestTruncation sees to it that nothing is lost
			}
			partly++
			var fe *stitchfile.FormatError
			if !errors.As(err, &fe) || fe.Cause != stitchfile.ErrTruncated || fe.Format != format || fe.Offset < int64(n)-4 || fe.Offset > int64(n) {
				t.Fatalf("%s cut at %d: %#v", format, n, err)
			}
			said := err.Error()
			count := fmt.Sprintf("%d stitches were read", len(p))
			if d.Claims.Stitches >= 0 {
				count = fmt.Sprintf("%d of the %d stitches", len(p), d.Claims.Stitches)
			}
			if !strings.Contains(said, count) || !strings.Contains(said, fmt.Sprintf("byte %d:", fe.Offset)) {
				t.Fatalf("%s cut at %d: %q", format, n, said)
			}
		}
		if partly == 0 {
			t.Errorf("%s: no cut gave a part and an error", format)
		}
	}
}

// Damage at a place known beforehand, and the words for it. The first block sews 1 +
// 100/2.5 stitches round a rectangle and 1 + 15 round a circle.
func TestSalvageWords(t *testing.T) {
	dst := encoded(t, "DST", sampler())
	jef := encoded(t, "JEF", sampler())
	pec := encoded(t, "PEC", sampler())
	stop := bytes.Index(pec[540:], []byte{0xFE, 0xB0}) + 540
	far := slices.Concat(dst[:512], bytes.Repeat([]byte{0, 0, 0x07}, 13_000), dst[512:]) // 81 to the right, again and again
	for _, c := range []struct {
		name  string
		data  []byte
		cause error
		at    int64
		says  string
	}{
		{"cut.dst", dst[:512+3*40+1], stitchfile.ErrTruncated, 512 + 3*40,
			"DST: byte 632: file is cut short: expected a further record or the end record; 38 stitches were read, 40 of the 322 records that the header counts, in 1 of 3 colour blocks"},
		{"cut.jef", jef[:400], stitchfile.ErrTruncated, 400,
			"JEF: byte 400: file is cut short: expected a further stitch or the end mark 80 10; 116 stitches were read, in 2 of 3 colour blocks"},
		{"code.pec", slices.Concat(pec[:stop+1], []byte{0x17}, pec[stop+2:]), stitchfile.ErrCorrupt, int64(stop),
			fmt.Sprintf("PEC: byte %d: file is damaged: unknown code fe 17, expected fe b0; 57 stitches were read, in 1 of 3 colour blocks", stop)},
		{"far.dst", far, stitchfile.ErrCorrupt, 512 + 3*12_345,
			"DST: byte 37547: file is damaged: the position runs beyond 100 m; 12345 stitches were read, 12345 of the 322 records that the header counts, in 1 of 3 colour blocks"},
	} {
		d, err := (&stitchfile.Decoder{Name: c.name}).DecodeBytes(c.data)
		var fe *stitchfile.FormatError
		if d == nil || !errors.As(err, &fe) {
			t.Errorf("%s: %v, %v", c.name, d, err)
			continue
		}
		if fe.Cause != c.cause || fe.Offset != c.at || err.Error() != c.says {
			t.Errorf("%s: byte %d\n got %q\nwant %q", c.name, fe.Offset, err, c.says)
		}
	}
}
