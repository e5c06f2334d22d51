package render

import (
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

var update = flag.Bool("update", false, "write the golden pictures of testdata anew; look at them afterwards")

// means is a picture by the mean colour of its blocks. Rounding that differs
// from compiler to compiler hardly moves a mean; a stitch does.
func means(img *image.RGBA, size int) *image.RGBA {
	b := img.Rect
	out := image.NewRGBA(image.Rect(0, 0, b.Dx()/size, b.Dy()/size))
	for y := range out.Rect.Max.Y {
		for x := range out.Rect.Max.X {
			var sum [4]int
			for j := range size {
				for i := range size {
					at := img.PixOffset(b.Min.X+x*size+i, b.Min.Y+y*size+j)
					for k := range sum {
						sum[k] += int(img.Pix[at+k])
					}
				}
			}
			at := out.PixOffset(x, y)
			for k := range sum {
				out.Pix[at+k] = uint8(sum[k] / (size * size))
			}
		}
	}
	return out
}

// tolerance is the difference of two block means, of 255, that passes.
const tolerance = 4

// differ counts the blocks that differ by more than the tolerance.
func differ(a, b *image.RGBA) int {
	if a.Rect != b.Rect {
		return 1 << 20
	}
	n := 0
	for i := 0; i < len(a.Pix); i += 4 {
		for k := range 4 {
			if d := int(a.Pix[i+k]) - int(b.Pix[i+k]); d > tolerance || d < -tolerance {
				n++
				break
			}
		}
	}
	return n
}

func goldenPath(name string) string { return filepath.Join("testdata", name+".png") }

func readGolden(t *testing.T, name string) *image.RGBA {
	t.Helper()
	f, err := os.Open(goldenPath(name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
	return out
}

// sampler has a run, a column of satin, a fill and a triple line, in four
// colours that cross.
func sampler(colours ...color.RGBA) *stitchfile.Design {
	pt := func(x, y float64) stitchtest.Point { return stitchtest.Point{X: x, Y: y} }
	var b stitchtest.Builder
	b.Name = "Sampler"
	b.Thread(colours[0], "").Fill(stitchtest.Rect(pt(-4, 0), 20, 14), 0.4, 2.5, 20).Stop()
	b.Thread(colours[1], "").Satin(stitchtest.Circle(pt(3, 0), 9), stitchtest.SatinAlong{Width: 3, Pitch: 0.4}).Stop()
	b.Thread(colours[2], "").Run(stitchtest.Rect(pt(0, 0), 30, 22), 2).Stop()
	b.Thread(colours[3], "").TripleRun(stitchtest.Line(pt(-15, -11), pt(15, 11)), 2)
	return b.Design()
}

var samplerColours = []color.RGBA{{40, 120, 200, 255}, {200, 50, 40, 255}, {30, 30, 40, 255}, {240, 200, 60, 255}}

// goldens are the pictures that are held to those of testdata. They have no
// words, so that a change of fonts does not touch them.
var goldens = map[string]func(*stitchfile.Design) *image.RGBA{
	"thread": func(d *stitchfile.Design) *image.RGBA { return bare(threadView, d) },
	"stops":  func(d *stitchfile.Design) *image.RGBA { return bare(stopsView, d) },
	"kinds":  func(d *stitchfile.Design) *image.RGBA { return bare(kindsView, d) },
	"density": func(d *stitchfile.Design) *image.RGBA {
		return bare(densityView, d)
	},
	"rows": func(d *stitchfile.Design) *image.RGBA {
		r := mustRun(d, report.DefaultSettings())
		const side = 360
		p := stopPictures{d: d, r: r, side: side}
		strip := image.NewRGBA(image.Rect(0, 0, side*len(r.Stops), side))
		for i := range r.Stops {
			draw.Draw(strip, image.Rect(i*side, 0, (i+1)*side, side), p.draw([]*report.Stop{&r.Stops[i]}), image.Point{}, draw.Src)
		}
		return strip
	},
}

func bare(v View, d *stitchfile.Design) (img *image.RGBA) {
	for p := range v.Draw(d, mustRun(d, report.DefaultSettings()), Options{Width: 640, Bare: true}) {
		img = p.Image
	}
	return img
}

const block10 = 10

func TestGolden(t *testing.T) {
	for name, paint := range goldens {
		got := means(paint(sampler(samplerColours...)), block10)
		if *update {
			f, err := os.Create(goldenPath(name))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, got); err != nil {
				t.Fatal(err)
			}
			if err := f.Close(); err != nil {
				t.Fatal(err)
			}
		}
		if n := differ(got, readGolden(t, name)); n > 0 {
			t.Errorf("%s: %d blocks differ; if that is meant, run with -update and look at the picture", name, n)
		}
	}
}

// The goldens catch a missing stitch, swapped colours and swapped stops, and
// pass over rounding.
func TestGoldenCatches(t *testing.T) {
	colours := samplerColours
	good := sampler(colours...)
	without := func(stop, nth int) *stitchfile.Design {
		d := sampler(colours...)
		r := mustRun(d, report.DefaultSettings())
		at := r.Stops[stop].First + nth
		d.Moves = append(append([]stitchfile.Move{}, d.Moves[:at]...), d.Moves[at+1:]...)
		return d
	}
	unsewn := func(stop, nth int) *stitchfile.Design {
		d := sampler(colours...)
		d.Moves[mustRun(d, report.DefaultSettings()).Stops[stop].First+nth].Kind = stitchfile.Trim
		return d
	}
	swapped := sampler(colours[1], colours[0], colours[2], colours[3])
	// The same threads on the same stitches, sewn the other way round.
	order := sampler(colours...)
	r := mustRun(order, report.DefaultSettings())
	a, b := r.Stops[0], r.Stops[1]
	moves := append([]stitchfile.Move{}, order.Moves[b.First:b.Last]...)
	moves = append(moves, stitchfile.Move{Kind: stitchfile.ColourStop})
	moves = append(moves, order.Moves[a.First:a.Last]...)
	order.Moves = append(moves, order.Moves[b.Last:]...)
	order.Threads[0], order.Threads[1] = order.Threads[1], order.Threads[0]

	thread, rows := []string{"thread"}, []string{"thread", "rows"}
	for name, c := range map[string]struct {
		d     *stitchfile.Design
		views []string
	}{
		"a stitch of a run not sewn": {unsewn(2, 7), rows},
		"a corner missing":           {without(2, 16), rows},
		"a crossing missing":         {without(1, 40), thread},
		"colours swapped":            {swapped, rows},
		"stops in the other order":   {order, []string{"thread", "rows", "stops"}},
		"a stitch of a fill missing": {without(0, 60), thread},
	} {
		for _, v := range c.views {
			if differ(means(goldens[v](c.d), block10), readGolden(t, v)) == 0 {
				t.Errorf("%s: the %s picture passes", name, v)
			}
		}
	}
	for name, paint := range goldens {
		img := paint(good)
		for i := range img.Pix { // as another compiler might round
			if i%3 == 0 && img.Pix[i] < 255 {
				img.Pix[i]++
			}
		}
		if n := differ(means(img, block10), readGolden(t, name)); n > 0 {
			t.Errorf("%s: rounding makes %d blocks differ", name, n)
		}
	}
}
