package stitchfile

import (
	"bytes"
	"encoding/binary"
	"io"
)

func init() {
	RegisterFormat(Format{
		Name:       "JEF",
		Extensions: []string{"jef"},
		Doc:        "byte pairs after two colour tables; colours by palette",
		Carries:    Carries{Colours: "palette", Trims: true, Halts: true, Hoop: true},
		Recognise:  recogniseJEF,
		Config: func(lead []byte, _ io.ReaderAt) (Config, error) {
			a := newAssembler(0)
			a.readJEFHeader(lead)
			return a.config(), nil
		},
		Decode: decodeJEF,
	})
}

const (
	jefHeader      = 116
	jefMostColours = 500
)

// jefPlus begins the data that some files have between the colour tables and the
// stitches.
var jefPlus = []byte{0x4A, 0x41, 0x4E, 0x4F, 0x4D, 0x45, 0, 0}

// jefHoops are the fields that hoop codes 0 to 4 stand for, in mm. Public
// descriptions disagree on the first and the last.
var jefHoops = [...]Hoop{{126, 110}, {50, 50}, {140, 200}, {126, 110}, {230, 200}}

// recogniseJEF has no signature to go by: it wants a sane offset and colour count,
// a date or blanks, indices within the palette, and a stream of known commands.
// Where only the last two are lacking the extension may speak for the file.
func recogniseJEF(data []byte, more bool) Certainty {
	if len(data) < jefHeader+2 {
		return No
	}
	start, n := binary.LittleEndian.Uint32(data), binary.LittleEndian.Uint32(data[24:])
	if n < 1 || n > jefMostColours || start < jefHeader+8 || !more && int64(start) > int64(len(data)) {
		return No
	}
	for _, c := range data[8:22] {
		if c != 0 && c != ' ' && (c < '0' || c > '9') {
			return No
		}
	}
	if min(int64(start), int64(len(data))) < jefHeader+8*int64(n) || int64(start) > int64(len(data)) {
		return Possible
	}
	strange := uint32(0)
	for i := range n {
		if binary.LittleEndian.Uint32(data[jefHeader+4*i:]) > uint32(len(jefPalette)) {
			strange++
		}
	}
	if 2*strange > n {
		return Possible
	}
	for p := int(start); p+1 < len(data); {
		if data[p] != 0x80 {
			p += 2
			continue
		}
		switch data[p+1] {
		case 0x10:
			return Likely
		case 1, 2:
			p += 4
		default:
			return Possible
		}
	}
	return Likely
}

// decodeJEF reads JEF. A jump that goes nowhere is a cut; several in a row are one.
// JEF cannot tell a name, and its colours are places in a palette of which public
// lists disagree; whether a machine cuts at such a jump is a setting of its own.
func decodeJEF(data []byte, _ *Decoder) (*Design, error) {
	word := func(at int) uint32 { return binary.LittleEndian.Uint32(data[at:]) }
	start := int(word(0))
	a := newAssembler((len(data) - start) / 2)
	n := a.readJEFHeader(data)
	if gap := data[jefHeader+8*n : start]; len(gap) > 0 && !bytes.Contains(gap[:min(len(gap), 3+len(jefPlus))], jefPlus) {
		a.warn(0, "the stitches begin at byte %d, past the colour tables", start)
	}
	if date := headerText(data[8:], 14); date != "" {
		a.d.Fields = append(a.d.Fields, Field{"date", date})
	}
	if code := word(32); int64(code) < int64(len(jefHoops)) {
		a.d.Hoop = jefHoops[code]
	}
	end, err := readJEFStitches(&a, data, start)
	claimed, points := int(word(28)&(1<<31-1)), (end-start)/2
	ended := err == nil
	if err != nil && end == len(data) && claimed > 0 && claimed <= points {
		a.warn(end, "no end mark; all %d points that the header counts are there", claimed)
		err = nil
	}
	a.dressJEF(data, n, err == nil)
	a.checkJEF(claimed, points, err == nil, ended)
	if i := indexNotPadding(data[min(end, len(data)):]); err == nil && i >= 0 && len(data)-end > 2 { // the end mark may be two bytes or four
		a.doubts(end+i, "%d bytes after the end of the design are passed over", len(data)-end-i)
	}
	if err != nil {
		return a.finish(), err
	}
	return a.finish(), nil
}

