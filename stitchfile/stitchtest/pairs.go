package stitchtest

import (
	"bytes"
	"encoding/binary"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() {
	encoders["EXP"] = func(d *stitchfile.Design) ([]byte, error) {
		body := bytePairs(d, 4, []byte{0x80, 0x80, 7, 0})
		return append(body, 0x80, 0x80), nil
	}
	encoders["JEF"] = encodeJEF
}

// bytePairs writes moves as signed byte pairs with four-byte commands, as EXP and
// JEF do. A stitch too long for a pair becomes jumps and a stitch.
func bytePairs(d *stitchfile.Design, jump byte, trim []byte) []byte {
	var b bytes.Buffer
	var x, y int32
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.Trim:
			b.Write(trim)
		case stitchfile.ColourStop:
			b.Write([]byte{0x80, 1, 0, 0})
		case stitchfile.Jump, stitchfile.Stitch:
			s := steps(m.X-x, m.Y-y, 127)
			for i, v := range s {
				if m.Kind == stitchfile.Jump || i < len(s)-1 {
					b.Write([]byte{0x80, jump})
				}
				b.Write([]byte{byte(v[0]), byte(v[1])})
			}
			x, y = m.X, m.Y
		}
	}
	return b.Bytes()
}

func encodeJEF(d *stitchfile.Design) ([]byte, error) {
	body := append(bytePairs(d, 2, []byte{0x80, 2, 0, 0}), 0x80, 0x10)
	blocks := d.Counts().ColourStops + 1
	var b []byte
	b = binary.LittleEndian.AppendUint32(b, uint32(116+8*blocks))
	b = binary.LittleEndian.AppendUint32(b, 20)
	b = append(b, "20260101120000"...)
	b = append(b, 0, 0)
	b = binary.LittleEndian.AppendUint32(b, uint32(blocks))
	b = binary.LittleEndian.AppendUint32(b, uint32(len(body)/2))
	b = binary.LittleEndian.AppendUint32(b, 4)
	box, _ := d.Bounds()
	for _, edge := range []int32{-box.MinX, box.MaxY, box.MaxX, -box.MinY} {
		b = binary.LittleEndian.AppendUint32(b, uint32(edge))
	}
	b = append(b, bytes.Repeat([]byte{0xFF}, 64)...)
	for i := range blocks {
		b = binary.LittleEndian.AppendUint32(b, uint32(stitchfile.JEFIndex(d.Thread(i))))
	}
	for range blocks {
		b = binary.LittleEndian.AppendUint32(b, 13)
	}
	return append(b, body...), nil
}
