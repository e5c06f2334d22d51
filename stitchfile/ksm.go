package stitchfile

import (
	"bytes"
	"fmt"
)

func init() {
	RegisterFormat(Format{
		Name:       "KSM",
		Extensions: []string{"ksm"},
		Doc:        "three-byte records, y and x before their signs; no end mark known",
		Carries:    Carries{Colours: "none", Name: true},
		Recognise:  recogniseKSM,
		Config:     configDST("KSM"),
		Decode:     decodeKSM,
	})
}

// recogniseKSM goes by the highest bit of each third byte. Whether the header
// begins as that of DST does is not described, so one that does not leaves the
// matter to the extension.
func recogniseKSM(data []byte, _ bool) Certainty {
	if bytes.HasPrefix(data, []byte(dstMark)) {
		if len(data) < dstHeader {
			return No
		}
		switch dst, dsb, ksm := dstFamily(data[dstHeader:]); {
		case !ksm:
			return No
		case dst || dsb:
			return Likely
		}
		return Signature
	}
	n := 0
	for p := dstHeader; p+3 <= len(data) && n < 4096; p, n = p+3, n+1 {
		if data[p+2]&0x80 == 0 {
			if indexNotPadding(data[p:]) < 0 {
				break
			}
			return No
		}
	}
	if n < 16 {
		return No // noise may look like a few records
	}
	return Possible
}

// decodeKSM reads KSM: y, x, control. Bits 6 and 5 are taken as the signs of y and
// x, as in the sister formats; the one description contradicts itself on them. KSM
// cannot tell colours; how it writes cuts, halts and its end is not known.
func decodeKSM(data []byte, dec *Decoder) (*Design, error) {
	a := newAssembler((len(data) - dstHeader) / 3)
	a.deriveCuts(dec, 255)
	if bytes.HasPrefix(data, []byte(dstMark)) {
		readDSTHeader(&a, data[:dstHeader])
	}
	fail := func(p int, cause error, detail string) (*Design, error) {
		return a.finish(), &FormatError{Format: "KSM", Offset: int64(p), Cause: cause, Detail: detail}
	}
	said := [32]bool{}
	p := dstHeader
	for ; p+3 <= len(data); p += 3 {
		c := data[p+2]
		if c&0x80 == 0 {
			if indexNotPadding(data[p:]) < 0 {
				break
			}
			return fail(p, ErrCorrupt, fmt.Sprintf("control byte %02x without its highest bit: the records are out of step", c))
		}
		dx, dy := int32(data[p+1]), int32(data[p])
		if c&0x40 != 0 {
			dy = -dy
		}
		if c&0x20 != 0 {
			dx = -dx
		}
		kind, code := Stitch, c&0x1F
		switch {
		case code == 0:
		case code&0x19 == 0x19:
			a.here(ColourStop, 0)
			if dx == 0 && dy == 0 {
				continue
			}
			kind = Jump
		default:
			kind = Jump
			if !said[code] {
				said[code] = true
				a.warn(p+2, "unknown code %d, taken as a jump", code)
			}
		}
		if !a.move(kind, 0, dx, dy) {
			return fail(p, ErrCorrupt, "the position runs beyond 100 m")
		}
	}
	if indexNotPadding(data[p:]) >= 0 {
		return fail(p, ErrTruncated, "the file ends inside a record")
	}
	switch claimed, n := a.d.Claims.Records, (p-dstHeader)/3; {
	case claimed > n+1 || claimed > 0 && claimed < n:
		a.doubts(20, "header counts %d records, the design has %d", claimed, n)
	case claimed > 0:
		a.speaks("the header counts %d records, and all are there", claimed)
	default:
		a.warn(p, "no end mark of KSM is known: a file cut short cannot be told from a whole one")
	}
	a.d.Records = (p - dstHeader) / 3
	return a.finish(), nil
}
