package stitchtest

import (
	"encoding/binary"
	"unicode/utf16"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() { encoders["VP3"] = encodeVP3 }

func be32(b []byte, v int32) []byte { return binary.BigEndian.AppendUint32(b, uint32(v)) }

func vp3Wide(b []byte, s string) []byte {
	u := utf16.Encode([]rune(s))
	b = binary.BigEndian.AppendUint16(b, uint16(2*len(u)))
	for _, v := range u {
		b = binary.BigEndian.AppendUint16(b, v)
	}
	return b
}

func vp3Narrow(b []byte, s string) []byte {
	return append(binary.BigEndian.AppendUint16(b, uint16(len(s))), s...)
}

func vp3Packet(b []byte, tag byte, content []byte) []byte {
	return append(be32(append(b, 0, tag, 0), int32(len(content))), content...)
}

// encodeVP3 writes VP3. A jump in the midst of a block becomes part of the long
// move to the next stitch; those at its start become the start.
func encodeVP3(d *stitchfile.Design) ([]byte, error) {
	var blocks [][]byte
	var run []byte
	var startX, startY, x, y, toX, toY, stitches int32
	begun := false
	flush := func() {
		t := d.Thread(len(blocks))
		b := be32(be32(nil, 100*startX), 100*startY)
		b = append(b, 1, 0, t.Colour.R, t.Colour.G, t.Colour.B, 0, 0, 0, 5, byte(t.WeightClass))
		b = vp3Narrow(vp3Narrow(vp3Narrow(b, t.Catalogue), t.Name), t.Maker)
		b = be32(be32(b, 100*(x-startX)), 100*(y-startY))
		b = vp3Packet(b, 1, append([]byte{0x0A, 0xF6, 0}, run...))
		blocks = append(blocks, append(b, 0))
		run, begun = nil, false
		startX, startY = toX, toY
		x, y = toX, toY
	}
	begin := func() {
		if !begun {
			startX, startY, x, y = toX, toY, toX, toY
			begun = true
		}
	}
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.Jump:
			toX, toY = m.X, m.Y
		case stitchfile.Trim:
			begin()
			run = append(run, 0x80, 3)
		case stitchfile.ColourStop:
			flush()
		case stitchfile.Stitch:
			begin()
			dx, dy := m.X-x, y-m.Y
			if travelled := x != toX || y != toY; travelled || max(dx, -dx, dy, -dy) > 127 {
				run = append(run, 0x80, 1)
				run = binary.BigEndian.AppendUint16(run, uint16(dx))
				run = binary.BigEndian.AppendUint16(run, uint16(dy))
				run = append(run, 0x80, 2)
			} else {
				run = append(run, byte(dx), byte(dy))
			}
			x, y, toX, toY = m.X, m.Y, m.X, m.Y
			stitches++
		}
	}
	flush()

	const producer = "test"
	design := append(be32(be32(nil, 0), 0), 0, 0, 0)
	box, _ := d.Bounds()
	w, h := int32(100*box.Width()), int32(100*box.Height())
	for _, v := range []int32{-w / 2, w / 2, -h / 2, h / 2, w, h} {
		design = be32(design, v)
	}
	design = append(vp3Wide(design, d.Comments), 100, 100)
	for _, v := range []int32{4096, 0, 0, 4096} {
		design = be32(design, v)
	}
	design = vp3Wide(append(design, 120, 120, 80, 80, 1, 0), producer)
	design = binary.BigEndian.AppendUint16(design, uint16(len(blocks)))
	for _, b := range blocks {
		design = vp3Packet(design, 5, b)
	}
	summary := vp3Wide(nil, d.Comments)
	for _, v := range []int32{100 * box.MaxX, 100 * box.MaxY, 100 * box.MinX, 100 * box.MinY, stitches} {
		summary = be32(summary, v)
	}
	summary = binary.BigEndian.AppendUint16(summary, uint16(len(blocks)))
	summary = vp3Packet(append(summary, 12, 0, 1), 3, design)
	return vp3Packet(vp3Wide([]byte("%vsm%\x00"), producer), 2, summary), nil
}
