package stitchfile

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image/color"
	"io"
)

const (
	husHeader = 42

	// husPerByte and husMost bound the records taken from compressed streams.
	// Seven bytes may legally stand for 65535, so what is claimed is no
	// guide; real designs need more than a byte for each stitch.
	husPerByte = 64
	husMost    = 2_000_000
)

func init() {
	RegisterFormat(Format{
		Name:       "HUS",
		Extensions: []string{"hus"},
		Doc:        "three compressed streams of attributes and moves; colours by palette",
		Carries:    Carries{Colours: "palette", Trims: true},
		Recognise:  startsWith("\x5B\xAF\xC8\x00", "\x5D\xFC\xC8\x00"),
		Config:     configHUS("HUS"),
		Decode: func(data []byte, _ *Decoder) (*Design, error) {
			return decodeHUS("HUS", data, (*assembler).dressHUS)
		},
	})
}

// husPalette holds the colours of indices 0 to 28. Descriptions disagree from 16
// on, so the colours are advisory.
var husPalette = [...]color.RGBA{
	{0x00, 0x00, 0x00, 0xFF}, {0x00, 0x00, 0xE7, 0xFF}, {0x00, 0xC6, 0x00, 0xFF}, {0xFF, 0x00, 0x00, 0xFF},
	{0x84, 0x00, 0x84, 0xFF}, {0xFF, 0xFF, 0x00, 0xFF}, {0x84, 0x84, 0x84, 0xFF}, {0x84, 0x84, 0xE7, 0xFF},
	{0x00, 0xFF, 0x84, 0xFF}, {0xFF, 0x7B, 0x31, 0xFF}, {0xFF, 0x8C, 0xA5, 0xFF}, {0x84, 0x52, 0x00, 0xFF},
	{0xFF, 0xFF, 0xFF, 0xFF}, {0x00, 0x00, 0x84, 0xFF}, {0x00, 0x84, 0x00, 0xFF}, {0x7B, 0x00, 0x00, 0xFF},
	{0xFF, 0x63, 0x84, 0xFF}, {0x52, 0x29, 0x52, 0xFF}, {0xFF, 0x00, 0xFF, 0xFF}, {0xFF, 0xC6, 0x00, 0xFF},
	{0xFF, 0xFF, 0x9C, 0xFF}, {0x52, 0x52, 0x52, 0xFF}, {0xD6, 0xD6, 0xD6, 0xFF}, {0xFF, 0x52, 0x08, 0xFF},
	{0xFF, 0x9C, 0x5A, 0xFF}, {0xFF, 0x52, 0xB5, 0xFF}, {0xFF, 0xC6, 0xDE, 0xFF}, {0x52, 0x31, 0x00, 0xFF},
	{0xB5, 0xA5, 0x84, 0xFF},
}

const husDisputed = 16

// HUSIndex is the HUS palette index, from 0, nearest to t's own colour.
func HUSIndex(t Thread) int { return nearestIndex(husPalette[:], t.Colour) - 1 }

// configHUS asks the header that HUS and VIP share.
func configHUS(format string) func([]byte, io.ReaderAt) (Config, error) {
	return func(lead []byte, _ io.ReaderAt) (Config, error) {
		if len(lead) < husHeader {
			return unstated, errShortHeader(format, lead, husHeader)
		}
		a := newAssembler(0)
		a.readHUSHeader(lead)
		return a.config(), nil
	}
}

