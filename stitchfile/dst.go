package stitchfile

import (
	"bytes"
	"encoding/hex"
	"image/color"
	"io"
	"strconv"
	"strings"
)

const (
	dstMark   = "LA:"
	dstHeader = 512
)

func init() {
	RegisterFormat(Format{
		Name:       "DST",
		Extensions: []string{"dst"},
		Doc:        "three-byte records after a text header; cuts are runs of jumps",
		Carries:    Carries{Colours: "none", Name: true},
		Recognise:  recogniseDST,
		Config:     configDST("DST"),
		Decode:     decodeDST,
	})
}

// recogniseDST wants the text header and a body in which every record has the
// two low bits that all its records share.
func recogniseDST(data []byte, more bool) Certainty {
	if !bytes.HasPrefix(data, []byte(dstMark)) {
		return recogniseBareDST(data, more)
	}
	if len(data) < dstHeader {
		return Likely // decodeDST says how short it is
	}
	switch dst, dsb, ksm := dstFamily(data[dstHeader:]); {
	case !dst:
		return No
	case dsb || ksm:
		return Likely
	}
	return Signature
}

// dstFamily judges which of the formats with this header the records may be of.
// DST sets the two low bits of each record's last byte, but old converters not
// always; DSB sets the highest bit of the first byte, and KSM of the last. Without
// a record only DST is taken for possible.
func dstFamily(body []byte) (dst, dsb, ksm bool) {
	const enough = 4096
	// Padding is no record; a last record may end like it.
	sound := (len(bytes.TrimRight(body, "\x00\x1A \r\n")) + 2) / 3 * 3
	body = body[:min(sound, len(body))]
	dsb, ksm = true, true
	odd, n, end := 0, 0, 0
	var dstEnds, dsbEnds bool
	for ; 3*n+3 <= len(body) && n < enough; n++ {
		r := body[3*n : 3*n+3]
		dstEnds = dstEnds || r[0] == 0 && r[1] == 0 && r[2]&0xF3 == 0xF3
		if !dstEnds && r[2]&3 != 3 {
			odd++
		}
		dsb = dsb && (dsbEnds || r[0]&0x80 != 0)
		if dsb && !dsbEnds && r[0]&0x1F == 0x18 {
			dsbEnds, end = true, n
		}
		ksm = ksm && r[2]&0x80 != 0
	}
	dst = odd*20 <= n
	// By chance a first byte may look like an end; with as many records of DST or KSM
	// after it, it was none.
	if dsbEnds && (dst || ksm) && n-end > max(8, end) {
		dsb = false
	}
	return dst, dsb && n > 0, ksm && n > 0
}

// recogniseBareDST allows for a header that does not begin as it should, if every
// record up to an end record is sound, or all are as far as the data goes where
// there is more.
func recogniseBareDST(data []byte, more bool) Certainty {
	p := dstHeader
	for ; p+3 <= len(data) && data[p+2]&3 == 3; p += 3 {
		if data[p] == 0 && data[p+1] == 0 && data[p+2] == 0xF3 {
			if p == dstHeader {
				return No
			}
			return Possible
		}
	}
	if more && p > dstHeader && p+3 > len(data) {
		return Possible
	}
	return No
}

// dstDelta is what the digit bits of one byte of a record add to x and y.
type dstDelta struct{ x, y int16 }

// dstDigits holds dstDelta for each value of each of the three bytes. The
// digits are balanced ternary: weights 1, 3, 9, 27 and 81, each with a bit for
// plus and a bit for minus.
var dstDigits = func() (t [3][256]dstDelta) {
	weights := [3][2]int16{{1, 9}, {3, 27}, {81, 0}}
	bits := func(v int, plus, minus uint, w int16) int16 {
		return w * int16(v>>plus&1-v>>minus&1)
	}
	for v := range 256 {
		for i := range 2 {
			low, high := weights[i][0], weights[i][1]
			t[i][v] = dstDelta{
				x: bits(v, 0, 1, low) + bits(v, 2, 3, high),
				y: bits(v, 7, 6, low) + bits(v, 5, 4, high),
			}
		}
		t[2][v] = dstDelta{x: bits(v, 2, 3, 81), y: bits(v, 5, 4, 81)}
	}
	return t
}()

