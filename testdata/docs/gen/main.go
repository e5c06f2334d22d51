// Command gen draws the pictures of the README: the demo design as a card and
// as a picture, the other one as a picture, and in the folder rules a sample of what each check finds.
//
// The picture of the page, page.png, is taken by hand with a headless browser,
// since how letters look there is up to the browser. From the folder of package
// docs:
//
//	stopcard demo -o demo
//	chromium --headless --hide-scrollbars --window-size=1000,1190 --screenshot=page.png demo/page.html
//	go run ./gen -shot page.png
//
// The last step brings it down to 256 colours. The folder demo can be deleted then.
// The picture of the app, app.png, is a window of 1000 x 1250 pixels to which the three
// sizes of the demo were given as PES, brought down likewise.
package main

import (
	"bytes"
	"context"
	"flag"
	"image"
	"image/color"
	"image/png"
	"log"
	"os"
	"path/filepath"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
	"github.com/stopcard/stopcard/testdata/docs/samples"
	"golang.org/x/image/draw"
)

func main() {
	shot := flag.String("shot", "", "only bring this screenshot down to 256 colours")
	width := flag.Int("width", 0, "and scale it to this width; 0: as it is")
	flag.Parse()
	err := error(nil)
	if *shot != "" {
		err = reduce(*shot, *width)
	} else {
		err = drawAll()
	}
	if err != nil {
		log.Fatal(err)
	}
}

func drawAll() error {
	if err := picture(demo.Another, "another.png"); err != nil {
		return err
	}
	if err := picture(demo.Shown, "picture.png"); err != nil {
		return err
	}
	d, r, err := analysed(demo.Shown)
	if err != nil {
		return err
	}
	for _, page := range render.Card(d, r, render.CardOptions{Paper: render.A4}) {
		if err := write("card.png", shrink(page, 760)); err != nil {
			return err
		}
		break
	}
	for _, s := range samples.Samples() {
		if err := s.Check(); err != nil {
			return err
		}
		img, err := s.Picture()
		if err != nil {
			return err
		}
		if err := write(filepath.Join("rules", s.Rule+".png"), img); err != nil {
			return err
		}
	}
	return nil
}

// picture draws a demo design thread by thread.
func picture(design, name string) error {
	d, r, err := analysed(design)
	if err != nil {
		return err
	}
	return write(name, shrink(render.Thread(d, r, render.ThreadOptions{Width: 1600}), 560))
}

func analysed(design string) (*stitchfile.Design, *report.Report, error) {
	data, err := demo.Files.ReadFile(design)
	if err != nil {
		return nil, nil, err
	}
	d, err := stitchfile.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, nil, err
	}
	r, err := analyse.Run(context.Background(), d, analyse.Options{})
	return d, r, err
}

func reduce(name string, width int) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	img, err := png.Decode(f)
	f.Close()
	if err != nil {
		return err
	}
	if width == 0 {
		width = img.Bounds().Dx()
	}
	return write(name, shrink(img, width))
}

// shrink scales a picture to a width, on white, and takes it down to 256 colours.
func shrink(img image.Image, width int) *image.Paletted {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, width, b.Dy()*width/b.Dx()))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.CatmullRom.Scale(out, out.Bounds(), img, b, draw.Over, nil)
	return samples.Paletted(out, 256)
}

func write(name string, img *image.Paletted) error {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestCompression}
	if err := e.Encode(&b, img); err != nil {
		return err
	}
	return os.WriteFile(name, b.Bytes(), 0o644)
}
