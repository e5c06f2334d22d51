package match

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
)

// namedSize is a size that a file's name tells.
type namedSize struct {
	w, h  float64 // mm; h is 0 where the name tells one side only
	text  string  // as it stands in the name
	hoop  bool    // the name of a hoop, which the design need not fill
	plain bool    // a number without a unit: a size only where the other names are too
}

const (
	mostFolders = 20 // of a path, and the name, that tell one file from another

	inchMM      = 25.4
	leastPlain  = 30.0 // a smaller plain number is a version, or a count
	mostPlain   = 500.0
	mostInches  = 20.0 // a pair of smaller numbers without a unit is a hoop's name in inches
	namedWithin = 0.07 // share by which a size may miss its name
	hoopFilled  = 0.80 // share of a hoop that a design named after it fills at least
	hoopOver    = 0.03 // share by which it may lie over a name in inches: fields are larger than their names
)

// sizesInName reads the sizes that a name tells, such as 5in, 5x7, 130 and 130x180mm.
func sizesInName(name string) []namedSize {
	var out []namedSize
	number := func(s string) float64 {
		v, _ := strconv.ParseFloat(strings.ReplaceAll(s, ",", "."), 64)
		return v
	}
	for _, m := range sizeTexts(name) {
		if m.start > 0 && isDigit(name[m.start-1]) {
			continue
		}
		if m.start > 1 && name[m.start-1] == '_' && isDigit(name[m.start-2]) {
			continue // 3_8mm may be 3.8 mm, or a number and a size
		}
		n := namedSize{w: number(m.w), h: number(m.h), text: strings.TrimSpace(strings.TrimRight(name[m.start:m.end], "_"))}
		pair := m.h != ""
		switch unit := strings.ToLower(m.unit); {
		case unit == "mm":
		case unit == "cm":
			n.w, n.h = 10*n.w, 10*n.h
		case unit != "":
			n.w, n.h, n.hoop = inchMM*n.w, inchMM*n.h, pair
		case pair && max(n.w, n.h) <= mostInches:
			n.w, n.h, n.hoop = inchMM*n.w, inchMM*n.h, true
		case pair:
			n.hoop = true
		default:
			n.plain = true
			if n.w < leastPlain || n.w > mostPlain {
				continue
			}
		}
		if n.w > 0 && n.w <= 2*mostPlain && n.h <= 2*mostPlain {
			out = append(out, n)
		}
	}
	return out
}

// agrees reports whether a design of that size is as large as its name says.
func (n *namedSize) agrees(w, h float64) bool {
	near := func(a, b float64) bool { return math.Abs(math.Log(max(a, 0.1)/b)) <= math.Log(1+namedWithin) }
	if n.h == 0 {
		return near(max(w, h), n.w) || near(w, n.w)
	}
	if near(w, n.w) && near(h, n.h) || near(w, n.h) && near(h, n.w) {
		return true
	}
	if !n.hoop {
		return false
	}
	share := math.Inf(1)
	for _, f := range [][2]float64{{n.w, n.h}, {n.h, n.w}} {
		share = min(share, max(w/f[0], h/f[1]))
	}
	return share >= hoopFilled && share <= 1+hoopOver
}

// file is the file's name without its folders, but for as many as tell it from others
// that it is matched with.
func (s *Signature) file() string {
	if s.called != "" {
		return s.called
	}
	return s.base()
}

func (s *Signature) base() string { return baseName(s.Path) }