// decodeHUS reads what HUS and VIP share; dress takes the colours, which stand
// between the header and the first stream, for the number of blocks sewn. Neither
// format can tell a name or a hoop, nor a halt from a thread change; the colours of
// HUS are places in a palette, those of VIP are locked.
func decodeHUS(format string, data []byte, dress func(a *assembler, table []byte, blocks int)) (*Design, error) {
	if len(data) < husHeader {
		return nil, errShortHeader(format, data, husHeader)
	}
	word := func(at int) uint32 { return binary.LittleEndian.Uint32(data[at:]) }
	claimed, size := int64(word(4)), int64(len(data))
	ends := [4]int64{int64(word(20)), int64(word(24)), int64(word(28)), size}
	if ends[0] < husHeader || ends[0] >= ends[1] || ends[1] >= ends[2] {
		return nil, &FormatError{Format: format, Offset: 20, Cause: ErrCorrupt, Detail: fmt.Sprintf("streams at %d, %d and %d, which should rise from 42", ends[0], ends[1], ends[2])}
	}
	if ends[2] >= size {
		return nil, &FormatError{Format: format, Offset: size, Cause: ErrTruncated, Detail: fmt.Sprintf("the last stream is to begin at byte %d", ends[2])}
	}
	limit := min(claimed, husPerByte*size, husMost)

	var streams [3][]byte
	var failed *FormatError
	for i := range streams {
		from := ends[i]
		out, at, err := unpack(data[from:ends[i+1]], int(limit))
		streams[i] = out
		if failed == nil && err != nil {
			failed = &FormatError{Format: format, Offset: from + int64(at), Cause: ErrCorrupt, Detail: err.Error()}
			if errors.Is(err, errUnpackShort) {
				failed.Cause, failed.Offset = ErrTruncated, ends[i+1]
			}
		}
	}
	n := min(len(streams[0]), len(streams[1]), len(streams[2]))
	a := newAssembler(n)
	a.anotherBehind(format, joinedHUS(data, int(ends[2])))
	a.readHUSHeader(data)
	if text := headerText(data[32:], 8); text != "" {
		a.d.Fields = append(a.d.Fields, Field{"text", text})
	}
	before, ended, err := a.readHUSMoves(format, streams, n)
	dress(&a, data[husHeader:ends[0]], a.d.Counts().ColourStops+1)
	switch {
	case err != nil:
		return a.finish(), err
	case ended:
		// What stands behind the end is not sewn, sound or not.
		a.d.Records = before
		a.countedHUS(claimed, before)
	case failed != nil:
		return a.finish(), failed
	case int64(n) < claimed:
		return a.finish(), &FormatError{Format: format, Offset: 4, Cause: ErrTooLarge, Detail: fmt.Sprintf("%d records are claimed of %d bytes, %d were read", claimed, size, n)}
	default:
		a.warn(4, "no end among the %d records that the header counts", claimed)
	}
	return a.finish(), nil
}

// countedHUS compares the header's count of records, the end among them or not, with
// the n before the end.
func (a *assembler) countedHUS(claimed int64, n int) {
	if claimed != int64(n) && claimed != int64(n)+1 {
		a.doubts(4, "header counts %d records, the end comes after %d", claimed, n)
		return
	}
	a.speaks("the header counts %d records, and all are there", claimed)
}

// readHUSHeader takes the counts and the size.
func (a *assembler) readHUSHeader(head []byte) {
	count := func(at int) int { return int(binary.LittleEndian.Uint32(head[at:]) & (1<<31 - 1)) }
	half := func(at int) int { return int(int16(binary.LittleEndian.Uint16(head[at:]))) }
	c := &a.d.Claims
	c.Records, c.ColourStops = count(4), count(8)-1
	c.Width, c.Height = max(-1, half(12)-half(16)), max(-1, half(14)-half(18))
}

// readHUSMoves turns the first n records of the three streams into moves and
// reports how many come before the end, and whether there is one.
func (a *assembler) readHUSMoves(format string, streams [3][]byte, n int) (before int, ended bool, err error) {
	odd := false
	for i := range n {
		attribute := streams[0][i]
		dx, dy := int32(int8(streams[1][i])), int32(int8(streams[2][i]))
		if attribute&0x80 == 0 || attribute&0x62 != 0 {
			if !odd {
				a.warn(20, "record %d has the unknown attribute %02x, taken by the bits that are known", i, attribute)
			}
			odd = true
		}
		kind := Stitch
		switch {
		case attribute&0x10 != 0:
			ended, kind = true, Jump
		case attribute&0x04 != 0:
			a.here(ColourStop, 0)
			kind = Jump
		case attribute&0x08 != 0:
			a.here(Trim, 0)
			kind = Jump
		case attribute&0x01 != 0:
			kind = Jump
		}
		if (attribute&0x1C == 0 || dx != 0 || dy != 0) && !a.move(kind, 0, dx, dy) {
			return i, false, &FormatError{Format: format, Offset: 20, Cause: ErrCorrupt, Detail: fmt.Sprintf("record %d carries the position beyond 100 m", i)}
		}
		if ended {
			return i, true, nil
		}
	}
	return n, false, nil
}

// dressHUS takes the palette index of each colour block.
func (a *assembler) dressHUS(table []byte, blocks int) {
	listed := min(len(table)/2, a.d.Claims.ColourStops+1)
	disputed := false
	for i := range min(listed, blocks) {
		index := int(binary.LittleEndian.Uint16(table[2*i:]))
		t := Thread{Index: index, Colour: color.RGBA{A: 0xFF}}
		if index < len(husPalette) {
			t.Colour = husPalette[index]
		} else {
			a.warn(husHeader+2*i, "colour %d is not among the %d of the format, shown as black", index, len(husPalette))
		}
		if index >= husDisputed && !disputed {
			disputed = true
			a.warn(husHeader+2*i, "descriptions disagree on the colours from %d on", husDisputed)
		}
		a.d.Threads = append(a.d.Threads, t)
	}
	if listed != blocks {
		a.warn(8, "the file lists %d colours for %d colour blocks", listed, blocks)
		a.repeatLast(blocks)
	}
}
