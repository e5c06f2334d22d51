// Package packed gives texts that the program carries packed by deflate (RFC 1951), to a
// fifth of their size.
package packed

import (
	"bytes"
	"compress/flate"
	"io"
)

// Text is the text that was packed; nil where the bytes are not deflate.
func Text(deflated []byte) []byte {
	text, err := io.ReadAll(flate.NewReader(bytes.NewReader(deflated)))
	if err != nil {
		return nil
	}
	return text
}

// Pack packs a text.
func Pack(text []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := flate.NewWriter(&out, flate.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(text); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
