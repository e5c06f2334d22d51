package words

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
)

// Units says in which units lengths are told. The zero value tells both.
type Units string

// The units that people choose among.
const (
	Both   Units = "both" // mm, and inches in brackets
	Metric Units = "mm"   // mm and metres alone
	Inches Units = "inch" // inches and yards alone
)

const (
	mmPerInch = 25.4
	mPerYard  = 0.9144
)

// UnitsOf are the units that settings choose; nil settings choose none.
func UnitsOf(s *report.Settings) Units {
	if s == nil {
		return Both
	}
	return Units(s.Units)
}

// One is the units where there is room for one of both: mm.
func (u Units) One() Units {
	if u == Inches {
		return u
	}
	return Metric
}

// Pick gives what is told in metric units, in inches and yards, or both.
func (u Units) Pick(metric, imperial string) string {
	switch u {
	case Metric:
		return metric
	case Inches:
		return imperial
	}
	return metric + " (" + imperial + ")"
}

// Size tells the width and height in mm of a design or a cloth: to 0.1 mm, or to
// 0.01 in.
func (u Units) Size(w, h float64) string {
	return u.Pick(fmt.Sprintf("%.1f x %.1f mm", w, h), fmt.Sprintf("%.2f x %.2f in", w/mmPerInch, h/mmPerInch))
}

// Whole tells the size in mm of a design where it is a name for it, in whole mm or 0.1 in.
func (u Units) Whole(w, h float64) string {
	if u == Inches {
		return fmt.Sprintf("%.1f x %.1f in", w/mmPerInch, h/mmPerInch)
	}
	return fmt.Sprintf("%.0f x %.0f mm", w, h)
}

// Given tells a length that is asked for in mm: so it is always told in mm.
func (u Units) Given(mm float64) string {
	if u == Inches {
		u = Both
	}
	return u.Length(mm)
}

// Text tells the lengths in mm of a sentence in inches, where they alone are wanted: one,
// from one to another, or two sides.
func (u Units) Text(sentence string) string {
	if u != Inches {
		return sentence
	}
	var out strings.Builder
	for i := 0; i < len(sentence); {
		if i == 0 || !isWord(sentence[i-1]) {
			if text, end := lengthAt(sentence, i); end > i {
				out.WriteString(text)
				i = end
				continue
			}
		}
		out.WriteByte(sentence[i])
		i++
	}
	return out.String()
}

// lengthAt is the length in mm that begins at a place of a sentence, in inches, and where
// it ends; 0: none.
func lengthAt(s string, from int) (inches string, end int) {
	first := figureEnd(s, from)
	if first == from {
		return "", 0
	}
	text, at := inchFigure(s[from:first]), first
	for _, between := range []string{" to ", " x "} {
		if strings.HasPrefix(s[first:], between) {
			start := first + len(between)
			if end := figureEnd(s, start); end > start {
				text, at = text+between+inchFigure(s[start:end]), end
			}
		}
	}
	if end = at + len(" mm"); !strings.HasPrefix(s[at:], " mm") || end < len(s) && isWord(s[end]) {
		return "", 0
	}
	return text + " in", end
}

// figureEnd is where a figure ends that begins at a place: there, if none does.
func figureEnd(s string, from int) int {
	digits := func(i int) int {
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i
	}
	end := digits(from)
	if end > from && end < len(s) && s[end] == '.' {
		if part := digits(end + 1); part > end+1 {
			return part
		}
	}
	return end
}

func isWord(b byte) bool {
	return b >= '0' && b <= '9' || b|0x20 >= 'a' && b|0x20 <= 'z' || b == '_'
}

// inchFigure writes so many mm in inches: stitches to 0.001 in, what is longer to 0.01 in.
func inchFigure(mm string) string {
	v, _ := strconv.ParseFloat(mm, 64)
	if v > mmPerInch {
		return Figure(v/mmPerInch, 2)
	}
	return Figure(v/mmPerInch, 3)
}

// Field tells the field of a hoop in mm, without needless zeros.
func (u Units) Field(w, h float64) string {
	return u.Pick(Figure(w, 1)+" x "+Figure(h, 1)+" mm", Figure(w/mmPerInch, 2)+" x "+Figure(h/mmPerInch, 2)+" in")
}

// Cut tells the size in mm of cloth to cut, which may be too large and never too small:
// whole mm, and inches in eighths as rulers are marked, both rounded up.
func (u Units) Cut(w, h float64) string {
	up := func(v float64) float64 { return math.Ceil(v - 1e-6) }
	return u.Pick(fmt.Sprintf("%.0f x %.0f mm", up(w), up(h)), UpToEighth(w)+" x "+UpToEighth(h)+" in")
}

// Length tells a length in mm that a person sets or measures: to 0.01 mm or in.
func (u Units) Length(mm float64) string {
	return u.Pick(Figure(mm, 2)+" mm", fmt.Sprintf("%.2f in", mm/mmPerInch))
}

// Metres tells a length of thread, in yards for those who think in inches.
func (u Units) Metres(m float64) string {
	return u.Pick(fmt.Sprintf("%.1f m", m), fmt.Sprintf("%.1f yd", m/mPerYard))
}

// Stretch tells the length in mm of a stretch of stitching, in whole mm or, in inches,
// in eighths. Below 10 mm it is told as Stitch does.
func (u Units) Stretch(mm float64) string {
	if mm < 9.95 {
		return u.Stitch(mm)
	}
	return u.Pick(fmt.Sprintf("%.0f mm", mm), NearestEighth(mm)+" in")
}

