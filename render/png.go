package render

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"
)

// EncodePNG writes img as PNG with its resolution in a pHYs chunk, so that it
// prints at true size. dpi is in pixels per inch; the chunk holds pixels per
// metre, dpi/0.0254 rounded (PNG specification, W3C). Errors are those of w, or
// of a picture too large for the format.
func EncodePNG(w io.Writer, img image.Image, dpi float64) error {
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&b, img); err != nil {
		return err
	}
	data := b.Bytes()
	// Signature, 8 bytes; then IHDR: length, type, 13 bytes and a checksum.
	const afterIHDR = 8 + 4 + 4 + 13 + 4
	for _, part := range [][]byte{data[:afterIHDR], physChunk(dpi), data[afterIHDR:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

func physChunk(dpi float64) []byte {
	perMetre := uint32(math.Round(dpi / 0.0254))
	c := binary.BigEndian.AppendUint32(nil, 9)
	c = append(c, "pHYs"...)
	c = binary.BigEndian.AppendUint32(c, perMetre)
	c = binary.BigEndian.AppendUint32(c, perMetre)
	c = append(c, 1)
	return binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
}
