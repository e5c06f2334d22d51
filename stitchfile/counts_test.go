package stitchfile_test

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// What a header counts may be left empty, or be of something else. It speaks against a
// design only where it counts more than is there, or nothing else tells the end.
func TestCountsInHeaders(t *testing.T) {
	encoded := func(format string) []byte {
		data, err := stitchtest.Encode(format, wholeSample())
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	dst, jef, vp3, pcs, u01, pes := encoded("DST"), encoded("JEF"), encoded("VP3"), encoded("PCS"), encoded("U01"), encoded("PES")
	vp3Count := func(data []byte) int { // behind the texts of the producer and of the notes, and the extents
		p := 6
		p += 2 + int(binary.BigEndian.Uint16(data[p:])) + 7
		return p + 2 + int(binary.BigEndian.Uint16(data[p:])) + 16
	}
	with := func(data []byte, at int, b ...byte) []byte {
		out := bytes.Clone(data)
		copy(out[at:], b)
		return out
	}
	little := func(data []byte, at, add int) []byte {
		out := bytes.Clone(data)
		binary.LittleEndian.PutUint32(out[at:], uint32(int(binary.LittleEndian.Uint32(out[at:]))+add))
		return out
	}
	dstEnd := bytes.LastIndex(dst, []byte{0, 0, 0xF3})
	for i := range pes { // thumbnails that are not blank
		if g := len(pes) - 228*3; i >= g && pes[i] == 0 {
			pes[i] = 0xF0
		}
	}
	pec := int(binary.LittleEndian.Uint32(pes[8:]))
	graphics := pec + 512 + int(binary.LittleEndian.Uint16(pes[pec+514:]))
	pcsRecords := int(binary.LittleEndian.Uint16(pcs[68:]))
	for _, c := range []struct {
		name, format string
		data         []byte
		whole        stitchfile.Wholeness
	}{
		{"DST that counts nothing", "DST", with(dst, 23, []byte("      0")...), stitchfile.Whole},
		{"DST that counts too few", "DST", with(dst, 23, []byte("    100")...), stitchfile.Whole},
		{"DST that counts too few, without its end", "DST", with(dst[:dstEnd], 23, []byte("    100")...), stitchfile.NotWhole},
		{"DST that counts too many", "DST", with(dst, 23, []byte("   9999")...), stitchfile.NotWhole},
		{"JEF that counts nothing", "JEF", with(jef, 28, 0, 0, 0, 0), stitchfile.Whole},
		{"JEF that counts too few", "JEF", little(jef, 28, -20), stitchfile.Whole},
		{"JEF that counts too few, without its end", "JEF", little(jef[:len(jef)-2], 28, -20), stitchfile.NotWhole},
		{"JEF that counts too many", "JEF", little(jef, 28, 20), stitchfile.NotWhole},
		{"VP3 that counts minutes", "VP3", with(vp3, vp3Count(vp3), 0, 0, 0, 12), stitchfile.Whole},
		{"VP3 with padding", "VP3", append(bytes.Clone(vp3), 0, 0, 0, 0, 0, 0, 0, 0), stitchfile.Whole},
		{"VP3 with more behind", "VP3", append(bytes.Clone(vp3), "anything else"...), stitchfile.NotWhole},
		{"PCS that counts nothing", "PCS", with(pcs, 68, 0, 0), stitchfile.NotWhole},
		{"PCS that counts too few", "PCS", with(pcs, 68, byte((pcsRecords-20)&0xFF), byte((pcsRecords-20)>>8)), stitchfile.NotWhole},
		{"PCS", "PCS", pcs, stitchfile.Whole},
		{"U01 that leaves out the end", "U01", little(u01, 0x8C, -1), stitchfile.Whole},
		{"PES cut in a thumbnail", "PES", pes[:len(pes)-1], stitchfile.NotWhole},
		{"PES with one thumbnail", "PES", pes[:graphics+228], stitchfile.Whole},
		{"PES without thumbnails", "PES", pes[:graphics], stitchfile.Whole},
		{"PES whose thumbnails are said to begin in its first colour", "PES", with(pes, pec+514, 60, 0), stitchfile.NotWhole},
	} {
		d, err := (&stitchfile.Decoder{Name: "x." + c.format}).DecodeBytes(c.data)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if d.Whole != c.whole {
			t.Errorf("%s: whole: %s, %q; want %s", c.name, d.Whole, d.WholeReasons, c.whole)
		}
		if want := wholeSample().Counts().Stitches; !strings.Contains(c.name, "said to begin") && d.Counts().Stitches != want {
			t.Errorf("%s: %d stitches of %d", c.name, d.Counts().Stitches, want)
		}
	}
}

// Records are not always moves: a cut may travel, a change may name the first needle.
func TestRecordsThatWereRead(t *testing.T) {
	for _, format := range []string{"DST", "HUS", "PCS", "U01", "DSB", "KSM"} {
		data, err := stitchtest.Encode(format, wholeSample())
		if err != nil {
			t.Fatal(err)
		}
		d, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(data)
		if err != nil {
			t.Fatal(err)
		}
		if c := d.Claims.Records; d.Records == 0 || c != d.Records && c != d.Records+1 {
			t.Errorf("%s: %d records were read, and the header counts %d", format, d.Records, c)
		}
	}
}