// Stitch tells a measure of stitches in mm, to 0.1 mm, below 1 mm to 0.01 mm. Stitches
// are measured in mm everywhere, so inches are told only where they alone are wanted.
func (u Units) Stitch(mm float64) string { return u.StitchTo(mm, stitchDigits(mm)) }

// StitchTo is Stitch with so many digits of mm, and one more of inches.
func (u Units) StitchTo(mm float64, digits int) string {
	if u == Inches {
		return strconv.FormatFloat(mm/mmPerInch, 'f', digits+1, 64) + " in"
	}
	return strconv.FormatFloat(mm, 'f', digits, 64) + " mm"
}

func stitchDigits(mm float64) int {
	if math.Abs(mm) < 0.995 {
		return 2
	}
	return 1
}

// StitchPast tells two measures of stitches in mm that differ, one past a limit and
// the limit: with as many digits as they take to be told apart.
func (u Units) StitchPast(value, limit float64) (string, string) {
	if u == Inches {
		v, l := past(value/mmPerInch, limit/mmPerInch, stitchDigits(value)+1, 3)
		return v + " in", l + " in"
	}
	v, l := past(value, limit, stitchDigits(value), 2)
	return v + " mm", l + " mm"
}

// Small tells a small length in mm that is set and not measured, such as a limit, without
// needless zeros. As for Stitch, inches are told only where they alone are wanted.
func (u Units) Small(mm float64) string {
	if u == Inches {
		return Figure(mm/mmPerInch, 3) + " in"
	}
	return Figure(mm, 2) + " mm"
}

// Within tells a small length in mm that hands are to keep within: in inches by the mark of
// a ruler at or below it, in thirty-seconds, where it is as long as one.
func (u Units) Within(mm float64) string {
	parts := int(math.Floor(mm/mmPerInch*ruler + 1e-9))
	if u != Inches || parts == 0 || parts >= ruler {
		return u.Small(mm)
	}
	of := ruler
	for parts%2 == 0 {
		parts, of = parts/2, of/2
	}
	return fmt.Sprintf("%d/%d in", parts, of)
}

// ruler is the finest marks to the inch on a quilter's ruler (common practice, no single source).
const ruler = 32

// Figure writes a figure rounded to so many digits, without needless zeros.
func Figure(v float64, digits int) string {
	k := math.Pow(10, float64(digits))
	return strconv.FormatFloat(math.Round(v*k)/k, 'f', -1, 64)
}

// Spot tells the square of about 3 mm over which thread and holes are counted.
func (u Units) Spot() string {
	if u == Inches {
		return "1/8 x 1/8 in"
	}
	return "3 x 3 mm"
}

// holeSquare is the area in mm2 of the square of 1/8 in for which holes are counted where
// inches are wanted: a square inch is too much to picture so many in.
const holeSquare = mmPerInch / 8 * mmPerInch / 8

// HoleUnit is the unit in which needle holes are counted, and how many of it one to the
// mm2 is.
func (u Units) HoleUnit() (each float64, unit string) {
	if u == Inches {
		return holeSquare, "holes to a square of 1/8 in"
	}
	return 1, "holes per mm2"
}

// Holes tells a number of needle holes to the mm2, in inches to a square of 1/8 in.
func (u Units) Holes(perMM2 float64) string {
	if u == Inches {
		return Figure(perMM2*holeSquare, 0) + " holes to a square of 1/8 in"
	}
	return fmt.Sprintf("%.1f holes/mm2", perMM2)
}

// HolesPast tells two counts of needle holes to the mm2, one past a limit and the limit,
// as StitchPast does. To those who think in inches it tells them of a square of 1/8 in.
func (u Units) HolesPast(value, limit float64) (string, string) {
	if u == Inches {
		v, l := Past(value*holeSquare, math.Round(limit*holeSquare*10)/10, 0)
		return v + " needle holes to a square of 1/8 in", l
	}
	v, l := Past(value, limit, 1)
	return v + " needle holes to the mm2", l
}

// Past writes a figure and the limit that it is past, with the given digits or as many
// more as it takes to tell them apart.
func Past(value, limit float64, digits int) (string, string) {
	return past(value, limit, digits, 3)
}

// mostMore is how many more digits at most a figure and its limit get to be told apart.
const mostMore = 5

// past is Past for a limit with so many digits at first: as written the figure lies on
// the side of the limit on which it is.
func past(value, limit float64, digits, limitDigits int) (v, l string) {
	for more := 0; ; more++ {
		v, l = strconv.FormatFloat(value, 'f', digits+more, 64), Figure(limit, max(limitDigits, digits+more))
		a, _ := strconv.ParseFloat(v, 64)
		b, _ := strconv.ParseFloat(l, 64)
		if cmp.Compare(a, b) == cmp.Compare(value, limit) || more == mostMore {
			return v, l
		}
	}
}

// PercentPast writes a share in percent that is past a limit, and the limit.
func PercentPast(value, limit float64) (string, string) {
	v, l := Past(100*value, 100*limit, 0)
	return v + " %", l + " %"
}

// UpToEighth writes mm as inches in eighths, rounded up, as cloth is cut by ruler.
func UpToEighth(mm float64) string { return inEighths(int(math.Ceil(mm/mmPerInch*8 - 1e-6))) }

// NearestEighth writes mm as inches to the nearest eighth.
func NearestEighth(mm float64) string { return inEighths(int(math.Round(mm / mmPerInch * 8))) }

func inEighths(n int) string {
	whole, part, den := n/8, n%8, 8
	if part == 0 {
		return strconv.Itoa(whole)
	}
	for part%2 == 0 {
		part, den = part/2, den/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", part, den)
	}
	return fmt.Sprintf("%d %d/%d", whole, part, den)
}
