package stitchfile

import (
	"encoding/binary"
	"fmt"
	"io"
)

const (
	sewTable = 2
	sewStart = 0x1D78
	sewMost  = 256 // colours
)

func init() {
	RegisterFormat(Format{
		Name:       "SEW",
		Extensions: []string{"sew"},
		Doc:        "byte pairs as in JEF, from a fixed place on; colours by palette",
		Carries:    Carries{Colours: "palette"},
		Recognise:  recogniseSEW,
		Config:     configSEW,
		Decode:     decodeSEW,
	})
}

// recogniseSEW has no signature and no published description to go by: it wants
// palette indices where they belong and a stream of known commands throughout.
func recogniseSEW(data []byte, _ bool) Certainty {
	if len(data) <= sewStart {
		return No
	}
	n := int(binary.LittleEndian.Uint16(data))
	if n < 1 || n > sewMost {
		return No
	}
	for i := range n {
		if c := binary.LittleEndian.Uint16(data[sewTable+2*i:]); c < 1 || int(c) > len(jefPalette) {
			return No
		}
	}
	for p := sewStart; p+1 < len(data); {
		if data[p] != 0x80 {
			p += 2
			continue
		}
		switch code := data[p+1]; {
		case code == 0x10:
			return Possible
		case code&1 == 0 && code != 2 && code != 4:
			return No
		}
		p += 4
	}
	return Possible
}

// configSEW tells the number of colours, which is all that is known of the header.
func configSEW(lead []byte, _ io.ReaderAt) (Config, error) {
	c := unstated
	c.Claims.ColourStops = int(binary.LittleEndian.Uint16(lead)) - 1
	return c, nil
}

// decodeSEW reads SEW. Some files have the end mark 80 10, some just end. SEW cannot
// tell a name or a size, nor a halt from a thread change, and its cuts are derived from runs of jumps; its colours are
// places in a palette.
func decodeSEW(data []byte, dec *Decoder) (*Design, error) {
	a := newAssembler((len(data) - sewStart) / 2)
	a.deriveCuts(dec, 127)
	a.warn(0, "no published description of SEW is known; compare the picture before sewing")
	n := int(binary.LittleEndian.Uint16(data))
	a.d.Claims.ColourStops = n - 1
	ended, err := readSEWStitches(&a, data)
	blocks := a.d.Counts().ColourStops + 1
	for i := range min(n, blocks) {
		at := sewTable + 2*i
		a.d.Threads = append(a.d.Threads, paletteThread(&a, jefPalette[:], int(binary.LittleEndian.Uint16(data[at:])), at))
	}
	switch {
	case err != nil || n == blocks:
	case n > blocks && !ended:
		a.doubts(0, "the file lists %d colours for %d colour blocks, and has no end mark", n, blocks)
	default:
		a.warn(0, "the file lists %d colours for %d colour blocks", n, blocks)
	}
	a.repeatLast(blocks)
	if err != nil {
		return a.finish(), err
	}
	return a.finish(), nil
}

// readSEWStitches follows the stitches, and tells whether an end mark stands behind them.
func readSEWStitches(a *assembler, data []byte) (ended bool, err *FormatError) {
	p := sewStart
	for ; p+1 < len(data); p += 2 {
		ok := true
		if data[p] != 0x80 {
			ok = a.move(Stitch, 0, int32(int8(data[p])), int32(int8(data[p+1])))
		} else {
			code := data[p+1]
			if code == 0x10 {
				if i := indexNotPadding(data[p+2:]); i >= 0 {
					a.doubts(p+2+i, "%d bytes after the end mark are passed over", len(data)-p-2-i)
				} else {
					a.speaks("an end mark, and nothing behind it")
				}
				return true, nil
			}
			if p+4 > len(data) {
				return false, &FormatError{Format: "SEW", Offset: int64(p), Cause: ErrTruncated, Detail: "the file ends inside a command"}
			}
			dx, dy := int32(int8(data[p+2])), int32(int8(data[p+3]))
			switch {
			case code&1 == 1:
				a.here(ColourStop, 0)
				ok = dx == 0 && dy == 0 || a.move(Jump, 0, dx, dy)
			case code == 2 || code == 4:
				ok = a.move(Jump, 0, dx, dy)
			default:
				return false, &FormatError{Format: "SEW", Offset: int64(p), Cause: ErrCorrupt, Detail: fmt.Sprintf("unknown command 80 %02x", code)}
			}
			p += 2
		}
		if !ok {
			return false, &FormatError{Format: "SEW", Offset: int64(p), Cause: ErrCorrupt, Detail: "the position runs beyond 100 m"}
		}
	}
	a.warn(p, "no end mark, which SEW need not have: a file cut short cannot be told from a whole one")
	return false, nil
}
