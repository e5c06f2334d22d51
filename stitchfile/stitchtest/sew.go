package stitchtest

import (
	"encoding/binary"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() { encoders["SEW"] = encodeSEW }

// encodeSEW writes SEW, in which there are no cuts.
func encodeSEW(d *stitchfile.Design) ([]byte, error) {
	blocks := d.Counts().ColourStops + 1
	head := make([]byte, 0x1D78)
	binary.LittleEndian.PutUint16(head, uint16(blocks))
	for i := range blocks {
		binary.LittleEndian.PutUint16(head[2+2*i:], uint16(stitchfile.JEFIndex(d.Thread(i))))
	}
	return append(append(head, bytePairs(d, 4, nil)...), 0x80, 0x10), nil
}
