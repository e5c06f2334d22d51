package stitchtest

import "github.com/stopcard/stopcard/stitchfile"

func init() { encoders["PES"] = encodePES }

// encodePES writes version 1 with a design part cut down to its fixed start,
// which is common, and the PEC block at byte 22.
func encodePES(d *stitchfile.Design) ([]byte, error) {
	return appendPEC([]byte("#PES0001\x16\x00\x00\x00\x01\x00\x01\x00\x00\x00\xFF\xFF\x00\x00"), d)
}
