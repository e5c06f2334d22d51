package stitchfile

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// maxPath is the longest place inside a pack, in bytes, that a Path spells out.
// A ZIP may hold names of 64 KiB.
const maxPath = 1024

// cleanPath turns the raw name of an entry into one to show: elements between
// slashes, none of them empty, "." or "..", and in them nothing that cannot be
// seen. It is never asked of the file system. Names that are not UTF-8 are in
// the code page of old ZIP files (APPNOTE.TXT, appendix D).
func cleanPath(raw string) string {
	if !utf8.ValidString(raw) {
		raw = ofCodePage(raw)
	}
	if len(raw) > maxPath {
		head, tail := raw[:maxPath/2], raw[len(raw)-maxPath/2:]
		raw = strings.ToValidUTF8(head, "") + "…" + strings.ToValidUTF8(tail, "")
	}
	raw = strings.Map(func(r rune) rune {
		switch {
		case r == '\\':
			return '/'
		case !unicode.IsGraphic(r):
			return utf8.RuneError
		}
		return r
	}, raw)
	if len(raw) > 1 && raw[1] == ':' {
		raw = raw[:1] + "/" + raw[2:] // a drive
	}
	var keep []string
	for part := range strings.SplitSeq(raw, "/") {
		part = strings.TrimSpace(part)
		if part != "" && part != "." && part != ".." {
			keep = append(keep, part)
		}
	}
	if len(keep) == 0 {
		return "unnamed"
	}
	return strings.Join(keep, "/")
}

// codePage437 has the upper half of the code page of old ZIP files, from 0x80 on. A test
// holds it to a library's table, which is among forty that a program cannot take one of.
const codePage437 = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐" +
	"└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0"

// ofCodePage reads bytes of that code page.
func ofCodePage(raw string) string {
	upper := []rune(codePage437)
	var out strings.Builder
	for _, b := range []byte(raw) {
		if b < utf8.RuneSelf {
			out.WriteByte(b)
		} else {
			out.WriteRune(upper[b-utf8.RuneSelf])
		}
	}
	return out.String()
}

// comparePaths orders names as a walk through folders meets them.
func comparePaths(a, b string) int {
	return slices.Compare(strings.Split(a, "/"), strings.Split(b, "/"))
}

// names tells entries of one path apart.
type names map[string]int

// unique returns p, or p with a number before its extension if p was had before.
func (n names) unique(p string) string {
	q := p
	for n[q] > 0 {
		n[p]++
		ext := path.Ext(p)
		q = fmt.Sprintf("%s (%d)%s", strings.TrimSuffix(p, ext), n[p], ext)
	}
	n[q] = max(1, n[q])
	return q
}

// kinds are the files that come with designs and are none, by extension. They
// are passed over without being read.
var kinds = sync.OnceValue(func() map[string]string {
	m := make(map[string]string)
	for kind, extensions := range map[string]string{
		"a document": "pdf txt rtf doc docx odt xls xlsx ods csv ppt pptx odp epub md htm html xml json url webloc lnk",
		"a picture":  "jpg jpeg png gif bmp tif tiff webp heic svg eps ai psd ico dxf",
		"a film":     "mp4 m4v mov avi mkv webm wmv mp3 m4a wav",
		"a font":     "ttf otf woff woff2",
		"a program":  "exe dll msi dmg pkg app bat cmd sh ps1 jar apk js py go",
		"an archive of a kind that is not read here": "rar 7z tar gz tgz bz2 xz zst cab iso",
		"data of the system":                         "db ini ds_store tmp bak log",
	} {
		for ext := range strings.FieldsSeq(extensions) {
			m[ext] = kind
		}
	}
	return m
})

// passedOver says what a file is that is no design by its name alone, or gives
// "" if it may be one.
func passedOver(name string) string {
	base := path.Base(name)
	if strings.HasPrefix(base, "._") || slices.Contains(strings.Split(name, "/"), "__MACOSX") {
		return "data of the system"
	}
	ext := extension(name)
	if claimed(ext) {
		return ""
	}
	return kinds()[ext]
}

// claimed reports whether a format has the extension for its own.
func claimed(ext string) bool {
	return slices.ContainsFunc(formats.all(), func(f Format) bool { return slices.Contains(f.Extensions, ext) })
}

// plainlyDesign reports whether data shows by itself, without a name, that it
// is a design.
func plainlyDesign(data []byte) bool {
	return slices.ContainsFunc(formats.all(), func(f Format) bool { return f.Recognise(data, false) >= Likely })
}
