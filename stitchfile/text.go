package stitchfile

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// headerText is the text at the start of b: at most n bytes, up to the first
// NUL or carriage return, without surrounding space. Bytes outside ASCII are
// kept if they are UTF-8 and read as Latin-1 otherwise, since old writers used
// the code page of their day. Control characters stay; whoever shows the text
// must deal with them.
func headerText(b []byte, n int) string {
	b = b[:min(n, len(b))]
	if i := bytes.IndexAny(b, "\x00\r"); i >= 0 {
		b = b[:i]
	}
	b = bytes.TrimSpace(b)
	if utf8.Valid(b) {
		return string(b)
	}
	var s strings.Builder
	for _, c := range b {
		s.WriteRune(rune(c))
	}
	return s.String()
}
