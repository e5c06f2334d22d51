package render

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"sort"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"github.com/stopcard/stopcard/analyse/words"
)

// pen writes text on a page in one face.
type pen struct {
	page *image.RGBA
	face font.Face
	line int // pixels from one baseline to the next
	ink  color.RGBA
}

// newPen makes a pen whose letters are size pixels from the top of one line to
// the next set solid. The embedded fonts always parse, so a failure is a broken
// build.
func newPen(page *image.RGBA, size float64, bold bool, ink color.RGBA) pen {
	fonts, err := parsed()
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	f := fonts[0]
	if bold {
		f = fonts[1]
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	return pen{page, face, int(math.Ceil(size * 1.25)), ink}
}

// legible replaces what the font lacks or what is no letter at all.
func (p pen) legible(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return '?'
		}
		if _, ok := p.face.GlyphAdvance(r); !ok {
			return '?'
		}
		return r
	}, s)
}

func (p pen) width(s string) int { return font.MeasureString(p.face, s).Ceil() }

// write puts one line with its baseline at y. A pen without a page writes
// nothing.
func (p pen) write(x, y int, s string) {
	if p.page == nil {
		return
	}
	d := font.Drawer{Dst: p.page, Src: image.NewUniform(p.ink), Face: p.face, Dot: fixed.P(x, y)}
	d.DrawString(p.legible(s))
}

// fit shortens s to the given width, with an ellipsis.
func (p pen) fit(s string, width int) string {
	s = p.legible(s)
	if p.width(s) <= width {
		return s
	}
	// A name in a file may run to thousands of letters, too many to drop one by one.
	r := []rune(s)
	n := sort.Search(len(r), func(n int) bool { return p.width(string(r[:n+1])+"…") > width })
	return string(r[:n]) + "…"
}

// unbroken joins the parts of a measure, such as "85 x 73 mm", "3 1/8 in" or "stop 4", so
// that they stay on one line.
func unbroken(s string) string {
	fields := strings.Fields(s)
	figure := func(i int, last bool) bool {
		if i < 0 || i >= len(fields) {
			return false
		}
		b := fields[i][0]
		if last {
			b = fields[i][len(fields[i])-1]
		}
		return b >= '0' && b <= '9'
	}
	var b strings.Builder
	for i, f := range fields {
		b.WriteString(f)
		switch {
		case i+1 == len(fields):
		case fields[i+1] == "x" && figure(i, true) && figure(i+2, false),
			f == "x" && figure(i-1, true) && figure(i+1, false),
			figure(i, true) && measured[strings.TrimRight(fields[i+1], ".,;:)")],
			figure(i+1, false) && numbered[strings.TrimLeft(f, "(")]:
			b.WriteString("\u00a0")
		default:
			b.WriteByte(' ')
		}
	}
	return words.KeepFigures(b.String())
}

// measured are the words that stay with the figure before them, numbered those that stay
// with the one behind.
var (
	measured = map[string]bool{"mm": true, "m": true, "in": true, "min": true, "stitch": true, "stitches": true, "bobbin": true, "bobbins": true, "trim": true, "trims": true, "colour": true}
	numbered = map[string]bool{"stop": true, "stops": true, "piece": true, "pieces": true}
)

// wrap breaks s into lines of at most width pixels; a word that is wider alone
// is shortened.
func (p pen) wrap(s string, width int) []string {
	var lines []string
	for _, word := range strings.FieldsFunc(p.legible(unbroken(s)), func(r rune) bool { return r == ' ' }) {
		word = p.fit(word, width)
		if n := len(lines); n > 0 && p.width(lines[n-1]+" "+word) <= width {
			lines[n-1] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}

// box fills a rectangle.
func box(page *image.RGBA, r image.Rectangle, c color.RGBA) {
	draw.Draw(page, r, image.NewUniform(c), image.Point{}, draw.Src)
}

// frame draws a rectangle's outline, thick pixels wide, inside r.
func frame(page *image.RGBA, r image.Rectangle, thick int, c color.RGBA) {
	box(page, image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+thick), c)
	box(page, image.Rect(r.Min.X, r.Max.Y-thick, r.Max.X, r.Max.Y), c)
	box(page, image.Rect(r.Min.X, r.Min.Y, r.Min.X+thick, r.Max.Y), c)
	box(page, image.Rect(r.Max.X-thick, r.Min.Y, r.Max.X, r.Max.Y), c)
}
