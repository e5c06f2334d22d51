package stitchtest

import (
	"bytes"
	"encoding/binary"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() { encoders["XXX"] = encodeXXX }

// encodeXXX writes XXX. A stitch past a pair becomes a big stitch, a jump past it
// several.
func encodeXXX(d *stitchfile.Design) ([]byte, error) {
	var body bytes.Buffer
	var x, y int32
	records := 0
	for _, m := range d.Moves {
		dx, dy := m.X-x, m.Y-y
		records++
		switch m.Kind {
		case stitchfile.Stitch:
			if max(dx, -dx, dy, -dy) <= 124 {
				body.Write([]byte{byte(dx), byte(dy)})
			} else {
				body.Write([]byte{0x7D, byte(dx), byte(dx >> 8), byte(dy), byte(dy >> 8)})
			}
		case stitchfile.Jump:
			for _, v := range steps(dx, dy, 124) {
				body.Write([]byte{0x7F, 1, byte(v[0]), byte(v[1])})
			}
		case stitchfile.Trim:
			body.Write([]byte{0x7F, 3, 0, 0})
		case stitchfile.ColourStop:
			body.Write([]byte{0x7F, 8, 0, 0})
		}
		x, y = m.X, m.Y
	}
	body.Write([]byte{0x7F, 0x7F, 2, 0x14, 0, 0})
	blocks := d.Counts().ColourStops + 1
	for i := range blocks {
		c := d.Thread(i).Colour
		body.Write([]byte{0, c.R, c.G, c.B})
	}
	head := make([]byte, 0x100)
	binary.LittleEndian.PutUint32(head[0x17:], uint32(records))
	head[0x27] = byte(blocks)
	return append(head, body.Bytes()...), nil
}