func baseName(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

// callApart gives files of one name in several folders as much of their paths as tells
// them apart.
func callApart(signs []*Signature) {
	of := map[string][]*Signature{}
	for _, s := range signs {
		s.called = ""
		of[s.base()] = append(of[s.base()], s)
	}
	for _, same := range of {
		for n := 2; len(same) > 1 && n <= mostFolders; n++ {
			by := map[string][]*Signature{}
			for _, s := range same {
				parts := strings.Split(strings.ReplaceAll(s.Path, `\`, "/"), "/")
				s.called = strings.Join(parts[max(0, len(parts)-n):], "/")
				by[s.called] = append(by[s.called], s)
			}
			same = nil
			for _, alike := range by {
				if len(alike) > 1 {
					same = append(same, alike...)
				}
			}
		}
	}
}

// commonName is the longest beginning that the file names share, cut where a size or a
// number begins in which they differ; with none, the first name without its size.
func commonName(group []*Signature) string {
	name := group[0].title()
	for _, s := range group[1:] {
		t := s.title()
		n := 0
		for n < len(name) && n < len(t) && name[n] == t[n] {
			n++
		}
		name = name[:min(beforeNumber(name, n), beforeNumber(t, n))]
	}
	name = strings.ToValidUTF8(name, "")
	if name = strings.TrimRight(name, " -_."); name != "" {
		return name
	}
	name = group[0].title()
	if found := sizeTexts(name); found != nil {
		if cut := strings.TrimRight(name[:found[0].start], " -_."); cut != "" {
			return cut
		}
	}
	return name
}

// beforeNumber moves a place in a name to the start of the number or size that it is in.
func beforeNumber(name string, at int) int {
	for _, m := range sizeTexts(name) {
		if m.start < at && at < m.end {
			return m.start
		}
	}
	return at
}

// stem is the letters of the title, for comparing names, and the numbers that are no
// size: a size with its unit, a plain number that may be one, and marks between fall away.
func (s *Signature) stem() (letters string, numbers []string) {
	if title := s.title(); s.named == nil || s.named.title != title {
		letters, numbers = s.stemOf(title)
		s.named = &nameStem{title, letters, numbers}
	}
	return s.named.letters, s.named.numbers
}

// nameStem keeps a stem, which is asked for in every comparison.
type nameStem struct {
	title, letters string
	numbers        []string
}

func (s *Signature) stemOf(title string) (letters string, numbers []string) {
	rest, found := []byte(title), sizeTexts(title)
	told := false // with its unit, or as a pair
	for _, n := range sizesInName(title) {
		told = told || !n.plain
	}
	for _, m := range found {
		if m.h == "" && m.unit == "" { // a number alone: a size where no other is told and it is that in mm, inches or cm
			v, _ := strconv.ParseFloat(strings.ReplaceAll(m.w, ",", "."), 64)
			size := false
			for _, unit := range []float64{1, inchMM, 10} {
				one := namedSize{w: v * unit}
				size = size || v > 0 && !told && one.agrees(s.WidthMM, s.HeightMM)
			}
			if !size {
				numbers = append(numbers, strings.TrimLeft(m.w, "0"))
			}
		}
		for i := m.start; i < m.end; i++ {
			rest[i] = ' '
		}
	}
	if letters = lettersOf(string(rest)); letters == "" {
		letters = lettersOf(title)
	}
	return letters, numbers
}

// namedAlike reports whether two names are one, or one with a word such as "small" added.
func namedAlike(a, b *Signature) bool {
	x, m := a.stem()
	y, n := b.stem()
	if len(m) > 0 && len(n) > 0 && !slices.Equal(m, n) && !numberedBySize(a, b, m, n) {
		return false
	}
	return x == y && x != "" || min(len(x), len(y)) >= 3 && (strings.HasPrefix(x, y) || strings.HasPrefix(y, x))
}

// numberedBySize reports whether the one number in each of two names goes with the size,
// as that of a block does of which only the middle is sewn.
func numberedBySize(a, b *Signature, m, n []string) bool {
	if len(m) != 1 || len(n) != 1 || sameSize(a, b) {
		return false
	}
	x, _ := strconv.ParseFloat(strings.ReplaceAll(m[0], ",", "."), 64)
	y, _ := strconv.ParseFloat(strings.ReplaceAll(n[0], ",", "."), 64)
	size := max(a.WidthMM, a.HeightMM) / max(b.WidthMM, b.HeightMM, 0.1)
	return x > 0 && y > 0 && size > 0 && math.Abs(math.Log(x/y/size)) <= math.Log(1+namedWithin)
}

// numberedApart reports whether two names are those of a series, one word and different
// numbers that are no sizes: "block 1" and "block 2".
func numberedApart(a, b *Signature) bool {
	x, m := a.stem()
	y, n := b.stem()
	return x == y && len(m) > 0 && len(n) > 0 && !slices.Equal(m, n)
}

// wrongNames lists the files whose names tell another size than their stitches have.
// Plain numbers count only where most names of the pack tell their size so.
func wrongNames(signs []*Signature) map[*Signature]string {
	good, told := 0, 0
	read := map[*Signature][]namedSize{}
	for _, s := range signs {
		read[s] = sizesInName(s.title())
		own, plain := false, false
		for i := range read[s] {
			own = own || read[s][i].agrees(s.WidthMM, s.HeightMM)
			plain = plain || read[s][i].plain
		}
		if plain {
			told++
			if own {
				good++
			}
		}
	}
	plainTells := told >= 2 && 2*good > told
	out := map[*Signature]string{}
	for _, s := range signs {
		wrong := ""
		for i := range read[s] {
			n := &read[s][i]
			if n.agrees(s.WidthMM, s.HeightMM) {
				wrong = ""
				break
			}
			if wrong == "" && (!n.plain || plainTells) {
				wrong = n.text
			}
		}
		if wrong != "" {
			out[s] = fmt.Sprintf("its name says %s, its stitches measure %s", wrong, s.units.Size(s.WidthMM, s.HeightMM))
		}
	}
	return out
}
