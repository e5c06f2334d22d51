package main

import (
	"strings"
	"unicode"

	"github.com/rivo/uniseg"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// printable makes text from files safe for a terminal: control and formatting
// characters, line ends among them, become a middle dot.
func printable(s string) string {
	return settingsfile.Printable(s)
}

// wrap breaks text at spaces so that none of its lines is wider, and indents the
// lines after the first.
func wrap(text string, width int, indent string) string {
	var out strings.Builder
	column := 0
	apart := func(r rune) bool { return r != '\u00a0' && unicode.IsSpace(r) }
	for i, word := range strings.FieldsFunc(words.KeepFigures(text), apart) {
		word = strings.ReplaceAll(word, "\u00a0", " ")
		n := uniseg.StringWidth(word)
		switch {
		case i == 0:
		case column+1+n > width:
			out.WriteString("\n" + indent)
			column = 0
		default:
			out.WriteByte(' ')
			column++
		}
		out.WriteString(word)
		column += n
	}
	return out.String()
}

// pad fills text up to so many places of the screen, or cuts it to fit with one
// place left free.
func pad(text string, width int) string {
	if uniseg.StringWidth(text) > width {
		text = clip(text, width-1)
	}
	return text + strings.Repeat(" ", max(width-uniseg.StringWidth(text), 0))
}

// clip cuts text to so many places; what is cut shows as an ellipsis.
func clip(text string, width int) string {
	if uniseg.StringWidth(text) <= width && len(text) <= 16*width {
		return text
	}
	var out strings.Builder
	used := 1
	for g := uniseg.NewGraphemes(text); g.Next() && used+g.Width() <= width && out.Len() <= 16*width; used += g.Width() {
		if marks := g.Runes(); len(marks) > 8 {
			out.WriteString(string(marks[:8])) // more than any script stacks
		} else {
			out.WriteString(g.Str())
		}
	}
	return out.String() + "…"
}

// padEnd is pad for paths: it keeps the end, which tells them apart.
func padEnd(text string, width int) string {
	if uniseg.StringWidth(text) <= width {
		return pad(text, width)
	}
	runes := []rune(text)
	for len(runes) > 0 && uniseg.StringWidth(string(runes)) > width-1 {
		runes = runes[max(1, len(runes)-width):]
		if uniseg.StringWidth(string(runes)) > width-1 {
			runes = runes[1:]
		}
	}
	return pad("…"+string(runes), width)
}
