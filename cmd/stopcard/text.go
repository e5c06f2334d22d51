package main

import (
	"strings"
	"unicode"
)

// printable makes text from files safe for a terminal: control and formatting
// characters become a middle dot.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && !unicode.IsGraphic(r) {
			return '·'
		}
		return r
	}, s)
}

// wrap breaks text at spaces so that no line passes width, and indents the
// lines after the first.
func wrap(text string, width int, indent string) string {
	var out strings.Builder
	column := 0
	for i, word := range strings.Fields(text) {
		n := len([]rune(word))
		switch {
		case i == 0:
		case column+1+n > width:
			out.WriteString("\n" + indent)
			column = len(indent)
		default:
			out.WriteByte(' ')
			column++
		}
		out.WriteString(word)
		column += n
	}
	return out.String()
}
