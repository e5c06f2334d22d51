package render_test

import (
	"bytes"
	"encoding/hex"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// ring is a red ring of satin round the middle, then a blue square line.
func ring() (*stitchfile.Design, *report.Report) {
	var b stitchtest.Builder
	b.Name = "Ring \x1b[31m 環"
	b.Thread(color.RGBA{200, 20, 20, 255}, "").Satin(stitchtest.Circle(stitchtest.Point{}, 20), stitchtest.SatinAlong{Width: 6, Pitch: 0.3}).Stop()
	b.Thread(color.RGBA{20, 20, 200, 255}, "").Run(stitchtest.Rect(stitchtest.Point{}, 60, 60), 2)
	d := b.Design()
	return d, mustRun(d, report.DefaultSettings())
}

// The chunk's bytes at 300 dpi: 300/0.0254 is 11811 pixels a metre; the checksum
// is CRC-32 (PNG specification, W3C).
func TestEncodePNG(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 7, 5))
	var b bytes.Buffer
	if err := render.EncodePNG(&b, img, 300); err != nil {
		t.Fatal(err)
	}
	want, _ := hex.DecodeString("000000097048597300002E2300002E230178A53F76")
	at := bytes.Index(b.Bytes(), want)
	if at < 0 || at > bytes.Index(b.Bytes(), []byte("IDAT")) {
		t.Errorf("pHYs stands at %d", at)
	}
	if got, err := png.Decode(&b); err != nil || got.Bounds() != img.Bounds() {
		t.Errorf("read back: %v, %v", got, err)
	}
}

// strong reports whether channel i stands out in a pixel.
func strong(c color.RGBA, i int) bool {
	v := [3]uint8{c.R, c.G, c.B}
	return int(v[i]) > int(v[(i+1)%3])+60 && int(v[i]) > int(v[(i+2)%3])+60
}

func TestThread(t *testing.T) {
	d, r := ring()
	img := render.Thread(d, r, render.ThreadOptions{Width: 636})
	// 60 mm and a margin of 3 % on each side on 636 pixels: 10 pixels a mm.
	px := func(x, y float64) color.RGBA {
		return img.RGBAAt(318+int(math.Round(x*10)), 318-int(math.Round(y*10)))
	}
	if img.Bounds().Dy() != 636 {
		t.Errorf("height %d", img.Bounds().Dy())
	}
	for _, p := range [][2]float64{{20, 0}, {-20, 0}, {0, 20}, {0, -20}, {22.5, 0}, {17.5, 0}} {
		if c := px(p[0], p[1]); !strong(c, 0) {
			t.Errorf("on the ring at %v: %v", p, c)
		}
	}
	for _, p := range [][2]float64{{0, 0}, {26, 0}, {13, 0}} {
		if c := px(p[0], p[1]); c != render.Cloth {
			t.Errorf("off the ring at %v: %v", p, c)
		}
	}
	if c := px(15, 30); !strong(c, 2) {
		t.Errorf("on the line: %v", c)
	}
	first := render.Thread(d, r, render.ThreadOptions{Width: 636, Strong: 1})
	if c := first.RGBAAt(318+150, 318-300); c != render.Cloth {
		t.Errorf("a later stop is drawn with the first: %v", c)
	}
}
