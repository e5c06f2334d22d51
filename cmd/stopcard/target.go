package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/stitchfile"
)

// target names the files that a verb writes, one for each design.
type target struct {
	out  string // as given with -o: a file, a folder that is there, or nothing
	used bool
}

// fits complains where -o names one file and several paths are given, or a file
// of another kind than the verb writes, which the endings name.
func (t *target) fits(s *session, paths []string, endings ...string) bool {
	if !isFolder(t.out) && !s.kindFits("-o", t.out, endings...) {
		return false
	}
	if len(paths) > 1 && t.out != "" && !isFolder(t.out) {
		s.complain("-o names one file, but %d designs are given; name a folder that is there", len(paths))
		return false
	}
	return true
}

// name is where a design's output goes, ending with the given ending unless -o
// names the file. A pack may hold more designs than fit one file.
func (t *target) name(s *session, got *input, ending string) (string, bool) {
	if got.renamed != "" && (t.out == "" || isFolder(t.out)) {
		s.complain("%s: what is made of it is named %s, since %s", got.path, got.stem, got.renamed)
	}
	switch {
	case t.out == "":
		return got.stem + ending, true
	case isFolder(t.out):
		return filepath.Join(t.out, got.stem+ending), true
	case t.used:
		s.complain("-o names one file, and %s is a further design; name a folder that is there", got.path)
		return "", false
	}
	t.used = true
	return t.out, true
}

// kindFits complains where the name of a file to be written, as given with a
// flag, is that of another kind of file.
func (s *session) kindFits(flag, name string, endings ...string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	begins := func(ending string) bool { return strings.HasPrefix(ending, ext) } // .htm is .html
	if slices.ContainsFunc(endings, begins) || !otherKind(ext) {
		return true
	}
	var kinds []string
	for _, ending := range endings {
		kinds = append(kinds, strings.ToUpper(filepath.Ext(ending)[1:]))
	}
	s.complain("%s %s: what is written there is %s, so let its name end with %s", flag, name, strings.Join(kinds, " or "), strings.Join(endings, " or "))
	return false
}

// otherKind reports whether an extension, in lower case, is known for what is in
// such files. Any other may be part of a name.
func otherKind(ext string) bool {
	switch ext {
	case ".png", ".svg", ".html", ".htm", ".jpg", ".jpeg", ".gif", ".webp", ".tif", ".tiff", ".bmp", ".pdf", ".zip":
		return true
	}
	for _, f := range stitchfile.Formats() {
		if slices.Contains(f.Extensions, strings.TrimPrefix(ext, ".")) {
			return true
		}
	}
	return false
}

// isFolder reports whether outputs go into path. A folder that is named like a
// picture is a mistake, and writing to it is refused as it is for any file.
func isFolder(path string) bool {
	if path == toStdout {
		return false
	}
	switch filepath.Ext(path) {
	case ".png", ".svg", ".pdf":
		return false
	}
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
