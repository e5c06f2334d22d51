package beside

import (
	"path"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/stitchfile"
)

// IsNotes reports whether a file is named like a notes file.
func IsNotes(name string) bool {
	return strings.HasSuffix(strings.ToLower(name), notes.Extension)
}

// IsStitchName reports whether a file is named like a stitch file.
func IsStitchName(name string) bool {
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
	return ext != "" && slices.ContainsFunc(stitchfile.Formats(), func(f stitchfile.Format) bool { return slices.Contains(f.Extensions, ext) })
}

// Stem is a file's name without folder and ending, as it stands.
func Stem(name string) string {
	base := path.Base(filepath.ToSlash(name))
	if IsNotes(base) {
		return base[:len(base)-len(notes.Extension)]
	}
	return strings.TrimSuffix(base, path.Ext(base))
}

// Letters is the letters of a file's name, without its ending, in lower case: what the
// sizes of one design share.
func Letters(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, Stem(name))
}
