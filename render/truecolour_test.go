package render

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// filled is ground covered with one thread, laid at an angle, close enough that no
// cloth shows; half is half the thread's width in pixels.
func filled(c color.RGBA, degrees, half float64) words.Lab {
	const side = 160
	img := image.NewRGBA(image.Rect(0, 0, side, side))
	box(img, img.Rect, c) // the threads below
	p := threadPainter{img: img, half: half}
	p.dress(c)
	s, co := math.Sincos(degrees * math.Pi / 180)
	for off := -120.0; off < 120; off += 2 * half * 0.85 {
		x, y := side/2-off*s, side/2+off*co
		p.stitch(x-160*co, y-160*s, x+160*co, y+160*s)
	}
	// The mean of light, as an eye two steps away sees it.
	var sum [3]float64
	n := 0
	for y := 30; y < side-30; y++ {
		for x := 30; x < side-30; x++ {
			q := img.RGBAAt(x, y)
			for k, v := range [3]uint8{q.R, q.G, q.B} {
				sum[k] += float64(v)
			}
			n++
		}
	}
	mean := func(k int) uint8 { return uint8(sum[k]/float64(n) + 0.5) }
	return words.LabOf(color.RGBA{mean(0), mean(1), mean(2), 255})
}

// One thread is one colour: filled ground lies within dE 4 of the file's colour,
// and within 8 in lightness of the same thread in any other direction.
func TestThreadsAreTrueToColour(t *testing.T) {
	colours := []color.RGBA{{255, 255, 255, 255}, {0, 0, 0, 255}, {20, 71, 67, 255}, {255, 178, 63, 255}, {180, 75, 100, 255}, {238, 227, 186, 255}, {255, 0, 0, 255}, {0, 0, 255, 255}, {255, 255, 0, 255}, {106, 106, 175, 255}, {0, 128, 0, 255}, {128, 128, 128, 255}}
	for _, c := range colours {
		want := words.LabOf(c)
		for _, half := range []float64{0.6, 1.5, 4} {
			lo, hi := 100.0, 0.0
			for deg := 0.0; deg < 180; deg += 15 {
				got := filled(c, deg, half)
				if e := words.CIEDE2000(got, want); e > 4 {
					t.Errorf("%v at %.0f degrees, %.1f pixels: dE %.1f", c, deg, half, e)
				}
				lo, hi = min(lo, got.L), max(hi, got.L)
			}
			if hi-lo > 8 {
				t.Errorf("%v, %.1f pixels: L* from %.1f to %.1f by direction", c, half, lo, hi)
			}
		}
	}
}

// A thread still reads as thread: its middle is lighter than its edge, and its
// direction shows.
func TestThreadsReadAsThread(t *testing.T) {
	for _, c := range []color.RGBA{{20, 71, 67, 255}, {255, 178, 63, 255}, {128, 128, 128, 255}} {
		var p threadPainter
		p.half = 4
		p.dress(c)
		l := func(i, j int) float64 { return words.LabOf(unpack(p.colour[i][j])).L }
		if l(12, tones-1)-l(12, 0) < 10 {
			t.Errorf("%v: edge %.1f, middle %.1f", c, l(12, 0), l(12, tones-1))
		}
		if d := l(shades-1, 4) - l(0, 4); d < 3 || d > 8 {
			t.Errorf("%v: %.1f by direction", c, d)
		}
	}
}

// A loose thread shows where the machine leaves it, and none where it is cut.
func TestLooseThreadsAreDrawn(t *testing.T) {
	two := func(trim bool) *stitchfile.Design {
		var b stitchtest.Builder
		b.Thread(color.RGBA{20, 20, 90, 255}, "").Run(stitchtest.Line(stitchtest.Point{X: -30}, stitchtest.Point{X: -20}), 2)
		if trim {
			b.Trim()
		}
		b.JumpTo(stitchtest.Point{X: 20})
		b.Run(stitchtest.Line(stitchtest.Point{X: 20}, stitchtest.Point{X: 30}), 2)
		return b.Design()
	}
	for _, trim := range []bool{false, true} {
		d := two(trim)
		r := mustRun(d, report.DefaultSettings())
		img := Thread(d, r, ThreadOptions{Width: 600, Height: 100})
		shown := contrast(img.RGBAAt(300, 50), Cloth) > 3
		n, mm := looseThreads(d, r)
		if shown == trim || (n == 1) == trim || !trim && math.Abs(mm-42) > 0.2 {
			t.Errorf("trimmed %v: shown %v, %d threads of %.1f mm", trim, shown, n, mm)
		}
		told := 0
		for _, f := range r.Findings {
			if f.Rule == "untrimmed-jump" {
				told++
			}
		}
		if told != n {
			t.Errorf("trimmed %v: %d findings and %d threads", trim, told, n)
		}
	}
}

// Pale threads lie on a ground that they stand out from; others on the usual cloth.
func TestGroundContrasts(t *testing.T) {
	for _, c := range []struct {
		threads []color.RGBA
		want    string
	}{
		{[]color.RGBA{{255, 255, 255, 255}}, "slate"},
		{[]color.RGBA{{250, 245, 225, 255}, {20, 20, 20, 255}}, "slate"},
		{[]color.RGBA{{20, 20, 120, 255}}, "cloth"},
		{[]color.RGBA{{250, 250, 250, 255}, {110, 122, 134, 255}}, "dark"},
		{nil, "cloth"},
	} {
		r := &report.Report{}
		for _, q := range c.threads {
			r.Stops = append(r.Stops, report.Stop{Number: len(r.Stops) + 1, SewnMM: 100, Thread: stitchfile.Thread{Colour: q}})
		}
		name, ground := groundFor(r)
		if name != c.want {
			t.Errorf("%v: %s, want %s", c.threads, name, c.want)
		}
		for _, q := range c.threads {
			if contrast(q, ground) < groundContrast {
				t.Errorf("%v is lost on %s", q, name)
			}
		}
	}
}
