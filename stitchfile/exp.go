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
// and stitches that go both ways along both axes, as most designs' do and prose
// does not, that go somewhere, as zeros do not, and that are short, or long like
// the one before, as noise is not; a few records alone cannot be told from noise.
// Straight lines and diagonals that never come back are taken where the file is named
// so, and where they are no prose.
func recogniseEXP(data []byte, _ bool) Certainty {
	if len(data) < 4 || marked(data) {
		return No
	}
	var known, unknown, plain, still, wild int
	var left, right, down, up bool
	smooth := true // each stitch is like the one before
	var px, py int
	for p := 0; p+1 < len(data); {
		if data[p] == 0x80 {
			switch data[p+1] {
			case 1, 2, 4, 0x80:
				known++
			default:
				unknown++
			}
			p += 4
			continue
		}
		x, y := int(int8(data[p])), int(int8(data[p+1]))
		plain++
		if x == 0 && y == 0 {
			still++
		}
		if max(x, -x, y, -y) > 64 && !alike(x, y, px, py) && !alike(x, y, -px, -py) {
			wild++
		}
		smooth = smooth && (plain == 1 || alike(x, y, px, py))
		left, right, down, up = left || x < 0, right || x > 0, down || y < 0, up || y > 0
		px, py = x, y
		p += 2
	}
	switch {
	case plain == 0, 2*still > plain:
		return No
	case plain < 16 && known == 0 && !(smooth && plain >= 4 && !prose(data)):
		return No
	case unknown > 2 && unknown*100 > known: // of few commands, two may be unknown
		return No
	case plain >= 16 && 3*wild > plain: // of noise, two in three are
		return No
	}
	switch {
	case left && right && down && up:
		return Possible
	case prose(data):
		return No
	}
	return Faint
}

// prose reports whether data is text, or has a header of text: of little but what is
// printed, from spaces to small letters, while the steps of a line are much alike.
func prose(data []byte) bool {
	least, most, printed := byte('~'), byte(' '), 0
	for _, b := range data {
		switch {
		case b >= ' ' && b <= '~':
			least, most = min(least, b), max(most, b)
			printed++
		case b == '\t' || b == '\n' || b == '\r':
			printed++
		}
	}
	const unlike = 40 // no line has steps that differ by 4 mm and never one that is short or goes back
	all := printed == len(data)
	return 4*printed > 3*len(data) && most > least && most-least > unlike ||
		all && (printed < 64 || bytes.IndexByte(data, '\n') >= 0) && !evenLine(data)
}

// evenLine reports whether data is the stitches of a line: as long as a machine sews, and
// each but the last, which is what was left of the line, like the one before. Of printed
// bytes, words have steps that are longer, since letters stand for 9 mm and more along each
// axis, and figures have steps that are less alike.
func evenLine(data []byte) bool {
	const (
		longest = 121 // tenths of a mm, as in formats that bound a stitch
		apart   = 2   // the same step, rounded from two places
	)
	for p := 0; p+1 < len(data); p += 2 {
		x, y := int(int8(data[p])), int(int8(data[p+1]))
		if x*x+y*y > longest*longest {
			return false
		}
		if p == 0 || p+4 > len(data) {
			continue
		}
		if dx, dy := x-int(int8(data[p-2])), y-int(int8(data[p-1])); max(dx, -dx, dy, -dy) > apart {
			return false
		}
	}
	return true
}

// alike reports whether two moves differ by no more than 3.2 mm along each axis.
func alike(x, y, px, py int) bool {
	dx, dy := x-px, y-py
	return max(dx, -dx, dy, -dy) <= 32
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
// it, needle up. EXP cannot tell a name, colours or a size, nor a halt from a thread
// change, nor, without an end mark, a whole file from one cut short.
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
	case !ended && indexNotPadding(data[p:]) >= 0:
		a.doubts(p, "half a stitch stands at the end, as in a file cut short")
	case !ended:
		a.warn(p, "no end mark, which EXP need not have: a file cut short cannot be told from a whole one")
	}
	return a.finish(), nil
}
