package render

import (
	"bytes"
	"compress/flate"
	_ "embed"
	"io"
	"sync"

	"golang.org/x/image/font/opentype"
)

// The Go fonts, packed by deflate (RFC 1951) to less than half.
//
//go:embed fonts/regular.deflate
var packedRegular []byte

//go:embed fonts/bold.deflate
var packedBold []byte

// fontFiles are the TrueType files of the embedded fonts, by weight.
var fontFiles = sync.OnceValues(func() (ttf [2][]byte, err error) {
	for i, packed := range [][]byte{packedRegular, packedBold} {
		if ttf[i], err = io.ReadAll(flate.NewReader(bytes.NewReader(packed))); err != nil {
			return ttf, err
		}
	}
	return ttf, nil
})

var parsed = sync.OnceValues(func() (fonts [2]*opentype.Font, err error) {
	files, err := fontFiles()
	if err != nil {
		return fonts, err
	}
	for i, ttf := range files {
		if fonts[i], err = opentype.Parse(ttf); err != nil {
			return fonts, err
		}
	}
	return fonts, nil
})
