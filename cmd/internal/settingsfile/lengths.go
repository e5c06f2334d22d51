package settingsfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// MMPerInch is how long an inch is (by definition, since 1959).
const MMPerInch = 25.4

// ParseNumber reads a plain number, or a fraction such as 1/4 or 2 1/2.
func ParseNumber(text string) (float64, error) {
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

// CutUnit takes the unit off the end of a length and gives the millimetres in
// one of it. A length without a unit is in mm.
func CutUnit(text string) (rest string, mm float64) {
	text = strings.TrimSpace(text)
	for _, u := range []struct {
		suffix string
		mm     float64
	}{{"mm", 1}, {"cm", 10}, {"inches", MMPerInch}, {"inch", MMPerInch}, {"in", MMPerInch}, {`"`, MMPerInch}} {
		if rest, ok := strings.CutSuffix(text, u.suffix); ok {
			return strings.TrimSpace(rest), u.mm
		}
	}
	return text, 1
}

// ParseLength reads a length such as 6.35, 6.35mm or 1/4in, in mm.
func ParseLength(text string) (float64, error) {
	rest, mm := CutUnit(text)
	v, err := ParseNumber(rest)
	if err != nil {
		return 0, fmt.Errorf("expected a length such as 6.35 (mm) or 1/4in, got %q", text)
	}
	return v * mm, nil
}

// ParseSize reads a width and a height such as 130x180, 5x7in or 5inx7in, in mm.
func ParseSize(text string) (w, h float64, err error) {
	wrong := fmt.Errorf("expected a width and a height, such as 130x180 or 5x7in, got %q", text)
	rest, last := CutUnit(strings.ToLower(text))
	left, right, ok := strings.Cut(strings.ReplaceAll(rest, "×", "x"), "x")
	if !ok {
		return 0, 0, wrong
	}
	leftRest, first := CutUnit(left)
	if leftRest == strings.TrimSpace(left) {
		first = last // one unit behind both
	}
	w, err1 := ParseNumber(leftRest)
	h, err2 := ParseNumber(right)
	w, h = w*first, h*last
	if err1 != nil || err2 != nil || !(w > 0 && h > 0 && w < 5000 && h < 5000) {
		return 0, 0, wrong
	}
	return w, h, nil
}

// Plain writes a number without needless digits.
func Plain(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}

// Printable makes text from files safe for a terminal: control and formatting
// characters, line ends among them, become a middle dot.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return '·'
		}
		return r
	}, s)
}
