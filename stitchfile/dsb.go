package stitchfile

import "bytes"

func init() {
	RegisterFormat(Format{
		Name:       "DSB",
		Extensions: []string{"dsb"},
		Doc:        "the records of U01 after the text header of DST",
		Carries:    Carries{Colours: "none", Trims: true, Halts: true, Name: true},
		Recognise:  recogniseDSB,
		Config:     configDST("DSB"),
		Decode:     decodeDSB,
	})
}

func recogniseDSB(data []byte, _ bool) Certainty {
	if len(data) < dstHeader || !bytes.HasPrefix(data, []byte(dstMark)) {
		return No
	}
	switch dst, dsb, _ := dstFamily(data[dstHeader:]); {
	case !dsb:
		return No
	case dst:
		return Likely // a few records; the name decides
	}
	return Signature
}

// decodeDSB reads DSB. Its only description has examples that do not tell x from
// y, so the order is that of U01 unless the header's extents speak for the other.
// DSB cannot tell colours: its changes name a needle of the machine, not a thread.
func decodeDSB(data []byte, _ *Decoder) (*Design, error) {
	r := needleReader{assembler: newAssembler((len(data) - dstHeader) / 3), format: "DSB", data: data, control: 0, y: 1, x: 2, sequinCode: 0xD7}
	readDSTHeader(&r.assembler, data[:dstHeader])
	r.count = r.d.Claims.Records
	if c := r.d.Claims; c.Width > 0 && c.Height > 0 && c.Width != c.Height {
		w, h := dsbExtents(data[dstHeader:])
		if near(w, c.Height) && near(h, c.Width) && !(near(w, c.Width) && near(h, c.Height)) {
			r.warn(dstHeader, "the header's extents fit records of x before y, so they are read that way")
			r.y, r.x = 2, 1
		}
	}
	return r.read(dstHeader)
}

func near(a, b int) bool { return max(a-b, b-a) <= 2 }

// dsbExtents is the size of the way that the records take with y before x, the
// start included.
func dsbExtents(body []byte) (w, h int) {
	var x, y, minX, maxX, minY, maxY int
	for p := 0; p+3 <= len(body); p += 3 {
		c, dy, dx := body[p], int(body[p+1]), int(body[p+2])
		if c&0x80 == 0 || c&0x1F == 0x18 {
			break
		}
		if c&0x40 != 0 {
			dy = -dy
		}
		if c&0x20 != 0 {
			dx = -dx
		}
		x, y = x+dx, y+dy
		minX, maxX, minY, maxY = min(minX, x), max(maxX, x), min(minY, y), max(maxY, y)
	}
	return maxX - minX, maxY - minY
}
