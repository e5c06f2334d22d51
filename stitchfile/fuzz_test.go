package stitchfile_test

import (
	"errors"
	"reflect"
	"slices"
	"testing"
	"unicode/utf8"
	"unsafe"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// reach is the farthest that one byte of a format can carry the needle, in
// 0.1 mm: the largest delta of a record over the bytes it takes, rounded up.
// Formats with absolute positions, and compressed ones, are bounded otherwise.
var reach = map[string]int64{
	"DST": 41, "EXP": 64, "JEF": 64, "SEW": 64, "PES": 683, "PEC": 683, "XXX": 6554,
	"U01": 85, "DSB": 85, "KSM": 85, "VP3": 1_000_000, "PCS": 1_000_000,
}

// compressed formats can hold more moves than bytes, up to this many a byte.
var compressed = map[string]int{"HUS": 128, "VIP": 128}

// checkInvariants holds what must be so of any bytes at all.
func checkInvariants(t *testing.T, dec *stitchfile.Decoder, data []byte) {
	t.Helper()
	d, err := dec.DecodeBytes(data)
	n := int64(len(data))
	if err != nil {
		var fe *stitchfile.FormatError
		if !errors.As(err, &fe) {
			t.Fatalf("an error without a place: %v", err)
		}
		if fe.Offset < 0 || fe.Offset > n || fe.Cause == nil {
			t.Fatalf("an error outside the %d bytes: %v", n, err)
		}
	}
	if d == nil {
		if err == nil {
			t.Fatal("neither a design nor an error")
		}
		return
	}

	if k := len(d.Moves); k == 0 || d.Moves[k-1].Kind != stitchfile.End {
		t.Fatalf("the last of %d moves is no end", k)
	}
	far := min(reach[d.Format]*n, 1_000_000)
	if _, ok := compressed[d.Format]; ok {
		far = min(128*int64(len(d.Moves)), 1_000_000)
	}
	for i, m := range d.Moves {
		if int64(max(m.X, -m.X, m.Y, -m.Y)) > far {
			t.Fatalf("%s: %d bytes carry the needle to %d, %d", d.Format, n, m.X, m.Y)
		}
		if m.Kind > stitchfile.End || m.Kind == stitchfile.End && i < len(d.Moves)-1 {
			t.Fatalf("move %d is %v", i, m.Kind)
		}
	}

	size := 0
	text := func(s ...string) {
		for _, s := range s {
			size += len(s)
			if !utf8.ValidString(s) {
				t.Fatalf("text %q is not UTF-8", s)
			}
		}
	}
	text(d.Name, d.Comments)
	for _, f := range d.Fields {
		text(f.Name, f.Value)
	}
	for _, th := range d.Threads {
		text(th.Name, th.Catalogue, th.Maker)
	}
	size += cap(d.Fields)*int(unsafe.Sizeof(stitchfile.Field{})) + cap(d.Threads)*int(unsafe.Sizeof(stitchfile.Thread{}))
	for i, w := range d.Warnings {
		size += len(w.Message) + int(unsafe.Sizeof(w))
		if w.Offset < 0 || w.Offset > n || i > 0 && w.Offset < d.Warnings[i-1].Offset {
			t.Fatalf("warnings out of order or place: %v", d.Warnings)
		}
	}
	if perByte, ok := compressed[d.Format]; ok {
		if len(d.Moves) > perByte*len(data)+2 || cap(d.Moves) > 2*perByte*len(data)+64 {
			t.Fatalf("%d moves, room for %d, of %d bytes", len(d.Moves), cap(d.Moves), n)
		}
	} else {
		size += 16 * cap(d.Moves)
	}
	if size > 64*len(data)+16<<10 {
		t.Fatalf("%d bytes held for %d read", size, n)
	}
	c := d.Claims
	if min(c.Records, c.Stitches, c.ColourStops, c.Width, c.Height) < -1 {
		t.Fatalf("claims %+v", c)
	}

	again, err2 := dec.DecodeBytes(data)
	if !reflect.DeepEqual(d, again) || (err == nil) != (err2 == nil) || err != nil && err.Error() != err2.Error() {
		t.Fatalf("decoding twice differs: %v, %v\n%s", err, err2, cmp.Diff(d, again))
	}
}

// tiny has one of everything in as few records as may be.
func tiny() *stitchfile.Design {
	return &stitchfile.Design{
		Name:    "tiny",
		Threads: make([]stitchfile.Thread, 2),
		Moves: []stitchfile.Move{
			{0, 0, s, 0}, {30, 0, s, 0}, {30, 40, s, 0}, {30, 40, k, 0}, {100, 40, j, 0}, {100, 40, s, 0}, {70, 90, s, 0},
			{70, 90, c, 0}, {70, 60, s, 0}, {300, -80, s, 0}, {300, -60, s, 0}, {300, -60, e, 0},
		},
	}
}

// fuzz tries any bytes on a format's reader.
func fuzz(f *testing.F, format string) {
	for _, d := range []*stitchfile.Design{tiny(), sampler(), {}} {
		data, err := stitchtest.Encode(format, d)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
		f.Add(data[:len(data)-len(data)/4])
	}
	dec := &stitchfile.Decoder{Name: "x." + format}
	eager := &stitchfile.Decoder{Name: dec.Name, TrimJumps: 1}
	f.Fuzz(func(t *testing.T, data []byte) {
		checkInvariants(t, dec, slices.Clone(data))
		if format == "DST" { // the one format whose cuts are derived
			checkInvariants(t, eager, slices.Clone(data))
		}
	})
}

func FuzzDSB(f *testing.F) { fuzz(f, "DSB") }
func FuzzDST(f *testing.F) { fuzz(f, "DST") }
func FuzzEXP(f *testing.F) { fuzz(f, "EXP") }
func FuzzHUS(f *testing.F) { fuzz(f, "HUS") }
func FuzzJEF(f *testing.F) { fuzz(f, "JEF") }
func FuzzKSM(f *testing.F) { fuzz(f, "KSM") }
func FuzzPCS(f *testing.F) { fuzz(f, "PCS") }
func FuzzPEC(f *testing.F) { fuzz(f, "PEC") }
func FuzzPES(f *testing.F) { fuzz(f, "PES") }
func FuzzSEW(f *testing.F) { fuzz(f, "SEW") }
func FuzzU01(f *testing.F) { fuzz(f, "U01") }
func FuzzVIP(f *testing.F) { fuzz(f, "VIP") }
func FuzzVP3(f *testing.F) { fuzz(f, "VP3") }
func FuzzXXX(f *testing.F) { fuzz(f, "XXX") }