// decodeDST reads DST: a 512-byte text header, then records of three bytes. DST
// cannot tell colours, nor a halt from a thread change. It cannot tell a cut
// either: cuts are derived from runs of jumps, which some machines sew across.
func decodeDST(data []byte, dec *Decoder) (*Design, error) {
	if len(data) < dstHeader {
		return nil, errShortHeader("DST", data, dstHeader)
	}
	if len(data) < dstHeader+3 {
		return nil, &FormatError{Format: "DST", Offset: int64(len(data)), Cause: ErrTruncated, Detail: "expected a record behind the header"}
	}
	a := newAssembler((len(data) - dstHeader) / 3)
	readDSTHeader(&a, data[:dstHeader])

	a.deriveCuts(dec, 121)
	var (
		p         = dstHeader
		records   = 0
		sequins   = false
		odd, ends = 0, false
	)
	for ; p+3 <= len(data); p += 3 {
		if n := a.dstStitches(data[p:]); n > 0 {
			p, records = p+3*n, records+n
			if p+3 > len(data) {
				break
			}
		}
		b := data[p+2]
		d0, d1, d2 := dstDigits[0][data[p]], dstDigits[1][data[p+1]], dstDigits[2][b]
		dx := int32(d0.x) + int32(d1.x) + int32(d2.x)
		dy := int32(d0.y) + int32(d1.y) + int32(d2.y)
		ok := true
		switch {
		case b&0xC0 == 0:
			ok = a.move(Stitch, 0, dx, dy)
		case b&0xF3 == 0xF3:
			ends = true
		case b&0xC0 == 0x80 && sequins:
			ok = a.move(Jump, MarkSequin, dx, dy)
		case b&0xC0 == 0x80:
			ok = a.move(Jump, 0, dx, dy)
		case b&0xC0 == 0xC0:
			if dx != 0 || dy != 0 {
				ok = a.move(Jump, 0, dx, dy)
			}
			a.here(ColourStop, 0)
		default:
			sequins = !sequins
			if sequins {
				a.warn(p, "sequin mode: the sequins are kept as marked jumps")
			}
			if dx != 0 || dy != 0 {
				ok = a.move(Jump, 0, dx, dy)
			}
		}
		if !ok {
			return a.finish(), &FormatError{Format: "DST", Offset: int64(p), Cause: ErrCorrupt, Detail: "the position runs beyond 100 m"}
		}
		if ends {
			break
		}
		if b&3 != 3 {
			if odd == 0 {
				a.warn(p, "record without its two low bits set, read all the same")
			}
			odd++
		}
		records++
	}
	claimed := a.d.Claims.Records
	if ends {
		if i := indexNotPadding(data[p+3:]); i >= 0 {
			a.doubts(p+3+i, "%d bytes after the end of the design are passed over", len(data)-p-3-i)
		} else {
			a.speaks("an end record, and nothing behind it")
		}
	}
	// Some writers count the end record, some do not.
	// Where the end stands a count of fewer is not filled in, or is of something else.
	switch {
	case claimed > records+1, claimed >= 0 && claimed < records && !ends:
		a.doubts(20, "header counts %d records, the design has %d", claimed, records)
	case claimed >= 0 && claimed < records:
		a.warn(20, "header counts %d records, the design has %d", claimed, records)
	case claimed > 0:
		a.speaks("the header counts %d records, and all are there", claimed)
	}
	if n := a.d.Counts().ColourStops; a.d.Claims.ColourStops >= 0 && a.d.Claims.ColourStops != n && a.d.Claims.ColourStops != n+1 {
		a.warn(31, "header counts %d colour changes, the design has %d", a.d.Claims.ColourStops, n)
	}
	a.d.Records = records
	if !ends {
		if claimed > 0 && claimed <= records && p == len(data) {
			a.warn(p, "no end record; all %d records that the header counts are there", claimed)
			return a.finish(), nil
		}
		return a.finish(), &FormatError{Format: "DST", Offset: int64(p), Cause: ErrTruncated, Detail: "expected a further record or the end record"}
	}
	return a.finish(), nil
}

