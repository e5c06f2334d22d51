package stitchfile_test

import (
	"bytes"
	"fmt"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A list of files with their sizes needs no more than the headers, and says so
// where a header is silent.
func ExampleDecodeConfig() {
	for _, format := range []string{"DST", "VP3"} {
		b := stitchtest.Builder{Name: "square"}
		b.Run(stitchtest.Rect(stitchtest.Point{}, 20, 30), 2).Stop().Run(stitchtest.Rect(stitchtest.Point{}, 10, 10), 2)
		data, _ := stitchtest.Encode(format, b.Design())

		c, err := stitchfile.DecodeConfig(bytes.NewReader(data))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s %q, %d colour stop between blocks", c.Format, c.Name, c.Claims.ColourStops)
		if width, height, ok := c.Size(); ok {
			fmt.Printf(", %v x %v mm\n", width, height)
		} else {
			fmt.Println(", size not stated")
		}
	}
	// Output:
	// DST "square", 1 colour stop between blocks, 20 x 30 mm
	// VP3 "", 1 colour stop between blocks, size not stated
}
