package stitchfile_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"slices"
	"testing"
	"testing/iotest"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// stated is what the header of each format states.
var stated = map[string]struct{ name, stops, records, size bool }{
	"DSB": {true, true, true, true},
	"DST": {true, true, true, true},
	"EXP": {},
	"HUS": {false, true, true, true},
	"JEF": {false, true, false, true},
	"KSM": {true, true, true, true},
	"PCS": {false, false, true, false},
	"PEC": {true, true, false, true},
	"PES": {true, true, false, false}, // version 1, whose size is that of its canvas
	"SEW": {false, true, false, false},
	"U01": {false, false, true, true},
	"VIP": {false, true, true, true},
	"VP3": {false, true, true, false},
	"XXX": {false, true, true, false},
}

// counted is an input that cannot seek, and counts what is read of it.
type counted struct {
	r io.Reader
	n int
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += n
	return n, err
}

// seeking is counted, and can seek.
type seeking struct {
	counted
	io.Seeker
}

func newSeeking(data []byte) *seeking {
	r := bytes.NewReader(data)
	return &seeking{counted{r: r}, r}
}

// Each header tells what the format can state, and that is the truth of the
// design; of everything else nothing is told. A large design costs no more.
func TestDecodeConfig(t *testing.T) {
	small, big := sampler(), large()
	big.Name = "large"
	for _, format := range stitchtest.Formats() {
		for _, want := range []*stitchfile.Design{small, big} {
			data := encode(t, format, want)
			dec := stitchfile.Decoder{Name: "x." + format}
			in := newSeeking(data)
			c, err := dec.DecodeConfig(in)
			if err != nil || c.Format != format {
				t.Errorf("%s: %+v, %v", format, c, err)
				continue
			}
			if in.n > stitchfile.MaxConfigBytes || want == big && (in.n >= len(data) || len(data) < stitchfile.MaxConfigBytes) {
				t.Errorf("%s: %d of %d bytes were read", format, in.n, len(data))
			}
			say, known := stated[format], c.Claims
			if got := c.Name != ""; got != say.name || got && c.Name != want.Name {
				t.Errorf("%s: name %q of %q", format, c.Name, want.Name)
			}
			if got := known.ColourStops >= 0; got != say.stops || got && known.ColourStops != want.Counts().ColourStops {
				t.Errorf("%s: %d colour stops of %d", format, known.ColourStops, want.Counts().ColourStops)
			}
			if got := known.Records >= 0; got != say.records || got && known.Records < want.Counts().Stitches {
				t.Errorf("%s: %d records for %d stitches", format, known.Records, want.Counts().Stitches)
			}
			box, _ := want.Bounds()
			w, h, got := c.Size()
			if got != say.size || got && math.Abs(w-float64(box.Width())/10)+math.Abs(h-float64(box.Height())/10) > 0.3 {
				t.Errorf("%s: %v by %v mm for %+v", format, w, h, box)
			}
			if known.Stitches != -1 {
				t.Errorf("%s: %d stitches, of which no header speaks", format, known.Stitches)
			}

			// Without seeking these say as much, since nothing stands far off.
			in = newSeeking(data)
			if again, err := dec.DecodeConfig(&in.counted); err != nil || again != c {
				t.Errorf("%s without seeking: %+v, %v; want %+v", format, again, err, c)
			}
			design, err := dec.DecodeBytes(data)
			if err != nil {
				t.Fatal(format, err)
			}
			agrees(t, c, design)
		}
	}
}

// The first bytes of a long file show its format as well as the whole of it, without
// a name too where the whole needs none.
func TestDecodeConfigUnnamed(t *testing.T) {
	for _, format := range stitchtest.Formats() {
		data := encode(t, format, large())
		d, _ := new(stitchfile.Decoder).DecodeBytes(data)
		c, err := stitchfile.DecodeConfig(bytes.NewReader(data))
		if d == nil || err != nil || c.Format != d.Format {
			t.Errorf("%s: %s, %v; the full reading says %+v", format, c.Format, err, d)
		}
	}
	bare := encode(t, "DST", large())
	copy(bare, "XX:")
	if c, err := stitchfile.DecodeConfig(bytes.NewReader(bare)); err != nil || c.Format != "DST" || c.Name != "" || c.Claims.ColourStops != 1 {
		t.Errorf("DST without its mark: %+v, %v", c, err)
	}
}

// agrees holds a Config to what the full reading took from the header.
func agrees(t *testing.T, c stitchfile.Config, d *stitchfile.Design) {
	t.Helper()
	if c.Format != d.Format || c.Name != "" && c.Name != d.Name {
		t.Errorf("%s %q is decoded as %s %q", c.Format, c.Name, d.Format, d.Name)
	}
	for _, f := range [][2]int{
		{c.Claims.Records, d.Claims.Records}, {c.Claims.Stitches, d.Claims.Stitches}, {c.Claims.ColourStops, d.Claims.ColourStops},
		{c.Claims.Width, d.Claims.Width}, {c.Claims.Height, d.Claims.Height},
	} {
		if f[0] != -1 && f[0] != f[1] {
			t.Errorf("%s: %+v, the full reading has %+v", c.Format, c.Claims, d.Claims)
			return
		}
	}
}

