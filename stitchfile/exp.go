package stitchfile

import "bytes"

func init() {
	RegisterFormat(Format{
		Name:       "EXP",
		Extensions: []string{"exp"},
		Doc:        "byte pairs alone: no header, no colours, often no end mark",
		Carries:    Carries{Colours: "none", Trims: true},
		Recognise:  recogniseEXP,
		Decode:     decodeEXP,
	})
}

// recogniseEXP has nothing to go by but the stream: next to no unknown commands,
// and stitches that go both ways along both axes, as every design's do and prose
// does not, and that are mostly short, as noise is not; a few records alone
// cannot be told from noise by their length.
func recogniseEXP(data []byte) Certainty {
	if len(data) < 4 || marked(data) {
		return No
	}
	var known, unknown, plain, long int
	var signs [2][2]bool
	for p := 0; p+1 < len(data); {
		if data[p] != 0x80 {
			plain++
			for axis := range 2 {
				v := int8(data[p+axis])
				if v > 64 || v < -64 {
					long++
					break
				}
			}
			for axis := range 2 {
				if v := int8(data[p+axis]); v != 0 {
					signs[axis][min(1, max(0, int(v)))] = true
				}
			}
			p += 2
			continue
		}
		switch data[p+1] {
		case 1, 2, 4, 0x80:
			known++
		default:
			unknown++
		}
		p += 4
	}
	both := signs[0][0] && signs[0][1] && signs[1][0] && signs[1][1]
	if plain < 16 && known == 0 {
		return No // too little to tell from noise
	}
	// One in a hundred may be unknown; of few commands, two.
	if plain == 0 || !both || unknown > 2 && unknown*100 > known || plain >= 16 && long*2 > plain {
		return No
	}
	return Possible
}

// marked reports whether data starts with the mark of another format, so that a
// reader without one of its own need look no further.
func marked(data []byte) bool {
	for _, mark := range []string{dstMark, pesMark, pecMark, vp3Mark, "\x5B\xAF\xC8\x00", "\x5D\xFC"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return true
		}
	}
	return false
}

// decodeEXP reads EXP. The move that may stand in a colour change is made after
// it, needle up.
func decodeEXP(data []byte, _ *Decoder) (*Design, error) {
	a := newAssembler(len(data) / 2)
	p, ended, disputed, lowest := 0, false, false, false
	fail := func(cause error, detail string) (*Design, error) {
		return a.finish(), &FormatError{Format: "EXP", Offset: int64(p), Cause: cause, Detail: detail}
	}
	for p+1 < len(data) && !ended {
		ok := true
		if data[p] != 0x80 {
			if data[p+1] == 0x80 && !lowest {
				lowest = true
				a.warn(p, "a stitch of -128 along y, which writers keep for commands along x")
			}
			ok = a.move(Stitch, 0, int32(int8(data[p])), int32(int8(data[p+1])))
			p += 2
		} else {
			code := data[p+1]
			if code == 0x80 && indexNotPadding(data[p+2:]) < 0 {
				if len(data)-p < 4 {
					a.warn(p, "80 80 at the very end may be the end mark, or half of a cut in a file cut short")
				}
				ended = true
				break
			}
			if p+4 > len(data) {
				return fail(ErrTruncated, "the file ends inside a command")
			}
			dx, dy := int32(int8(data[p+2])), int32(int8(data[p+3]))
			switch code {
			case 0x80:
				a.here(Trim, 0)
				if dx != 0 && dx != 7 || dy != 0 {
					a.warn(p, "a trim with a move, which is passed over")
				}
			case 2, 4:
				if code == 2 && !disputed {
					disputed = true
					a.warn(p, "command 80 02, whose meaning is disputed, taken as a jump")
				}
				ok = a.move(Jump, 0, dx, dy)
			default:
				if code != 1 {
					a.warn(p, "unknown command 80 %02X, taken as a %s", code, map[bool]string{true: "colour change", false: "halt"}[code&1 == 1])
				}
				mark := Mark(0)
				if code&1 == 0 {
					mark = MarkHalt
				}
				a.here(ColourStop, mark)
				if dx != 0 || dy != 0 {
					ok = a.move(Jump, 0, dx, dy)
				}
			}
			p += 4
		}
		if !ok {
			return fail(ErrCorrupt, "the position runs beyond 100 m")
		}
	}
	switch {
	case !ended && p < len(data):
		a.warn(p, "an odd byte at the end; a file cut short may look like this")
	case !ended:
		a.warn(p, "no end mark, which EXP need not have: a file cut short cannot be told from a whole one")
	}
	return a.finish(), nil
}
