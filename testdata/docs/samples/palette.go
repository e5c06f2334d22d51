package samples

import (
	"image"
	"image/color"
	"image/draw"
	"slices"
)

// Paletted gives img in n colours at most, 1 to 256, which makes its file a third
// as large. The colours are means of boxes that are cut in two at the median of
// their longest side (P. Heckbert, "Color image quantization for frame buffer
// display", SIGGRAPH 1982). Nothing is dithered: that would make it large again.
func Paletted(img *image.RGBA, n int) *image.Paletted {
	count := map[color.RGBA]int{}
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			count[img.RGBAAt(x, y)]++
		}
	}
	all := make([]color.RGBA, 0, len(count))
	for c := range count {
		all = append(all, c)
	}
	// Maps have no order, and the picture must not change from run to run.
	slices.SortFunc(all, func(a, b color.RGBA) int {
		return (int(a.R)<<16 | int(a.G)<<8 | int(a.B)) - (int(b.R)<<16 | int(b.G)<<8 | int(b.B))
	})
	boxes := [][]color.RGBA{all}
	for len(boxes) < n {
		most, at, channel := 0, -1, 0
		for i, box := range boxes {
			k, long := longest(box)
			// A box of many pixels is worth more colours than one of few.
			pixels := 0
			for _, c := range box {
				pixels += count[c]
			}
			if w := long * long * pixels; long > 0 && w > most {
				most, at, channel = w, i, k
			}
		}
		if at < 0 {
			break
		}
		box := boxes[at]
		slices.SortStableFunc(box, func(a, b color.RGBA) int { return int(channels(a)[channel]) - int(channels(b)[channel]) })
		total, half, cut := 0, 0, 0
		for _, c := range box {
			total += count[c]
		}
		for cut < len(box)-1 && (cut == 0 || half+count[box[cut]] <= total/2) {
			half += count[box[cut]]
			cut++
		}
		boxes[at] = box[:cut]
		boxes = append(boxes, box[cut:])
	}
	palette := color.Palette{}
	for _, box := range boxes {
		var sum [3]int
		pixels := 0
		for _, c := range box {
			for k, v := range channels(c) {
				sum[k] += int(v) * count[c]
			}
			pixels += count[c]
		}
		palette = append(palette, color.RGBA{uint8(sum[0] / pixels), uint8(sum[1] / pixels), uint8(sum[2] / pixels), 255})
	}
	out := image.NewPaletted(b, palette)
	draw.Draw(out, b, img, b.Min, draw.Src)
	return out
}

func channels(c color.RGBA) [3]uint8 { return [3]uint8{c.R, c.G, c.B} }

// longest is the channel in which a box of colours is longest, and how long.
func longest(box []color.RGBA) (channel, length int) {
	for k := range 3 {
		lo, hi := 255, 0
		for _, c := range box {
			v := int(channels(c)[k])
			lo, hi = min(lo, v), max(hi, v)
		}
		if hi-lo > length {
			channel, length = k, hi-lo
		}
	}
	return channel, length
}