func TestDecodeConfigErrors(t *testing.T) {
	hus := encode(t, "HUS", tiny())
	pes := encode(t, "PES", tiny())
	astray := slices.Clone(pes)
	binary.LittleEndian.PutUint32(astray[8:], 1<<30)
	blockless := append(slices.Clone(pes[:22]), make([]byte, 2000)...)
	for _, c := range append(slices.Clone(strangers), []errorTest{
		{"HUS header cut", hus[:41], stitchfile.ErrTruncated, "HUS", 41},
		{"PES header cut", pes[:11], stitchfile.ErrTruncated, "PES", 11},
		{"PES block cut", pes[:22+531], stitchfile.ErrTruncated, "PES", 22 + 531},
		{"PES block past the end", astray, stitchfile.ErrTruncated, "PES", 8},
		{"PES without a block", blockless, stitchfile.ErrCorrupt, "PES", 8},
		{"PEC mark alone", []byte("#PEC0001"), stitchfile.ErrTruncated, "PEC", 8},
		{"PEC mark cut", []byte("#PEC"), stitchfile.ErrTruncated, "PEC", 4},
		{"VP3 summary cut", encode(t, "VP3", tiny())[:40], stitchfile.ErrTruncated, "VP3", 40},
	}...) {
		got, err := stitchfile.DecodeConfig(bytes.NewReader(c.data))
		if !c.is(err) {
			t.Errorf("%s: %v", c.name, err)
		}
		if want := (stitchfile.Config{Format: c.format, Claims: stitchfile.NoClaims}); got != want {
			t.Errorf("%s: %+v, want %+v", c.name, got, want)
		}
	}
	broken := errors.New("the disk is gone")
	if _, err := stitchfile.DecodeConfig(iotest.ErrReader(broken)); err != broken {
		t.Errorf("an input that fails: %v", err)
	}
}

// farPES is a PES of version 1 whose design part pushes the block far back.
func farPES(t *testing.T, by int) []byte {
	pes := encode(t, "PES", pecSample())
	binary.LittleEndian.PutUint32(pes[8:], uint32(22+by))
	return slices.Insert(pes, 22, make([]byte, by)...)
}

// unseekable says that it can seek, and cannot, as a pipe does.
type unseekable struct{ io.Reader }

func (unseekable) Seek(int64, int) (int64, error) { return 0, errors.ErrUnsupported }

// failing reads on to a place, and fails behind it.
type failing struct {
	*bytes.Reader
	err error
}

func (f failing) Read(p []byte) (int, error) {
	if f.Size()-int64(f.Len()) > 16<<10 {
		return 0, f.err
	}
	return f.Reader.Read(p)
}

// A block out of the first bytes is found by seeking, whether it stands where it
// is said to or near by, and without that is not known.
func TestDecodeConfigFarBlock(t *testing.T) {
	const far = 200_000
	data := farPES(t, far)
	found := stitchfile.Config{Format: "PES", Name: "leaf", Claims: stitchfile.NoClaims}
	found.Claims.ColourStops = 1
	unknown := stitchfile.Config{Format: "PES", Claims: stitchfile.NoClaims}
	near, astray := slices.Clone(data), slices.Clone(data)
	binary.LittleEndian.PutUint32(near[8:], far+22-4000)
	binary.LittleEndian.PutUint32(astray[8:], far/2)
	broken := errors.New("the disk is gone")

	for _, c := range []struct {
		name string
		in   io.Reader
		want stitchfile.Config
		err  error
	}{
		{"seeking", bytes.NewReader(data), found, nil},
		{"seeking, block near by", bytes.NewReader(near), found, nil},
		{"seeking, no block near by", bytes.NewReader(astray), unknown, stitchfile.ErrCorrupt},
		{"seeking, file cut short", bytes.NewReader(data[:far]), unknown, stitchfile.ErrTruncated},
		{"seeking, then failing", failing{bytes.NewReader(data), broken}, unknown, broken},
		{"not seeking", &counted{r: bytes.NewReader(data)}, unknown, nil},
		{"a pipe", unseekable{bytes.NewReader(data)}, unknown, nil},
	} {
		got, err := stitchfile.DecodeConfig(c.in)
		if got != c.want || !errors.Is(err, c.err) {
			t.Errorf("%s: %+v, %v; want %+v, %v", c.name, got, err, c.want, c.err)
		}
	}

	// An input may begin in the midst of a larger one.
	in := bytes.NewReader(append(make([]byte, 777), data...))
	if _, err := in.Seek(777, io.SeekStart); err != nil {
		t.Fatal(err)
	}
	if got, err := stitchfile.DecodeConfig(in); got != found || err != nil {
		t.Errorf("from byte 777: %+v, %v", got, err)
	}
}

// Of a PES whose texts hold another name than its block, that of the texts goes
// before; where they cannot be read to their end neither is told.
func TestDecodeConfigTexts(t *testing.T) {
	for _, c := range []struct {
		name    string
		comment int // bytes
		want    string
	}{
		{"short texts", 100, "garden"},
		{"a comment past the first bytes", 30_000, ""},
	} {
		data := farPES(t, 40_000)
		texts := append([]byte("\x06garden\x00\x00\x00\xFF"), byte(c.comment), byte(c.comment>>8))
		copy(data, "#PES0040")
		copy(data[16:], append(texts, bytes.Repeat([]byte{'x'}, c.comment)...))
		got, err := stitchfile.DecodeConfig(bytes.NewReader(data))
		if err != nil || got.Name != c.want || got.Claims.ColourStops != 1 {
			t.Errorf("%s: %+v, %v", c.name, got, err)
		}
	}
}

// The counts of a VP3 stand behind texts that may be longer than what is read.
func TestDecodeConfigLongTexts(t *testing.T) {
	d := tiny()
	for _, c := range []struct{ length, stops int }{{1000, 1}, {9000, -1}} {
		d.Comments = string(bytes.Repeat([]byte{'x'}, c.length))
		got, err := stitchfile.DecodeConfig(bytes.NewReader(encode(t, "VP3", d)))
		if err != nil || got.Format != "VP3" || got.Claims.ColourStops != c.stops || (got.Claims.Records >= 0) != (c.stops >= 0) {
			t.Errorf("a comment of %d letters: %+v, %v", c.length, got, err)
		}
	}
}
