package render

import (
	"path"
	"strings"
	"unicode"

	"github.com/stopcard/stopcard/analyse/report"
)

// titleOf is what a design is called: what the notes call it, else the name in the file, or the file's own
// where the one begins the other. Headers keep eight or sixteen letters of a name;
// what is left of it in the file's name makes it whole again.
func titleOf(r *report.Report) string {
	if noted := safeText(r.Title); noted != "" {
		return noted
	}
	header := safeText(r.Name)
	file := fileOf(r)
	file = strings.TrimSuffix(file, path.Ext(file))
	h, f := plainLetters(header), plainLetters(file)
	switch {
	case h == "" && f == "":
		return "Design without a name"
	case h == "":
		return file
	case f != "" && len(f) > len(h) && (strings.HasPrefix(f, h) || len(h) >= 4 && strings.Contains(f, h)):
		return file
	}
	return header
}

// plainLetters are the letters and figures of a name, small: what two spellings of
// one name share.
func plainLetters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}
