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

// colourRank is how well a file of that name tells the colours of its threads, by its
// format: the lowest best. A short list of colours tells little of what is meant.
func colourRank(name string) int {
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
	for _, f := range stitchfile.Formats() {
		if slices.Contains(f.Extensions, ext) {
			switch {
			case f.Carries.Colours == "rgb":
				return 0
			case f.Carries.Colours == "palette" && f.Name != "HUS":
				return 1
			case f.Carries.Colours == "palette":
				return 2
			}
		}
	}
	return 3
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
