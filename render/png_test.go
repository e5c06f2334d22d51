package render

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/adler32"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"testing"
)

// Pictures come back as image/png writes and reads them, with lines that repeat, lines
// that do not, and more of them than one strip has.
func TestEncodePNG(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, size := range []image.Point{{1, 1}, {7, 3}, {40, pngStripRows}, {33, pngStripRows + 1}, {5, 3*pngStripRows - 2}} {
		for _, opaque := range []bool{true, false} {
			t.Run(fmt.Sprint(size, opaque), func(t *testing.T) {
				whole := image.NewRGBA(image.Rect(-3, -2, size.X+4, size.Y+9))
				for y := whole.Rect.Min.Y; y < whole.Rect.Max.Y; y++ {
					for x := whole.Rect.Min.X; x < whole.Rect.Max.X; x++ {
						c := color.NRGBA{uint8(rnd.Uint32()), uint8(x), uint8(y), 255}
						if y/3%2 == 0 {
							c.R, c.B = 9, 9 // like the line above
						}
						if !opaque {
							c.A = uint8(max(0, 64*(x+y)%320-1))
						}
						whole.Set(x, y, c)
					}
				}
				img := whole.SubImage(image.Rectangle{Max: size}).(*image.RGBA)
				var ours, theirs bytes.Buffer
				if err := EncodePNG(&ours, img, 300); err != nil {
					t.Fatal(err)
				}
				if err := png.Encode(&theirs, img); err != nil {
					t.Fatal(err)
				}
				samePixels(t, ours.Bytes(), theirs.Bytes())
				// 300 dpi are 11811 pixels a metre (PNG specification, pHYs).
				if phys := ours.Bytes()[33:]; string(phys[4:8]) != "pHYs" || binary.BigEndian.Uint32(phys[8:]) != 11811 || binary.BigEndian.Uint32(phys[12:]) != 11811 || phys[16] != 1 {
					t.Errorf("pHYs is % x", phys[:21])
				}
			})
		}
	}
}

// Pixels a metre are dpi / 0.0254, rounded, for other resolutions too.
func TestPixelsAMetre(t *testing.T) {
	for dpi, want := range map[float64]uint32{72: 2835, 96: 3780, 100: 3937, 150: 5906, 200: 7874, 254: 10000, 300: 11811, 360: 14173, 600: 23622} {
		var b bytes.Buffer
		if err := EncodePNG(&b, image.NewRGBA(image.Rect(0, 0, 2, 2)), dpi); err != nil {
			t.Fatal(err)
		}
		if got := binary.BigEndian.Uint32(b.Bytes()[41:]); got != want {
			t.Errorf("%v dpi: %d pixels a metre, want %d", dpi, got, want)
		}
	}
}

func samePixels(t *testing.T, a, b []byte) {
	t.Helper()
	p, err := png.Decode(bytes.NewReader(a))
	if err != nil {
		t.Fatal(err)
	}
	q, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if p.Bounds() != q.Bounds() {
		t.Fatalf("%v, not %v", p.Bounds(), q.Bounds())
	}
	for y := range p.Bounds().Dy() {
		for x := range p.Bounds().Dx() {
			if p.At(x, y) != q.At(x, y) {
				t.Fatalf("%d %d: %v, not %v", x, y, p.At(x, y), q.At(x, y))
			}
		}
	}
}

func TestEncodePNGOfOtherPictures(t *testing.T) {
	img := image.NewPaletted(image.Rect(2, 2, 9, 9), color.Palette{color.White, color.RGBA{200, 10, 10, 255}})
	img.SetColorIndex(4, 5, 1)
	var b, c bytes.Buffer
	rgba := image.NewRGBA(img.Rect)
	for y := 2; y < 9; y++ {
		for x := 2; x < 9; x++ {
			rgba.Set(x, y, img.At(x, y))
		}
	}
	if err := EncodePNG(&b, img, 96); err != nil {
		t.Fatal(err)
	}
	if err := EncodePNG(&c, rgba, 96); err != nil || !bytes.Equal(b.Bytes(), c.Bytes()) {
		t.Error("a picture with a palette is not written as its pixels are", err)
	}
	if EncodePNG(&b, image.NewRGBA(image.Rect(0, 0, 0, 4)), 96) == nil {
		t.Error("a picture without pixels has no error")
	}
}

func TestJoinAdler(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		a, b := make([]byte, rnd.IntN(200_000)), make([]byte, rnd.IntN(200_000))
		for _, s := range [][]byte{a, b} {
			for i := range s {
				s[i] = byte(rnd.Uint32() | 0xf0)
			}
		}
		if got, want := joinAdler(adler32.Checksum(a), adler32.Checksum(b), len(b)), adler32.Checksum(append(a, b...)); got != want {
			t.Fatalf("%d and %d bytes: %08x, not %08x", len(a), len(b), got, want)
		}
	}
}

func BenchmarkEncodePNG(b *testing.B) {
	// Thread as it lies: lines in a few shades, aslant.
	img := image.NewRGBA(image.Rect(0, 0, 2000, 2000))
	for i := range img.Pix {
		x, y := i/4%2000, i/8000
		img.Pix[i] = uint8(100 + 30*((x+y/3)/4%5) + i%4*(x/200))
		if i%4 == 3 {
			img.Pix[i] = 255
		}
	}
	for _, e := range []struct {
		name   string
		encode func(*bytes.Buffer) error
	}{
		{"ours", func(w *bytes.Buffer) error { return EncodePNG(w, img, 300) }},
		{"library", func(w *bytes.Buffer) error {
			return (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(w, img)
		}},
	} {
		b.Run(e.name, func(b *testing.B) {
			var w bytes.Buffer
			for b.Loop() {
				w.Reset()
				if err := e.encode(&w); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(w.Len()), "bytes")
		})
	}
}
