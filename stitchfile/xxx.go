package stitchfile

import (
	"encoding/binary"
	"image/color"
	"io"
)

const (
	xxxRecords = 0x17 // count less one; all before it is zero
	xxxColours = 0x27
	xxxHeader  = 0x100
)

func init() {
	RegisterFormat(Format{
		Name:       "XXX",
		Extensions: []string{"xxx"},
		Doc:        "byte pairs with escapes after a sparse header; colours by RGB behind them",
		Carries:    Carries{Colours: "rgb", Trims: true, Halts: true},
		Recognise:  recogniseXXX,
		Config: func(lead []byte, _ io.ReaderAt) (Config, error) {
			a := newAssembler(0)
			a.readXXXHeader(lead)
			return a.config(), nil
		},
		Decode: decodeXXX,
	})
}

// recogniseXXX has a run of zeros for a mark, so it asks for a stream of known
// codes up to an end record, or as far as the data goes where there is more; short
// of that the extension must speak for the file.
func recogniseXXX(data []byte, more bool) Certainty {
	if len(data) <= xxxHeader {
		return No
	}
	for _, b := range data[:xxxRecords] {
		if b != 0 {
			return No
		}
	}
	n := binary.LittleEndian.Uint32(data[xxxRecords:])
	if n == 0 || !more && int64(n) >= int64(len(data)) {
		return No
	}
	for p := xxxHeader; p+1 < len(data); {
		switch data[p] {
		case 0x7D, 0x7E:
			p += 5
		case 0x7F:
			switch c := data[p+1]; {
			case c == 0x7F || c == 0x18:
				return Likely
			case c == 1 || c == 3 || c == 8 || c >= 0x0A && c <= 0x17:
				p += 4
			default:
				return Possible
			}
		default:
			p += 2
		}
	}
	if more {
		return Likely
	}
	return Possible
}

// decodeXXX reads XXX. It cannot tell a name or a hoop. A halt is told from a thread
// change only by the colour, which stays the same.
func decodeXXX(data []byte, _ *Decoder) (*Design, error) {
	a := newAssembler((len(data) - xxxHeader) / 2)
	a.readXXXHeader(data)
	end, n, err := readXXXStitches(&a, data)
	if err != nil {
		return a.finish(), err
	}
	a.d.Records = n
	a.countedXXX(n)
	readXXXColours(&a, data, end)
	return a.finish(), nil
}

// looseXXX is how far the header's count may lie from the records: descriptions differ
// on whether the end and the first move count.
const looseXXX = 1

// countedXXX compares the header's count of records with the n before the end. Its
// place is known from memory alone, so it may speak for a design and not against it.
func (a *assembler) countedXXX(n int) {
	if claimed := a.d.Claims.Records - 1; claimed > 0 && max(n-claimed, claimed-n) <= looseXXX {
		a.speaks("the header counts %d records, and all are there", claimed)
	}
}

// readXXXHeader takes the two counts; nothing else of the header is known well
// enough.
func (a *assembler) readXXXHeader(head []byte) {
	a.d.Claims.Records = int(binary.LittleEndian.Uint32(head[xxxRecords:])&(1<<31-1)) + 1
	if n := int(head[xxxColours]); n > 0 {
		a.d.Claims.ColourStops = n - 1
	}
}

// readXXXStitches follows the stream to its end record and returns the place
// behind that.
func readXXXStitches(a *assembler, data []byte) (end, n int, bad *FormatError) {
	said := [256]bool{}
	for p := xxxHeader; ; {
		fail := func(cause error, detail string) (int, int, *FormatError) {
			return p, n, &FormatError{Format: "XXX", Offset: int64(p), Cause: cause, Detail: detail}
		}
		const cut = "expected a further record or the end record 7f 7f"
		if p+2 > len(data) {
			return fail(ErrTruncated, cut)
		}
		first, code := data[p], data[p+1]
		ok, size := true, 4
		switch {
		case first < 0x7D || first > 0x7F:
			ok, size = a.move(Stitch, 0, int32(int8(first)), int32(int8(code))), 2
		case first == 0x7F && (code == 0x7F || code == 0x18):
			return min(p+4, len(data)), n, nil
		case first != 0x7F:
			if size = 5; p+size > len(data) {
				return fail(ErrTruncated, cut)
			}
			if first == 0x7E && !said[0] {
				said[0] = true
				a.warn(p, "code 7e, whose meaning is not certain, taken as a big stitch")
			}
			ok = a.move(Stitch, 0, int32(int16(binary.LittleEndian.Uint16(data[p+1:]))), int32(int16(binary.LittleEndian.Uint16(data[p+3:]))))
		default:
			if p+size > len(data) {
				return fail(ErrTruncated, cut)
			}
			dx, dy := int32(int8(data[p+2])), int32(int8(data[p+3]))
			switch {
			case code == 3:
				a.here(Trim, 0)
			case code == 8 || code >= 0x0A && code <= 0x17:
				a.here(ColourStop, 0)
			case code != 1 && !said[code]:
				said[code] = true
				a.warn(p, "unknown command 7f %02x, taken as a jump", code)
			}
			if dx != 0 || dy != 0 || code == 1 {
				ok = a.move(Jump, 0, dx, dy)
			}
		}
		if !ok {
			return fail(ErrCorrupt, "the position runs beyond 100 m")
		}
		p += size
		n++
	}
}

// readXXXColours takes the words behind the end record, 00 RR GG BB after two
// zero bytes; that layout is not from a published description. A change to the
// same colour is how the format writes a halt.
func readXXXColours(a *assembler, data []byte, p int) {
	blocks := a.d.Counts().ColourStops + 1
	if p+2 > len(data) || data[p] != 0 || data[p+1] != 0 {
		if i := indexNotPadding(data[min(p, len(data)):]); i >= 0 {
			a.doubts(p+i, "no colours behind the end record, but %d other bytes", len(data)-p-i)
			return
		}
		a.warn(p, "no colours behind the end record")
		return
	}
	at := p
	p += 2
	for len(a.d.Threads) < blocks && p+4 <= len(data) && data[p] == 0 {
		a.d.Threads = append(a.d.Threads, Thread{Colour: color.RGBA{data[p+1], data[p+2], data[p+3], 0xFF}})
		p += 4
	}
	a.anotherBehind("XXX", joinedXXX(data, p))
	if len(a.d.Threads) == blocks {
		a.speaks("an end record, and the colours behind it")
	}
	a.markHalts()
	switch n := len(a.d.Threads); {
	case n < blocks:
		a.warn(at, "%d colours for %d colour blocks; the rest are shown as black", n, blocks)
		for len(a.d.Threads) < min(blocks, maxThreads) {
			a.d.Threads = append(a.d.Threads, Thread{Colour: color.RGBA{A: 0xFF}})
		}
	default:
		a.warn(at, "the colours stand where public descriptions are not certain of them")
	}
}
