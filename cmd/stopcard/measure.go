package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/stopcard/stopcard/analyse/words"
)

const mmPerInch = 25.4

// parseNumber reads a plain number, or a fraction such as 1/4 or 2 1/2.
func parseNumber(text string) (float64, error) {
	var sum float64
	fields := strings.Fields(text)
	if len(fields) == 0 || len(fields) > 2 {
		return 0, fmt.Errorf("expected a number, got %q", text)
	}
	for i, f := range fields {
		over, under, fraction := strings.Cut(f, "/")
		v, err := strconv.ParseFloat(over, 64)
		if fraction && err == nil {
			var d float64
			if d, err = strconv.ParseFloat(under, 64); err == nil {
				v /= d
			}
		}
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || i == 1 && !fraction {
			return 0, fmt.Errorf("expected a number, got %q", text)
		}
		sum += v
	}
	return sum, nil
}

// cutUnit takes the unit off the end of a length and gives the millimetres in
// one of it. A length without a unit is in mm.
func cutUnit(text string) (rest string, mm float64) {
	text = strings.TrimSpace(text)
	for _, u := range []struct {
		suffix string
		mm     float64
	}{{"mm", 1}, {"cm", 10}, {"inches", mmPerInch}, {"inch", mmPerInch}, {"in", mmPerInch}, {`"`, mmPerInch}} {
		if rest, ok := strings.CutSuffix(text, u.suffix); ok {
			return strings.TrimSpace(rest), u.mm
		}
	}
	return text, 1
}

// parseLength reads a length such as 6.35, 6.35mm or 1/4in, in mm.
func parseLength(text string) (float64, error) {
	rest, mm := cutUnit(text)
	v, err := parseNumber(rest)
	if err != nil {
		return 0, fmt.Errorf("expected a length such as 6.35 (mm) or 1/4in, got %q", text)
	}
	return v * mm, nil
}

// parseSize reads a width and a height such as 130x180, 5x7in or 5inx7in, in mm.
func parseSize(text string) (w, h float64, err error) {
	wrong := fmt.Errorf("expected a width and a height, such as 130x180 or 5x7in, got %q", text)
	rest, last := cutUnit(strings.ToLower(text))
	left, right, ok := strings.Cut(strings.ReplaceAll(rest, "×", "x"), "x")
	if !ok {
		return 0, 0, wrong
	}
	leftRest, first := cutUnit(left)
	if leftRest == strings.TrimSpace(left) {
		first = last // one unit behind both
	}
	w, err1 := parseNumber(leftRest)
	h, err2 := parseNumber(right)
	w, h = w*first, h*last
	if err1 != nil || err2 != nil || !(w > 0 && h > 0 && w < 5000 && h < 5000) {
		return 0, 0, wrong
	}
	return w, h, nil
}

// smallerFields are hoops whose usual names in inches promise more than their
// field holds: a hoop called 4 x 4 in has 100 x 100 mm, not 101.6 (design
// makers' lists of hoop fields).
var smallerFields = []struct{ name, field string }{
	{"4x4in", "100 x 100 mm"}, {"6x10in", "150 x 240 or 160 x 260 mm"}, {"8x8in", "200 x 200 mm"}, {"8x12in", "200 x 300 mm"},
}

// leastHoop is a side, in mm, that no hoop's field is as small as. The smallest
// sold are about 40 mm (common practice, no single source).
const leastHoop = 20

// fieldNote warns of a size that lacks its unit, and of one given in inches that
// is rather a hoop's name.
func fieldNote(size string) string {
	w, h, err := parseSize(size)
	if rest, _ := cutUnit(strings.ToLower(size)); err == nil && rest == strings.TrimSpace(strings.ToLower(size)) && max(w, h) <= leastHoop {
		return fmt.Sprintf("the hoop is taken as %s x %s mm; for inches write %sx%sin", plain(w), plain(h), plain(w), plain(h))
	}
	if _, mm := cutUnit(strings.ToLower(size)); err != nil || mm != mmPerInch {
		return ""
	}
	for _, f := range smallerFields {
		a, b, _ := parseSize(f.name)
		if a == w && b == h || a == h && b == w {
			return fmt.Sprintf("the hoop is taken as %.1f x %.1f mm; one that is called so usually has a field of %s", w, h, f.field)
		}
	}
	return ""
}

// units are how lengths are shown; words.Units tells them.
type units words.Units

func (u units) size(w, h float64) string     { return words.Units(u).Size(w, h) }
func (u units) length(mm float64) string     { return words.Units(u).Length(mm) }
func (u units) metres(metres float64) string { return words.Units(u).Metres(metres) }

func (u units) pick(metric, imperial string) string { return words.Units(u).Pick(metric, imperial) }
