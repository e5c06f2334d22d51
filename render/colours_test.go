package render

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// The text of pictures is ink on white or white on the plates that bear it. Each
// pair stands at 7:1 or better (WCAG 2.2, SC 1.4.6); the card's inks are held to
// the same beside.
func TestTextContrast(t *testing.T) {
	pairs := map[string][2]color.RGBA{"foot": {ink, white}, "finding": {white, alarm}, "note": {white, quiet}}
	for i, c := range stopHues {
		if contrast(c, white) >= 7 { // badges of this colour are filled
			pairs["stop "+words.Figure(float64(i+1), 2)] = [2]color.RGBA{readable(c), c}
		}
	}
	for name, p := range pairs {
		if got := contrast(p[0], p[1]); got < 7 {
			t.Errorf("%s: %.2f", name, got)
		}
	}
}

// Ratios of WCAG 2.2: 21, 4.54 and 4.48 as published, the others by its formula. The last
// eight are the colours of Okabe and Ito (Color Universal Design, 2002) on white.
func TestContrast(t *testing.T) {
	for _, c := range []struct {
		rgb  uint32
		want float64
	}{
		{0x000000, 21}, {0x767676, 4.5422}, {0x777777, 4.4781}, {0x595959, 7.0047}, {0x949494, 3.0335},
		{0xFF0000, 3.9985}, {0x0000FF, 8.5925}, {0x00FF00, 1.3722},
		{0xE69F00, 2.25}, {0x56B4E9, 2.31}, {0x009E73, 3.42}, {0xF0E442, 1.32}, {0x0072B2, 5.19}, {0xD55E00, 3.87}, {0xCC79A7, 3.06},
	} {
		got := contrast(color.RGBA{uint8(c.rgb >> 16), uint8(c.rgb >> 8), uint8(c.rgb), 255}, white)
		if math.Abs(got-c.want) > 0.005 || math.Abs(c.want*100-math.Round(c.want*100)) > 0.1 && math.Abs(got-c.want) > 0.0005 {
			t.Errorf("#%06X on white: %.4f, want %.4f", c.rgb, got, c.want)
		}
	}
}

// CIE L* falls along the ramp by equal steps: 85 over 255 steps is 0.333 each.
// 8-bit colours round it by up to half a unit.
func TestRampIsEven(t *testing.T) {
	first := rampStops[0].L
	last := rampStops[len(rampStops)-1].L
	was := math.Inf(1)
	for i, c := range ramp() {
		got := words.LabOf(c).L
		want := first + (last-first)*float64(i)/(rampSize-1)
		if math.Abs(got-want) > 0.4 {
			t.Errorf("colour %d %v: L* %.2f, want %.2f", i, c, got, want)
		}
		if got >= was {
			t.Errorf("colour %d: L* does not fall, %.3f after %.3f", i, got, was)
		}
		was = got
	}
}

// Round trips hold for colours that sRGB has.
func TestRGBOf(t *testing.T) {
	for _, c := range append([]color.RGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {128, 128, 128, 255}, white, ink, {0, 0, 0, 255}}, okabeIto...) {
		if got := rgbOf(words.LabOf(c)); got != c {
			t.Errorf("%v comes back as %v", c, got)
		}
	}
}

// dichromat shows a colour as a person without red (protan) or green (deutan)
// cones sees it: Viénot, Brettel and Mollon, Color Research and Application 24
// (1999), for linear sRGB.
func dichromat(c color.RGBA, m [3][3]float64) color.RGBA {
	lin := func(v uint8) float64 {
		f := float64(v) / 255
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	in := [3]float64{lin(c.R), lin(c.G), lin(c.B)}
	var out [3]uint8
	for i, row := range m {
		v := max(0, min(1, row[0]*in[0]+row[1]*in[1]+row[2]*in[2]))
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		out[i] = uint8(v*255 + 0.5)
	}
	return color.RGBA{out[0], out[1], out[2], 255}
}

var visions = map[string][3][3]float64{
	"usual":  {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protan": {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
	"deutan": {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
}

// Colours that stand for different things are told apart with and without red or
// green cones: by CIEDE2000 at least 8, where 1 is about the least that is seen.
func TestColoursAreApart(t *testing.T) {
	sets := map[string][]color.RGBA{"stops 1 to 8": stopHues[:8], "stops 9 to 16": stopHues[8:16]}
	for _, k := range report.Kinds() {
		sets["kinds"] = append(sets["kinds"], kindColours[k])
	}
	for _, c := range coverClasses {
		sets["cover"] = append(sets["cover"], c.colour)
	}
	sets["cover"] = append(sets["cover"], bareEdge, underCloth)
	for i := 1; i < len(stopHues); i++ {
		name := "neighbours "
		sets[name+words.Figure(float64(i), 2)] = []color.RGBA{stopHues[i-1], stopHues[i]}
	}
	for name, set := range sets {
		for vision, m := range visions {
			for i, p := range set {
				for j, q := range set[:i] {
					if d := words.CIEDE2000(words.LabOf(dichromat(p, m)), words.LabOf(dichromat(q, m))); d < 8 {
						t.Errorf("%s, %s vision: %v (%d) and %v (%d) are %.1f apart", name, vision, p, i+1, q, j+1, d)
					}
				}
			}
		}
	}
}

// Stops that follow one another, or lie on one another, differ plainly in the stops
// view: by more than 15, where 10 reads as another colour.
func TestStopColoursDiffer(t *testing.T) {
	r := &report.Report{}
	for i := range 90 {
		x := float64(i % 7 * 20)
		r.Stops = append(r.Stops, report.Stop{Number: i + 1, BoundsMM: [4]float64{x, 0, x + 25, 10}})
	}
	colours := stopColours(r)
	for i := range colours {
		for j := max(0, i-nearStops); j < i; j++ {
			if d := words.CIEDE2000(words.LabOf(colours[i]), words.LabOf(colours[j])); d < 15 {
				t.Errorf("stops %d and %d differ by %.1f", j+1, i+1, d)
			}
		}
	}
}

// A plate never lies on the place that it marks, even at the edge of a picture.
func TestPlatesKeepOffTheirPlaces(t *testing.T) {
	d, r := square(color.RGBA{200, 20, 20, 255})
	s := newSheet(d, r, Options{Width: 800}, foot{})
	places := []image.Point{{2, 2}, {400, 400}, {404, 398}, {797, 5}, {3, 795}, {400, 2}, {410, 410}, {395, 405}}
	for _, q := range places {
		s.plates.add(s, s.img, float64(q.X), float64(q.Y), "most: 4.13", white)
	}
	for i, q := range places {
		if q.In(s.plates.taken[i]) {
			t.Errorf("the plate %v lies on its place %v", s.plates.taken[i], q)
		}
	}
}
