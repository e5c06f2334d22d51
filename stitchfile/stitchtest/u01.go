package stitchtest

import (
	"encoding/binary"
	"fmt"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() {
	encoders["U01"] = encodeU01
	encoders["DSB"] = func(d *stitchfile.Design) ([]byte, error) {
		body := signedSizes(d, [3]int{0, 1, 2}, u01Codes)
		return withDSTHeader(d, append(body, 0xF8, 0, 0))
	}
	encoders["KSM"] = func(d *stitchfile.Design) ([]byte, error) {
		return withDSTHeader(d, signedSizes(d, [3]int{2, 0, 1}, map[stitchfile.Kind]byte{stitchfile.Jump: 1, stitchfile.ColourStop: 0x19}))
	}
}

var u01Codes = map[stitchfile.Kind]byte{stitchfile.Jump: 1, stitchfile.Trim: 0x67, stitchfile.ColourStop: 0x69}

// signedSizes writes records of a control byte, y and x, each at its place. A
// colour stop selects the next needle where the code is that of the first; a kind
// without a code is left out.
func signedSizes(d *stitchfile.Design, place [3]int, codes map[stitchfile.Kind]byte) []byte {
	var b []byte
	var x, y int32
	needle := 0
	put := func(code byte, dx, dy int32) {
		if dy < 0 {
			code, dy = code|0x40, -dy
		}
		if dx < 0 {
			code, dx = code|0x20, -dx
		}
		var r [3]byte
		r[place[0]], r[place[1]], r[place[2]] = 0x80|code, byte(dy), byte(dx)
		b = append(b, r[:]...)
	}
	for _, m := range d.Moves {
		code, known := codes[m.Kind]
		switch m.Kind {
		case stitchfile.Stitch, stitchfile.Jump:
			s := steps(m.X-x, m.Y-y, 255)
			for i, v := range s {
				if i < len(s)-1 {
					put(codes[stitchfile.Jump], v[0], v[1])
				} else {
					put(code, v[0], v[1])
				}
			}
			x, y = m.X, m.Y
		case stitchfile.ColourStop:
			if code&0x1F == 9 {
				needle++
				code += byte(needle % 15)
			}
			put(code, 0, 0)
		default:
			if known {
				put(code, 0, 0)
			}
		}
	}
	return b
}

func encodeU01(d *stitchfile.Design) ([]byte, error) {
	body := append(signedSizes(d, [3]int{0, 1, 2}, u01Codes), 0xF8, 0, 0)
	head := make([]byte, 0x100)
	for i := range 128 {
		head[i] = '0'
	}
	box, _ := d.Bounds()
	for i, v := range []int32{box.MinX, box.MinY, box.MaxX, box.MaxY} {
		binary.LittleEndian.PutUint16(head[0x80+2*i:], uint16(v))
	}
	binary.LittleEndian.PutUint32(head[0x8C:], uint32(len(body)/3))
	return append(head, body...), nil
}

// withDSTHeader sets body behind the header of the same design in DST, with its
// own number of records.
func withDSTHeader(d *stitchfile.Design, body []byte) ([]byte, error) {
	dst, err := encodeDST(d)
	if err != nil {
		return nil, err
	}
	head := dst[:512:512]
	copy(head[20:], fmt.Sprintf("ST:%7d\r", len(body)/3))
	return append(head, body...), nil
}
