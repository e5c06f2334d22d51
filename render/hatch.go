package render

import (
	"image"
	"image/color"
)

// hatches are the patterns that stand for thread colours on a card printed
// without colour. Each says whether there is ink at x, y, in units of a fine line.
var hatches = []func(x, y int) bool{
	func(x, y int) bool { return (x+y)%6 == 0 },
	func(x, y int) bool { return y%5 == 0 },
	func(x, y int) bool { return (x+y)%6 == 0 || (x-y+6000)%6 == 0 },
	func(x, y int) bool { return x%5 == 0 },
	func(x, y int) bool { return (x-y+6000)%6 == 0 },
	func(x, y int) bool { return x%4 < 2 && y%4 < 2 },
	func(x, y int) bool { return x%5 == 0 || y%5 == 0 },
	func(x, y int) bool { return (x+y)%3 == 0 },
	func(x, y int) bool { return x%6 < 3 != (y%6 < 3) },
}

// hatch fills a rectangle with a pattern; unit is the width of its lines. Past the
// last pattern they come back coarser, twice.
func hatch(page *image.RGBA, r image.Rectangle, pattern, unit int, c color.RGBA) {
	f := hatches[pattern%len(hatches)]
	unit = max(unit, 1) * (1 + pattern/len(hatches)%3)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if f((x-r.Min.X)/unit, (y-r.Min.Y)/unit) {
				page.SetRGBA(x, y, c)
			}
		}
	}
}
