package stitchfile_test

import (
	"errors"
	"image/color"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// sampler has runs, satin, a cut, three colours and stitches at the limits.
func sampler() *stitchfile.Design {
	var b stitchtest.Builder
	b.Name = "sampler"
	b.Thread(color.RGBA{255, 0, 0, 255}, "red").Run(stitchtest.Rect(stitchtest.Point{}, 30, 20), 2.5).Trim()
	b.Run(stitchtest.Circle(stitchtest.Point{X: 5, Y: 1}, 4), 1.7).Stop()
	b.Thread(color.RGBA{0, 0, 0, 255}, "black").Satin(stitchtest.Circle(stitchtest.Point{}, 8), stitchtest.SatinAlong{Width: 4, Pitch: 0.4}).Stop()
	b.Thread(color.RGBA{255, 255, 0, 255}, "yellow").StitchTo(stitchtest.Point{X: 12}).StitchTo(stitchtest.Point{Y: 12}).StitchTo(stitchtest.Point{X: -6, Y: 0.1})
	return b.Design()
}

// needle gives the needle points from the first, and where the stops fall.
func needle(d *stitchfile.Design) (points [][2]int32, stops []int) {
	var x, y int32
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.Stitch:
			if len(points) == 0 {
				x, y = m.X, m.Y
			}
			points = append(points, [2]int32{m.X - x, m.Y - y})
		case stitchfile.ColourStop:
			stops = append(stops, len(points))
		}
	}
	return points, stops
}

