package render_test

import (
	"bytes"
	"context"
	"fmt"
	"image/png"
	"log"
	"os"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// Read one file, measure it and draw one picture of it.
func Example() {
	data, err := demo.Files.ReadFile("kettle-100.pes")
	if err != nil {
		log.Fatal(err)
	}
	design, err := stitchfile.Decode(bytes.NewReader(data))
	if err != nil {
		log.Fatal(err)
	}
	r, err := analyse.Run(context.Background(), design, analyse.Options{})
	if err != nil {
		log.Fatal(err)
	}
	img := render.Thread(design, r, render.ThreadOptions{Width: 300})
	fmt.Println(img.Bounds().Dx(), "pixels wide")
	// Output: 300 pixels wide
}

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
	// Output:
	// page 1 (2550,3300)
	// page 2 (2550,3300)
}

func ExampleViews() {
	design, report := ring()
	for _, view := range render.Views() {
		for picture := range view.Draw(design, report, render.Options{DPI: 100}) {
			fmt.Println(view.Name, picture.Image.Bounds().Dx(), "pixels wide")
		}
	}
	// Output:
	// thread 700 pixels wide
	// stops 700 pixels wide
	// kinds 700 pixels wide
	// density 700 pixels wide
	// penetrations 700 pixels wide
	// cover 700 pixels wide
	// hoop 700 pixels wide
	// template 827 pixels wide
}

func ExampleViewNamed() {
	view, ok := render.ViewNamed("stops")
	fmt.Println(ok, view.Doc)
	// Output: true each colour stop in a colour of its own, numbered where it starts
}

func ExampleCutlines() {
	report := &report.Report{Name: "Square", Pieces: []report.Piece{{
		Number: 1, PlacementStop: 3,
		Placement: []geom.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 40}, {X: 0, Y: 40}, {X: 0, Y: 0}},
	}}}
	err := render.Cutlines(os.Stdout, &stitchfile.Design{}, report, render.CutlineOptions{MarginMM: -1})
	fmt.Println(err)
	// Output:
	// <?xml version="1.0" encoding="UTF-8"?>
	// <svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="42mm" height="42mm" viewBox="0 0 42 42">
	//  <title>Square</title>
	//  <g id="placement" fill="none" stroke="#000000" stroke-width="0.25">
	//   <title>Placement lines</title>
	//   <path id="placement-1" d="M1 41L41 41 41 1 1 1Z">
	//    <title>piece 1, placement line of stop 3</title>
	//   </path>
	//  </g>
	//  <g id="cut" fill="none" stroke="#d55e00" stroke-width="0.25">
	//   <title>Cut shapes</title>
	//   <path id="cut-1" d="M1 41L41 41 41 1 1 1Z">
	//    <title>piece 1, cut shape</title>
	//   </path>
	//  </g>
	// </svg>
	// <nil>
}

func ExamplePaper_Turned() {
	fmt.Println(render.A5.Turned())
	// Output: {A5 210 148}
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
