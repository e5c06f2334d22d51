package match

import "strings"

// sizeText is a size as it stands in a name.
type sizeText struct {
	start, end int    // in the name
	w, h, unit string // h is empty where there is one side only
}

// sizeTexts are the sizes in a name, from left to right.
func sizeTexts(name string) []sizeText {
	var out []sizeText
	for from := 0; from < len(name); {
		m, ok := sizeAt(name, from)
		if !ok {
			from++
			continue
		}
		out = append(out, m)
		from = m.end
	}
	return out
}

// sizeUnits are the units that may follow, in the order in which they are tried.
var sizeUnits = [...]string{"inches", "inch", "in", "\"", "mm", "cm", ""}

// sizeAt reads the size that begins at a place of a name: a number, or two with an x
// between, and a unit, in small letters or capitals, with or without spaces between. What
// follows is no letter or figure, but it may be an underscore.
func sizeAt(name string, from int) (sizeText, bool) {
	for _, w := range numberEnds(name, from) {
		x := skipSpaces(name, w)
		if x < len(name) && name[x]|0x20 == 'x' {
			second := skipSpaces(name, x+1)
			for _, h := range numberEnds(name, second) {
				if unit, end, ok := sizeUnit(name, h); ok {
					return sizeText{from, end, name[from:w], name[second:h], unit}, true
				}
			}
		}
		if unit, end, ok := sizeUnit(name, w); ok {
			return sizeText{from, end, name[from:w], "", unit}, true
		}
	}
	return sizeText{}, false
}

// numberEnds are where a number may end that begins at a place: after its fraction, and
// before that.
func numberEnds(s string, from int) []int {
	whole := skipDigits(s, from)
	if whole == from {
		return nil
	}
	if whole < len(s) && (s[whole] == '.' || s[whole] == ',') {
		if end := skipDigits(s, whole+1); end > whole+1 {
			return []int{end, whole}
		}
	}
	return []int{whole}
}

// sizeUnit reads the unit after a number, or none, and what ends a size.
func sizeUnit(s string, from int) (unit string, end int, ok bool) {
	for at := skipSpaces(s, from); ; at = from {
		for _, u := range sizeUnits {
			end := at + len(u)
			if end > len(s) || !strings.EqualFold(s[at:end], u) {
				continue
			}
			if end == len(s) || isWord(s[end-1]) != isWord(s[end]) {
				return s[at:end], end, true
			}
			if s[end] == '_' {
				return s[at:end], end + 1, true
			}
		}
		if at == from {
			return "", 0, false
		}
	}
}

func skipSpaces(s string, i int) int {
	for i < len(s) && strings.IndexByte(" \t\n\f\r", s[i]) >= 0 {
		i++
	}
	return i
}

func skipDigits(s string, i int) int {
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	return i
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// isWord reports whether a letter is one of a word: what stands against a size then is
// part of another word.
func isWord(b byte) bool { return isDigit(b) || b|0x20 >= 'a' && b|0x20 <= 'z' || b == '_' }