// readJEFHeader takes the size and the number of colours, which it returns. How many
// records there are the header does not say: it counts pairs of bytes, of which a
// command takes two.
func (a *assembler) readJEFHeader(head []byte) int {
	word := func(at int) uint32 { return binary.LittleEndian.Uint32(head[at:]) }
	n := int(word(24))
	if fit := (int(word(0)) - jefHeader) / 8; n > fit {
		a.warn(24, "%d colours are listed, there is room for %d", n, fit)
		n = fit
	}
	c := &a.d.Claims
	c.ColourStops = n - 1
	if left, top, right, bottom := int32(word(36)), int32(word(40)), int32(word(44)), int32(word(48)); min(left, top, right, bottom) >= 0 {
		c.Width, c.Height = int(left)+int(right), int(top)+int(bottom)
	}
	return n
}

// dressJEF gives each colour block its thread. Index 0 marks a halt: the thread
// before goes on. Of a whole design the colours are held against the blocks.
func (a *assembler) dressJEF(data []byte, n int, whole bool) {
	block := 0
	for i := range a.d.Moves {
		if a.d.Moves[i].Kind == ColourStop {
			if block++; block < n && jefIndex(data, block) == 0 {
				a.d.Moves[i].Mark |= MarkHalt
			}
		}
	}
	for i := range min(block+1, n) {
		if index := jefIndex(data, i); index != 0 || i == 0 {
			a.d.Threads = append(a.d.Threads, paletteThread(a, jefPalette[:], index, jefHeader+4*i))
		} else {
			a.d.Threads = append(a.d.Threads, a.d.Threads[i-1])
		}
	}
	a.repeatLast(block + 1)
	if whole && block+1 != n {
		a.warn(24, "the file lists %d colours for %d colour blocks", n, block+1)
	}
}

// checkJEF compares the header's count of points, pairs of bytes of which a
// command takes two, and its extents with what was read.
func (a *assembler) checkJEF(claimed, points int, whole, ended bool) {
	if !whole {
		return // how many of the points left are commands is not known
	}
	a.d.Claims.Records = max(0, claimed-points+len(a.d.Moves))
	switch {
	case ended && claimed < points:
		// Where the end stands a count of fewer is not filled in, or is of something else.
		a.speaks("an end mark")
		a.warn(28, "header counts %d points, the design has %d", claimed, points)
	case claimed != points:
		a.doubts(28, "header counts %d points, the design has %d", claimed, points)
	case claimed > 0:
		a.speaks("the header counts %d points, and all are there", claimed)
	}
	c := a.d.Claims
	if box, ok := a.d.Bounds(); ok && c.Width >= 0 && c.Height >= 0 {
		dw, dh := box.Width()-int64(c.Width), box.Height()-int64(c.Height)
		if max(dw, -dw, dh, -dh) > 2 {
			a.warn(36, "header states %.1f by %.1f mm, the sewn part is %.1f by %.1f mm",
				float64(c.Width)/10, float64(c.Height)/10, float64(box.Width())/10, float64(box.Height())/10)
		}
	}
}

func jefIndex(data []byte, i int) int {
	return int(binary.LittleEndian.Uint32(data[jefHeader+4*i:]))
}

// readJEFStitches follows the stream at p up to its end mark 80 10 and returns the
// place behind that.
func readJEFStitches(a *assembler, data []byte, p int) (int, *FormatError) {
	fail := func(cause error, detail string) (int, *FormatError) {
		return p, &FormatError{Format: "JEF", Offset: int64(p), Cause: cause, Detail: detail}
	}
	said := [256]bool{}
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
				return p + 2, nil
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
				if code != 2 && !said[code] {
					said[code] = true
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
