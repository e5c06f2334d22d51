// Command gen draws the pictures of the README from the demo design.
package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"log"
	"os"

	"golang.org/x/image/draw"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

func main() {
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		log.Fatal(err)
	}
	d, err := stitchfile.Decode(bytes.NewReader(data))
	if err != nil {
		log.Fatal(err)
	}
	r := analyse.Run(d, analyse.DefaultSettings())
	write("picture.png", shrink(render.Thread(d, r, render.ThreadOptions{Width: 1600}), 560))
	for _, page := range render.Card(d, r, render.CardOptions{Paper: render.A4}) {
		write("card.png", shrink(page, 760))
		break
	}
}

// shrink scales a picture to a width, on white.
func shrink(img image.Image, width int) image.Image {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, width, b.Dy()*width/b.Dx()))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.CatmullRom.Scale(out, out.Bounds(), img, b, draw.Over, nil)
	return out
}

func write(name string, img image.Image) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestCompression}
	if err := e.Encode(&b, img); err != nil {
		log.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		log.Fatal(err)
	}
}
