package stitchtest

import (
	"encoding/binary"
	"errors"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() { encoders["PCS"] = encodePCS }

// encodePCS writes PCS, in which there are no cuts.
func encodePCS(d *stitchfile.Design) ([]byte, error) {
	head := make([]byte, 70)
	copy(head, []byte{0x32, 3, 16, 0})
	for i := range 16 {
		c := d.Thread(i).Colour
		copy(head[4+4*i:], []byte{c.R, c.G, c.B})
	}
	var body []byte
	block, count := 0, 0
	change := func() {
		body = append(body, byte(block%16), 0, 0, 0, 0, 0, 0, 0, 3)
		block++
	}
	change()
	for _, m := range d.Moves {
		flag := byte(0)
		switch m.Kind {
		case stitchfile.ColourStop:
			change()
			continue
		case stitchfile.Jump:
			flag = 4
		case stitchfile.Stitch:
		default:
			continue
		}
		body = binary.LittleEndian.AppendUint32(body, uint32(m.X<<8))
		body = binary.LittleEndian.AppendUint32(body, uint32(m.Y<<8))
		body = append(body, flag)
		count++
	}
	if count > 0xFFFF {
		return nil, errors.New("stitchtest: PCS counts at most 65535 stitches")
	}
	binary.LittleEndian.PutUint16(head[68:], uint16(count))
	out := append(head, body...)
	out = append(out, "BLOCK.BMP\x00\x00\x00\x00"...)
	return append(append(out, d.Comments...), 0), nil
}