// One design reads the same from every format.
func TestRoundTrip(t *testing.T) {
	want := sampler()
	points, stops := needle(want)
	if diff := cmp.Diff(stitchfile.Names(), stitchtest.Formats()); diff != "" {
		t.Errorf("formats read and encoded (-read +encoded):\n%s", diff)
	}
	for _, format := range stitchtest.Formats() {
		data, err := stitchtest.Encode(format, want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(data)
		if err != nil {
			t.Errorf("%s: %v", format, err)
			continue
		}
		p, s := needle(got)
		if diff := cmp.Diff(points, p); diff != "" {
			t.Errorf("%s: needle points (-want +got):\n%s", format, diff)
		}
		trims := 1
		if slices.Contains(cutless, format) {
			trims = 0
		}
		if !slices.Equal(s, stops) || got.Counts().Trims != trims || got.Format != format {
			t.Errorf("%s: read as %s, stops at %v, want %v; %d trims, want %d", format, got.Format, s, stops, got.Counts().Trims, trims)
		}
		again, err := stitchtest.Encode(format, got)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(again)
		if err != nil {
			t.Fatal(err)
		}
		if q, _ := needle(twice); !slices.Equal(q, p) {
			t.Errorf("%s: encoding what was read changes the needle points", format)
		}
	}
}

// Files are known by their content; those of two formats alone need a name that
// says no more than nothing to the contrary.
func TestRecognition(t *testing.T) {
	needName := []string{"EXP", "SEW"}
	for _, format := range stitchtest.Formats() {
		for _, design := range []*stitchfile.Design{sampler(), pecSample()} {
			data := encode(t, format, design)
			for _, name := range append([]string{"", "x.bin", "X." + format}, stitchtest.Formats()...) {
				if slices.Contains(stitchtest.Formats(), name) {
					name = "x." + strings.ToLower(name)
				}
				d, err := (&stitchfile.Decoder{Name: name}).DecodeBytes(data)
				known := name == "" || strings.EqualFold(name, "x."+format) || !slices.Contains(needName, format)
				switch {
				case known && (err != nil || d.Format != format):
					t.Errorf("%s named %q: %v, %v", format, name, d, err)
				case !known && !errors.Is(err, stitchfile.ErrUnknown):
					t.Errorf("%s named %q: %v", format, name, err)
				}
			}
		}
	}
}

// cutless formats have no way known to say that the thread is cut.
var cutless = []string{"KSM", "PCS", "SEW"}

// endless formats need not have an end mark, so that a warning is the most they
// can give for a file cut short.
var endless = []string{"EXP", "KSM", "SEW"}

// A file cut anywhere never passes silently for a whole one, and never panics.
func TestTruncation(t *testing.T) {
	for name, design := range map[string]*stitchfile.Design{"tiny": tiny(), "sampler": sampler()} {
		want := len(mustPoints(design))
		for _, format := range stitchtest.Formats() {
			data := encode(t, format, design)
			step := 1
			if name == "sampler" {
				step = 7 // what the tiny one shows at every byte
			}
			for n := 0; n < len(data); n += step {
				d, err := (&stitchfile.Decoder{Name: "x." + format}).DecodeBytes(data[:n])
				if err != nil {
					var fe *stitchfile.FormatError
					if !errors.As(err, &fe) || fe.Offset > int64(n) {
						t.Fatalf("%s %s cut at %d: %v", format, name, n, err)
					}
					continue
				}
				if len(mustPoints(d)) < want && (len(d.Warnings) == 0 || !slices.Contains(endless, format)) {
					t.Fatalf("%s %s cut at %d: %d of %d stitches and not a word", format, name, n, len(mustPoints(d)), want)
				}
			}
		}
	}
}

func mustPoints(d *stitchfile.Design) [][2]int32 {
	p, _ := needle(d)
	return p
}

// deltas undoes the sums, so that records can be compared with a description.
func deltas(d *stitchfile.Design) []stitchfile.Move {
	var x, y int32
	var out []stitchfile.Move
	for _, m := range d.Moves {
		out = append(out, stitchfile.Move{X: m.X - x, Y: m.Y - y, Kind: m.Kind})
		x, y = m.X, m.Y
	}
	return out
}

const (
	s = stitchfile.Stitch
	j = stitchfile.Jump
	c = stitchfile.ColourStop
	k = stitchfile.Trim
	e = stitchfile.End
)

// The EXP rectangle is the dump of a format note from the old file-format
// archives: 38.1 x 25.4 mm in two colours, closing on itself. The JEF and DST
// records follow the EduTech wiki (University of Geneva) pages on those formats;
// A8 12 23 is that text's own example.
func TestWorkedRecords(t *testing.T) {
	dst := func(body ...byte) []byte {
		data, err := stitchtest.Encode("DST", &stitchfile.Design{})
		if err != nil {
			t.Fatal(err)
		}
		return append(data[:512:512], append(body, 0, 0, 0xF3)...)
	}
	jef := func(body ...byte) []byte {
		data, err := stitchtest.Encode("JEF", &stitchfile.Design{Moves: []stitchfile.Move{{Kind: c}}})
		if err != nil {
			t.Fatal(err)
		}
		return append(data[:132:132], body...)
	}
	for _, test := range []struct {
		name string
		data []byte
		want []stitchfile.Move
	}{
		{"EXP rectangle.exp",
			[]byte{0, 0x7F, 0, 0x7F, 0x7F, 0, 0x80, 2, 0x7F, 0, 0x7F, 0, 0x80, 1, 0, 0x81, 0, 0x81, 0x81, 0, 0x80, 2, 0x81, 0, 0x81, 0},
			[]stitchfile.Move{{0, 127, s, 0}, {0, 127, s, 0}, {127, 0, s, 0}, {127, 0, j, 0}, {127, 0, s, 0}, {Kind: c}, {0, -127, j, 0}, {0, -127, s, 0}, {-127, 0, s, 0}, {-127, 0, j, 0}, {-127, 0, s, 0}, {Kind: e}}},
		{"DST records.dst", dst(0xA8, 0x12, 0x23, 0, 0, 3, 0x81, 0, 3, 0x42, 0, 3, 0x45, 0x40, 3, 5, 0x55, 3, 0xA5, 0xA5, 0x27, 0x5A, 0x5A, 0x1B, 0, 0, 0xC3),
			[]stitchfile.Move{{-12, 64, s, 0}, {0, 0, s, 0}, {1, 1, s, 0}, {-1, -1, s, 0}, {10, -4, s, 0}, {40, -30, s, 0}, {121, 121, s, 0}, {-121, -121, s, 0}, {Kind: c}, {Kind: e}}},
		{"DST net-zero jumps.dst", dst(0x81, 0, 3, 0x42, 0x81, 0x83, 0x42, 0x42, 0x83, 0x42, 0x81, 0x83, 0x81, 0, 3),
			[]stitchfile.Move{{1, 1, s, 0}, {0, 0, k, 0}, {2, 2, j, 0}, {-4, -4, j, 0}, {2, 2, j, 0}, {1, 1, s, 0}, {Kind: e}}},
		{"JEF records.jef", jef(0x0A, 0xF6, 0x80, 2, 0x7F, 0x81, 0x80, 2, 0, 0, 0x80, 1, 0, 0, 0x80, 0x10),
			[]stitchfile.Move{{10, -10, s, 0}, {127, -127, j, 0}, {0, 0, k, 0}, {Kind: c}, {Kind: e}}},
	} {
		d, err := (&stitchfile.Decoder{Name: test.name}).DecodeBytes(test.data)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if diff := cmp.Diff(test.want, deltas(d)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// A large design: some 50,000 stitches of satin, and a fill.
func large() *stitchfile.Design {
	var b stitchtest.Builder
	for range 40 {
		b.Satin(stitchtest.Circle(stitchtest.Point{}, 40), stitchtest.SatinAlong{Width: 4, Pitch: 0.4})
	}
	b.Stop().Fill(stitchtest.Rect(stitchtest.Point{}, 60, 60), 0.4, 2.5, 0.3)
	return b.Design()
}

func BenchmarkDecode(b *testing.B) {
	design := large()
	for _, format := range stitchtest.Formats() {
		data := encode(b, format, design)
		b.Run(format, func(b *testing.B) {
			dec := stitchfile.Decoder{Name: "x." + format}
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			moves := 0
			for b.Loop() {
				d, err := dec.DecodeBytes(data)
				if err != nil {
					b.Fatal(err)
				}
				moves += len(d.Moves)
			}
			b.ReportMetric(float64(moves)/b.Elapsed().Seconds()/1e6, "Mmoves/s")
		})
	}
}
