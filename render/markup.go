package render

import (
	"bufio"
	"io"
	"strconv"
	"strings"
)

// Texts that a page takes as they stand, by where they stand. Only what is made here may
// have these types, never a text from a file.
type (
	rawHTML string
	rawAttr string // an attribute, with its name
	rawCSS  string
	rawJS   string
	rawURL  string // a scheme that may be followed
)

// markup writes a page: what stands in its template as it is, and texts escaped as
// html/template does at their place. The calls of it are made from the templates; see
// pagewriter_test.go.
type markup struct{ w *bufio.Writer }

// write has a page written, and gives the error of w.
func write(w io.Writer, page func(markup)) error {
	out := markup{bufio.NewWriter(w)}
	page(out)
	return out.w.Flush() // which remembers the first error
}

// is writes markup.
func (m markup) is(s string) { m.w.WriteString(s) }

// escaped holds what would act in text or in a quoted attribute, and "+", which old
// browsers took for part of an encoding.
var escaped = strings.NewReplacer("\x00", "\uFFFD", `"`, "&#34;", "&", "&amp;", "'", "&#39;", "+", "&#43;", "<", "&lt;", ">", "&gt;")

// text writes a text between elements or within the quotes of an attribute.
func (m markup) text(s string) { escaped.WriteString(m.w, s) }

// number writes a number.
func (m markup) number(n int) { m.w.WriteString(strconv.Itoa(n)) }

// urlPart writes a part of an address, within the quotes of an attribute: nothing of it
// parts the address.
func (m markup) urlPart(s string) {
	for i := range len(s) {
		if unreserved(s[i]) {
			m.w.WriteByte(s[i])
		} else {
			m.percent(s[i])
		}
	}
}

// url writes a whole address, within the quotes of an attribute: what parts it (RFC 3986)
// stays, and so does what is encoded already.
func (m markup) url(s string) {
	for i := range len(s) {
		switch c := s[i]; {
		case unreserved(c), c == '%' && i+2 < len(s) && hexDigit(s[i+1]) && hexDigit(s[i+2]):
			m.w.WriteByte(c)
		case strings.IndexByte("!#$&*+,/:;=?@[]", c) >= 0:
			m.text(s[i : i+1])
		default:
			m.percent(c)
		}
	}
}

func (m markup) percent(c byte) {
	const digits = "0123456789abcdef"
	m.w.Write([]byte{'%', digits[c>>4], digits[c&15]})
}

// unreserved are the characters that mean themselves anywhere in an address (RFC 3986, 2.3).
func unreserved(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.IndexByte("-._~", c) >= 0
}

func hexDigit(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}
