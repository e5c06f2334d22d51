package stitchtest

import (
	"bytes"
	"fmt"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() { encoders["DST"] = encodeDST }

// dstRecord encodes one step in balanced ternary.
func dstRecord(dx, dy int32, flags byte) [3]byte {
	var r [3]byte
	digits := func(v int32, bits [5][3]uint8) {
		for i, w := range []int32{81, 27, 9, 3, 1} {
			switch {
			case v > (w-1)/2:
				r[bits[i][0]] |= 1 << bits[i][1]
				v -= w
			case v < -(w-1)/2:
				r[bits[i][0]] |= 1 << bits[i][2]
				v += w
			}
		}
	}
	digits(dx, [5][3]uint8{{2, 2, 3}, {1, 2, 3}, {0, 2, 3}, {1, 0, 1}, {0, 0, 1}})
	digits(dy, [5][3]uint8{{2, 5, 4}, {1, 5, 4}, {0, 5, 4}, {1, 7, 6}, {0, 7, 6}})
	r[2] |= 3 | flags
	return r
}

// encodeDST writes DST. A trim becomes the jumps of the travel that follows it,
// at least three; a stitch longer than a record becomes jumps and a stitch, as
// the format demands.
func encodeDST(d *stitchfile.Design) ([]byte, error) {
	var body bytes.Buffer
	var x, y, minX, minY, maxX, maxY int32
	records, changes := 0, 0
	put := func(dx, dy int32, flags byte) {
		r := dstRecord(dx, dy, flags)
		body.Write(r[:])
		x, y = x+dx, y+dy
		minX, maxX, minY, maxY = min(minX, x), max(maxX, x), min(minY, y), max(maxY, y)
		records++
	}
	travel := func(to stitchfile.Move, least int) {
		s := steps(to.X-x, to.Y-y, 121)
		for len(s) < least {
			s = append(s, [2]int32{})
		}
		for _, v := range s {
			put(v[0], v[1], 0x80)
		}
	}
	least := 1
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.Trim:
			least = stitchfile.DefaultTrimJumps
			continue
		case stitchfile.Jump:
			travel(m, least)
		case stitchfile.Stitch:
			if least > 1 {
				travel(m, least)
			}
			s := steps(m.X-x, m.Y-y, 121)
			for _, v := range s[:len(s)-1] {
				put(v[0], v[1], 0x80)
			}
			last := s[len(s)-1]
			put(last[0], last[1], 0)
		case stitchfile.ColourStop:
			put(0, 0, 0xC0)
			changes++
		}
		least = 1
	}
	body.Write([]byte{0, 0, 0xF3})
	head := fmt.Sprintf("LA:%-16.16s\rST:%7d\rCO:%3d\r+X:%5d\r-X:%5d\r+Y:%5d\r-Y:%5d\rAX:%+6d\rAY:%+6d\rMX:%+6d\rMY:%+6d\rPD:%6s\r\x1A",
		d.Name, records+1, changes, maxX, -minX, maxY, -minY, x, y, 0, 0, "******")
	return append(append([]byte(head), bytes.Repeat([]byte{' '}, 512-len(head))...), body.Bytes()...), nil
}