// dstStitches takes the plain stitches that records begin with, and tells how many: most
// records are such. One that leads out of range is left, and so is one without its two low
// bits.
func (a *assembler) dstStitches(records []byte) (n int) {
	moves, x, y := a.d.Moves, a.x, a.y
	for ; len(records) >= 3 && records[2]&0xC3 == 3; records = records[3:] {
		d0, d1, d2 := dstDigits[0][records[0]], dstDigits[1][records[1]], dstDigits[2][records[2]]
		x1, y1 := x+int32(d0.x)+int32(d1.x)+int32(d2.x), y+int32(d0.y)+int32(d1.y)+int32(d2.y)
		if x1 > maxCoord || x1 < -maxCoord || y1 > maxCoord || y1 < -maxCoord {
			break
		}
		x, y = x1, y1
		moves = append(moves, Move{X: x, Y: y})
		n++
	}
	a.d.Moves, a.x, a.y = moves, x, y
	return n
}

// indexNotPadding finds the first byte that is not one of the usual fillers
// after a design, or -1.
func indexNotPadding(b []byte) int {
	return bytes.IndexFunc(b, func(r rune) bool { return r != 0 && r != 0x1A && r != ' ' && r != '\r' && r != '\n' })
}

// configDST asks the header that DST lends to its sister formats.
func configDST(format string) func([]byte, io.ReaderAt) (Config, error) {
	return func(lead []byte, _ io.ReaderAt) (Config, error) {
		if len(lead) < dstHeader {
			return unstated, errShortHeader(format, lead, dstHeader)
		}
		a := newAssembler(0)
		if format == "DST" || bytes.HasPrefix(lead, []byte(dstMark)) {
			readDSTHeader(&a, lead[:dstHeader])
		}
		return a.config(), nil
	}
}

// readDSTHeader takes the tagged fields, wherever they stand in the header; the
// first of each tag counts.
func readDSTHeader(a *assembler, head []byte) {
	c := &a.d.Claims
	number := func(tag string) int {
		i := bytes.Index(head, []byte(tag))
		if i < 0 {
			return -1
		}
		n, err := strconv.Atoi(headerText(head[i+len(tag):], 8))
		if err != nil || n < 0 {
			return -1
		}
		return n
	}
	if bytes.HasPrefix(head, []byte(dstMark)) {
		a.d.Name = headerText(head[len(dstMark):], 17)
	} else {
		a.warn(0, "the header does not begin with LA:")
	}
	c.Records = number("ST:")
	c.ColourStops = number("CO:")
	if left, right := number("-X:"), number("+X:"); left >= 0 && right >= 0 {
		c.Width = left + right
	}
	if down, up := number("-Y:"), number("+Y:"); down >= 0 && up >= 0 {
		c.Height = down + up
	}
	// Lines past the fixed fields are rare; each ends with a carriage return.
	for _, line := range bytes.FieldsFunc(head[114:], func(r rune) bool { return r == '\r' || r == '\n' || r == 0x1A }) {
		tag, value, ok := strings.Cut(headerText(line, len(line)), ":")
		if !ok {
			continue
		}
		switch tag {
		case "AU":
			a.d.Fields = append(a.d.Fields, Field{"author", value})
		case "CP":
			a.d.Fields = append(a.d.Fields, Field{"copyright", value})
		case "TC":
			a.d.Threads = append(a.d.Threads, dstThread(value))
		}
	}
}

// dstThread reads "#RRGGBB,description,catalogue"; what does not fit is left
// empty.
func dstThread(s string) Thread {
	var t Thread
	parts := strings.SplitN(s, ",", 3)
	if hexed, ok := strings.CutPrefix(strings.TrimSpace(parts[0]), "#"); ok {
		if rgb, err := hex.DecodeString(hexed); err == nil && len(rgb) == 3 {
			t.Colour = color.RGBA{rgb[0], rgb[1], rgb[2], 0xFF}
		}
	}
	if len(parts) > 1 {
		t.Name = strings.TrimSpace(parts[1])
	}
	if len(parts) > 2 {
		t.Catalogue = strings.TrimSpace(parts[2])
	}
	return t
}
