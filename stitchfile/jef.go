package stitchfile

import "encoding/binary"

func init() {
	RegisterFormat(Format{
		Name:       "JEF",
		Extensions: []string{"jef"},
		Doc:        "byte pairs after two colour tables; colours by palette",
		Carries:    Carries{Colours: "palette", Trims: true, Hoop: true},
		Recognise:  recogniseJEF,
		Decode:     decodeJEF,
	})
}

const jefHeader = 116

// jefHoops are the fields that hoop codes 0 to 4 stand for, in mm. Public
// descriptions disagree on the first and the last.
var jefHoops = [...]Hoop{{126, 110}, {50, 50}, {140, 200}, {126, 110}, {230, 200}}

// recogniseJEF has no signature to go by: it wants a sane offset and colour
// count, a date or blanks, and indices within the palette.
func recogniseJEF(data []byte) Certainty {
	if len(data) < jefHeader+2 {
		return No
	}
	start, n := binary.LittleEndian.Uint32(data), binary.LittleEndian.Uint32(data[24:])
	if n < 1 || n > 500 || start < jefHeader || int64(start) > int64(len(data)) || int64(start) < jefHeader+8*int64(n) {
		return No
	}
	for _, c := range data[8:22] {
		if c != 0 && c != ' ' && (c < '0' || c > '9') {
			return No
		}
	}
	for i := range n {
		if binary.LittleEndian.Uint32(data[jefHeader+4*i:]) > 255 {
			return No
		}
	}
	return Likely
}

// decodeJEF reads JEF. A jump that goes nowhere is a cut; several in a row are one.
func decodeJEF(data []byte, _ *Decoder) (*Design, error) {
	start, n := int(binary.LittleEndian.Uint32(data)), int(binary.LittleEndian.Uint32(data[24:]))
	a := newAssembler((len(data) - start) / 2)
	if start != jefHeader+8*n {
		a.warn(0, "the stitches begin at byte %d, past the colour tables", start)
	}
	if date := headerText(data[8:], 14); date != "" {
		a.d.Fields = append(a.d.Fields, Field{"date", date})
	}
	if code := binary.LittleEndian.Uint32(data[32:]); int64(code) < int64(len(jefHoops)) {
		a.d.Hoop = jefHoops[code]
	}
	a.d.Claims.ColourStops = n - 1
	err := readJEFStitches(&a, data, start)

	// Index 0 marks a halt: the thread before goes on.
	block := 0
	for i := range a.d.Moves {
		if a.d.Moves[i].Kind == ColourStop {
			if block++; block < n && jefIndex(data, block) == 0 {
				a.d.Moves[i].Mark |= MarkHalt
			}
		}
	}
	for i := range block + 1 {
		at := min(i, n-1)
		if index := jefIndex(data, at); index != 0 || i == 0 {
			a.d.Threads = append(a.d.Threads, paletteThread(&a, jefPalette[:], index, jefHeader+4*at))
		} else {
			a.d.Threads = append(a.d.Threads, a.d.Threads[i-1])
		}
	}
	if block+1 != n {
		a.warn(24, "the file lists %d colours for %d colour blocks", n, block+1)
	}
	d := a.finish()
	if err != nil {
		return d, err
	}
	return d, nil
}

func jefIndex(data []byte, i int) int {
	return int(binary.LittleEndian.Uint32(data[jefHeader+4*i:]))
}

// readJEFStitches follows the stream at p up to its end mark 80 10.
func readJEFStitches(a *assembler, data []byte, p int) *FormatError {
	fail := func(cause error, detail string) *FormatError {
		return &FormatError{Format: "JEF", Offset: int64(p), Cause: cause, Detail: detail}
	}
	for {
		if p+2 > len(data) {
			return fail(ErrTruncated, "expected a further stitch or the end mark 80 10")
		}
		ok := true
		if data[p] != 0x80 {
			ok = a.move(Stitch, 0, int32(int8(data[p])), int32(int8(data[p+1])))
			p += 2
		} else {
			code := data[p+1]
			if code == 0x10 {
				return nil
			}
			if p+4 > len(data) {
				return fail(ErrTruncated, "the file ends inside a command")
			}
			dx, dy := int32(int8(data[p+2])), int32(int8(data[p+3]))
			switch {
			case code == 1:
				a.here(ColourStop, 0)
				if dx != 0 || dy != 0 {
					ok = a.move(Jump, 0, dx, dy)
				}
			case code == 2 && dx == 0 && dy == 0:
				if k := len(a.d.Moves); k == 0 || a.d.Moves[k-1].Kind != Trim {
					a.here(Trim, 0)
				}
			default:
				if code != 2 {
					a.warn(p, "unknown command 80 %02X, taken as a jump", code)
				}
				ok = a.move(Jump, 0, dx, dy)
			}
			p += 4
		}
		if !ok {
			return fail(ErrCorrupt, "the position runs beyond 100 m")
		}
	}
}
