package render

import (
	"sort"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
)

// lettering is a weight and size of letters on a sheet. Its measures do not
// depend on what the sheet is drawn on.
type lettering struct {
	bold bool
	em   float64 // mm
}

// Heights of the embedded letters over their em: capitals and figures, and small
// letters without ascenders, as their font files give them.
const (
	capHeight = 0.723
	xHeight   = 0.530
	descent   = 0.211
)

// capitals are letters whose capitals and figures stand so many mm high.
func capitals(mm float64, bold bool) lettering { return lettering{bold, mm / capHeight} }

// smalls are letters whose small x stands so many mm high.
func smalls(mm float64, bold bool) lettering { return lettering{bold, mm / xHeight} }

func (l lettering) cap() float64 { return l.em * capHeight }

// line is from one baseline to the next.
func (l lettering) line() float64 { return l.em * 1.22 }

// advances are the widths of letters over their em, by weight.
var advances [2]struct {
	sync.Mutex
	face font.Face
	of   map[rune]float64
}

// advance is the width of one letter over the em; ok is false for letters that
// the font lacks.
func (l lettering) advance(r rune) (w float64, ok bool) {
	a := &advances[weight(l.bold)]
	a.Lock()
	defer a.Unlock()
	if w, ok = a.of[r]; ok {
		return w, w >= 0
	}
	const size = 1000
	if a.face == nil {
		a.face, a.of = newFace(l.bold, size), map[rune]float64{}
	}
	w = -1
	if v, has := a.face.GlyphAdvance(r); has {
		w = float64(v) / 64 / size
	}
	if len(a.of) < 1<<12 { // text from files may hold every letter there is
		a.of[r] = w
	}
	return w, w >= 0
}

func weight(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// newFace makes a face of the embedded font, size pixels to the em. The fonts
// always parse, so a failure is a broken build.
func newFace(bold bool, size float64) font.Face {
	fonts, err := parsed()
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	face, err := opentype.NewFace(fonts[weight(bold)], &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic("render: embedded font: " + err.Error())
	}
	return face
}

// width is that of a text in mm.
func (l lettering) width(s string) float64 {
	w := 0.0
	for _, r := range s {
		v, ok := l.advance(r)
		if !ok {
			v, _ = l.advance('?')
		}
		w += v
	}
	return w * l.em
}

// legible replaces what the font lacks or what is no letter at all.
func (l lettering) legible(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return '?'
		}
		if _, ok := l.advance(r); !ok {
			return '?'
		}
		return r
	}, s)
}

// wrap breaks a text into lines of at most the given width, between words; a word
// that is wider alone is broken, and nothing is left out.
func (l lettering) wrap(s string, width float64) []string {
	var lines []string
	for _, word := range strings.FieldsFunc(l.legible(unbroken(s)), func(r rune) bool { return r == ' ' }) {
		if n := len(lines); n > 0 && l.width(lines[n-1]+" "+word) <= width {
			lines[n-1] += " " + word
			continue
		}
		for r := []rune(word); ; {
			n := len(r)
			if l.width(string(r)) > width {
				n = max(1, sort.Search(len(r), func(n int) bool { return l.width(string(r[:n+1])) > width }))
			}
			lines = append(lines, string(r[:n]))
			if r = r[n:]; len(r) == 0 {
				break
			}
		}
	}
	return lines
}

// most is wrap with no more than n lines: what is left out ends in an ellipsis,
// after a whole word where the line has more than one.
func (l lettering) most(n int, s string, width float64) []string {
	lines := l.wrap(s, width)
	if len(lines) <= n {
		return lines
	}
	lines = lines[:n]
	last := lines[n-1]
	for l.width(last+" …") > width {
		if at := strings.LastIndexByte(last, ' '); at > 0 {
			last = last[:at]
			continue
		}
		r := []rune(last)
		if len(r) <= 1 {
			break
		}
		last = string(r[:len(r)-1])
	}
	lines[n-1] = last + " …"
	return lines
}

// within is the lettering made small enough for a text of the given width.
func (l lettering) within(s string, width float64) lettering {
	if w := l.width(s); w > width && w > 0 {
		l.em *= width / w
	}
	return l
}
