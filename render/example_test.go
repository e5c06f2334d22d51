package render_test

import (
	"bytes"
	"fmt"
	"image/png"

	"github.com/stopcard/stopcard/render"
)

func ExampleThread() {
	design, report := ring()
	img := render.Thread(design, report, render.ThreadOptions{Width: 400})
	fmt.Println(img.Bounds().Dx(), "x", img.Bounds().Dy())
	// Output: 400 x 400
}

func ExampleCard() {
	design, report := ring()
	for i, page := range render.Card(design, report, render.CardOptions{Paper: render.Letter}) {
		fmt.Println("page", i+1, page.Bounds().Size())
	}
	// Output: page 1 (2550,3300)
}

func ExampleEncodePNG() {
	design, report := ring()
	var file bytes.Buffer
	img := render.Thread(design, report, render.ThreadOptions{Width: 400})
	if err := render.EncodePNG(&file, img, 300); err != nil {
		fmt.Println(err)
		return
	}
	read, err := png.Decode(&file)
	fmt.Println(read.Bounds().Size(), err)
	// Output: (400,400) <nil>
}
