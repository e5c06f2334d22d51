package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode"
	"unicode/utf16"
)

// EncodeJSON is a value as JSON that is safe to print: control and formatting
// characters in its texts, which could steer a terminal or turn the direction of what
// follows, stand as \u escapes and decode to what they were (RFC 8259, section 7). The
// lines after the first begin with the prefix; without an indent it is all one line.
func EncodeJSON(v any, prefix, indent string) ([]byte, error) {
	text, err := json.Marshal(v)
	if err == nil && indent != "" {
		var b bytes.Buffer
		err = json.Indent(&b, text, prefix, indent)
		text = b.Bytes()
	}
	if err != nil {
		return nil, err
	}
	out := text[:0:0]
	from := 0
	for i, r := range string(text) {
		// All that is not within a text is plain ASCII, line ends among it.
		if r < 0x7f || unicode.IsGraphic(r) {
			continue
		}
		out = append(out, text[from:i]...)
		units := utf16.AppendRune(nil, r)
		for _, u := range units {
			out = fmt.Appendf(out, `\u%04x`, u)
		}
		from = i + len(string(r))
	}
	return append(out, text[from:]...), nil
}
