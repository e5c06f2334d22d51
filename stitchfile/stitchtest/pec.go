package stitchtest

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image/color"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() {
	encoders["PEC"] = func(d *stitchfile.Design) ([]byte, error) { return appendPEC([]byte("#PEC0001"), d) }
}

// nearestPEC is the palette index whose colour is nearest by squared distance in
// RGB. A thread without colour counts as black.
func nearestPEC(c color.RGBA) byte {
	best, least := 0, 1<<30
	for i, p := range stitchfile.PECPalette() {
		r, g, b := int(p.R)-int(c.R), int(p.G)-int(c.G), int(p.B)-int(c.B)
		if far := r*r + g*g + b*b; far < least {
			best, least = i+1, far
		}
	}
	return byte(best)
}

// pecValue encodes one coordinate; flags force the long form.
func pecValue(b *bytes.Buffer, v int32, flags byte) {
	if flags == 0 && v >= -64 && v <= 63 {
		b.WriteByte(byte(v) & 0x7F)
		return
	}
	b.Write([]byte{0x80 | flags | byte(v>>8)&0x0F, byte(v)})
}

// appendPEC writes a PEC block with empty thumbnails. A trim without travel
// after it becomes a trim record of no length. Stitches past the long form
// become jumps and a stitch.
func appendPEC(out []byte, d *stitchfile.Design) ([]byte, error) {
	var body bytes.Buffer
	var x, y int32
	put := func(to stitchfile.Move, flags byte) {
		s := steps(to.X-x, to.Y-y, 2047)
		for i, v := range s {
			f := flags
			if i < len(s)-1 && f == 0 {
				f = 0x10
			}
			if i > 0 && f == 0x20 {
				f = 0x10 // only the first step cuts
			}
			pecValue(&body, v[0], f)
			pecValue(&body, -v[1], f)
		}
		x, y = to.X, to.Y
	}
	stops, trim := 0, false
	for _, m := range d.Moves {
		if trim && m.Kind != stitchfile.Jump {
			put(stitchfile.Move{X: x, Y: y}, 0x20)
			trim = false
		}
		switch m.Kind {
		case stitchfile.Trim:
			trim = true
		case stitchfile.Jump:
			flags := byte(0x10)
			if trim {
				flags = 0x20
			}
			put(m, flags)
			trim = false
		case stitchfile.Stitch:
			put(m, 0)
		case stitchfile.ColourStop:
			body.Write([]byte{0xFE, 0xB0, byte(2 - stops%2)})
			stops++
		}
	}
	if stops > 254 {
		return nil, errors.New("stitchtest: PEC holds at most 255 colour blocks")
	}
	body.Write([]byte{0xFF, 0})

	head := bytes.Repeat([]byte{' '}, 532)
	copy(head, "LA:")
	copy(head[3:19], d.Name)
	copy(head[19:], "\r")
	copy(head[31:], "\xFF\xFF\x00\x06\x26")
	head[48] = byte(stops)
	for i := range stops + 1 {
		head[49+i] = nearestPEC(d.Thread(i).Colour)
	}
	box, _ := d.Bounds()
	g := 20 + body.Len()
	copy(head[512:], []byte{0, 0, byte(g), byte(g >> 8), byte(g >> 16), 0x31, 0xFF, 0xF0})
	binary.LittleEndian.PutUint16(head[520:], uint16(box.Width()))
	binary.LittleEndian.PutUint16(head[522:], uint16(box.Height()))
	copy(head[524:], "\xE0\x01\xB0\x01\x90\x00\x90\x00")
	out = append(append(out, head...), body.Bytes()...)
	return append(out, make([]byte, 228*(stops+2))...), nil
}
