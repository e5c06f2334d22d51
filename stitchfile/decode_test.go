package stitchfile_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// errorTest is bytes that give no design, and what is said of them.
type errorTest struct {
	name   string
	data   []byte
	cause  error
	format string
	offset int64
}

// strangers are no stitch files, or no more than the beginning of one.
var strangers = []errorTest{
	{"empty", nil, stitchfile.ErrEmpty, "", 0},
	{"prose", []byte("Dear quilter, thank you for buying this block. Enjoy it and come again."), stitchfile.ErrUnknown, "", 0},
	{"picture", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), stitchfile.ErrUnknown, "", 0},
	{"header only begun", []byte("LA:block"), stitchfile.ErrTruncated, "DST", 8},
}

// is reports whether an error is the one that the test wants.
func (c errorTest) is(err error) bool {
	var fe *stitchfile.FormatError
	return errors.Is(err, c.cause) && errors.As(err, &fe) && fe.Format == c.format && fe.Offset == c.offset
}

func TestDecodeErrors(t *testing.T) {
	for _, c := range strangers {
		if d, err := stitchfile.Decode(bytes.NewReader(c.data)); d != nil || !c.is(err) {
			t.Errorf("%s: %v, %v", c.name, d, err)
		}
	}
}

// Noise of any length passes for no format, EXP least of all.
func TestNoiseIsUnknown(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{4, 8, 16, 32, 64, 128, 1024} {
		taken := 0
		for range 500 {
			data := make([]byte, n)
			for i := range data {
				data[i] = byte(rng.UintN(256))
			}
			if d, _ := new(stitchfile.Decoder).DecodeBytes(data); d != nil {
				taken++
			}
		}
		// A short stream that happens to hold a command cannot be told from EXP.
		if taken > 15 {
			t.Errorf("%d bytes of noise: %d of 500 were read as a design", n, taken)
		}
	}
}

func TestDecoderMaxBytes(t *testing.T) {
	dec := stitchfile.Decoder{MaxBytes: 100}
	if _, err := dec.Decode(bytes.NewReader(make([]byte, 101))); !errors.Is(err, stitchfile.ErrTooLarge) {
		t.Errorf("101 bytes of 100: %v", err)
	}
}

// Three jumps in a row between two stitches are a cut (common practice, no
// single source); how many it takes is the owner's setting.
func TestTrimJumps(t *testing.T) {
	var b stitchtest.Builder
	b.Run(stitchtest.Line(stitchtest.Point{}, stitchtest.Point{X: 10}), 2)
	b.JumpTo(stitchtest.Point{X: 50}).Run(stitchtest.Line(stitchtest.Point{X: 50}, stitchtest.Point{X: 60}), 2)
	data, err := stitchtest.Encode("DST", b.Design())
	if err != nil {
		t.Fatal(err)
	}
	for jumps, want := range map[int]int{0: 1, 3: 1, 4: 1, 5: 0, -1: 0} {
		d, err := (&stitchfile.Decoder{TrimJumps: jumps}).DecodeBytes(data)
		if err != nil {
			t.Fatal(err)
		}
		if got := d.Counts().Trims; got != want {
			t.Errorf("%d jumps for a trim: %d trims, want %d", jumps, got, want)
		}
	}
}

func ExampleDecode() {
	var b stitchtest.Builder
	b.Name = "square"
	b.Run(stitchtest.Rect(stitchtest.Point{}, 20, 20), 2)
	data, _ := stitchtest.Encode("DST", b.Design())

	d, err := stitchfile.Decode(bytes.NewReader(data))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.Format, d.Name, d.Counts().Stitches)
	// Output: DST square 41
}
