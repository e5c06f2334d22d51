package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image/color"
	"io"
)

const (
	pecMark     = "#PEC"
	pecFirst    = 8   // the block of a standalone file
	pecColours  = 48  // number of colours less one, then the indices
	pecGraphics = 512 // what the offset of the thumbnails counts from
	pecSize     = 520 // width and height
	pecStitches = 532
)

func init() {
	RegisterFormat(Format{
		Name:       "PEC",
		Extensions: []string{"pec"},
		Doc:        "short and long records with a colour palette and trims",
		Carries:    Carries{Colours: "palette", Trims: true, Name: true},
		Recognise:  startsWith(pecMark),
		Config:     configPEC,
		Decode:     decodePEC,
	})
}

// configPEC tells name, colours and size; stitches are counted nowhere.
func configPEC(lead []byte, _ io.ReaderAt) (Config, error) {
	block, bad := openPEC("PEC", lead, 0, pecFirst)
	if bad != nil {
		return unstated, bad
	}
	a := newAssembler(0)
	a.readPECHeader(block, pecFirst)
	return a.config(), nil
}

// decodePEC reads a standalone PEC file: eight bytes of signature and version,
// then the block. PEC cannot tell a hoop, nor a halt from a thread change; its
// colours are places in a palette.
func decodePEC(data []byte, _ *Decoder) (*Design, error) {
	return decodePECBlock("PEC", data, pecFirst, nil)
}

// openPEC gives the PEC block at the given byte of the file, of which data holds
// what stands from another byte on, if the whole header of the block is there.
func openPEC(format string, data []byte, from, base int64) ([]byte, *FormatError) {
	if have := from + int64(len(data)); have < base+pecStitches {
		return nil, &FormatError{Format: format, Offset: have, Cause: ErrTruncated, Detail: fmt.Sprintf("the stitch block at byte %d needs %d bytes before its first stitch", base, pecStitches)}
	}
	block := data[base-from:]
	if !bytes.HasPrefix(block, []byte("LA:")) {
		return nil, &FormatError{Format: format, Offset: base, Cause: ErrCorrupt, Detail: fmt.Sprintf("the stitch block must start with LA:, here stands % x", block[:3])}
	}
	return block, nil
}

// pecContainer is the file around a PEC block.
type pecContainer interface {
	// dress may add to the design what the container knows; it gets the colour entries
	// before they are spread over the blocks.
	dress(a *assembler)
	// compare holds what the container says to the design, which was read to its end.
	compare(a *assembler)
}

// decodePECBlock reads the PEC block at base, in a container or none. A block too short
// for its header gives no design.
func decodePECBlock(format string, data []byte, base int, around pecContainer) (*Design, error) {
	block, bad := openPEC(format, data, 0, int64(base))
	if bad != nil {
		return nil, bad
	}
	// Thumbnails must not be read as stitches. A start that cannot be true is
	// no bound.
	limit, bounded := len(block), false
	if g := int(block[514]) | int(block[515])<<8 | int(block[516])<<16; g > pecStitches-pecGraphics && pecGraphics+g <= len(block) {
		limit, bounded = pecGraphics+g, true
	}
	a := newAssembler((limit - pecStitches) / 2)
	a.readPECHeader(block, base)
	if around != nil {
		around.dress(&a)
	}
	end, err := a.readPECStitches(format, block[:limit], base)
	if err != nil && bounded && err.Offset == int64(base+limit) {
		if blocks := a.d.Counts().ColourStops + 1; blocks < len(a.d.Threads) {
			a.doubts(base+limit, "no end code before the thumbnails, and %d of the %d colour blocks that the header counts", blocks, len(a.d.Threads))
		} else {
			a.warn(base+limit, "no end code before the thumbnails, which begin where the header says")
		}
		err = nil
	}
	if err != nil {
		a.spreadPECThreads(base, false)
		return a.finish(), err
	}
	a.spreadPECThreads(base, true)
	a.endedPEC(block, base, end, limit, bounded)
	if around != nil {
		around.compare(&a)
	}
	c := a.d.Claims
	if box, ok := a.d.Bounds(); ok && c.Width >= 0 && c.Height >= 0 {
		dw, dh := box.Width()-int64(c.Width), box.Height()-int64(c.Height)
		if max(dw, -dw, dh, -dh) > 2 {
			a.warn(base+pecSize, "header states %.1f by %.1f mm, the sewn part is %.1f by %.1f mm",
				float64(c.Width)/10, float64(c.Height)/10, float64(box.Width())/10, float64(box.Height())/10)
		}
	}
	return a.finish(), nil
}

// pecGap is the bytes between the end code and the thumbnails in every real file
// looked at that has both.
const pecGap = 1

// pecThumbnail is the bytes of one thumbnail: 48 by 38 dots. There is one for the whole
// and one for each colour block.
const pecThumbnail = 48 / 8 * 38

// endedPEC looks where the end code stands: the thumbnails must follow it, or where the
// header tells none, only what pads a file.
func (a *assembler) endedPEC(block []byte, base, end, limit int, bounded bool) {
	blocks := a.d.Counts().ColourStops + 1
	switch {
	case end < 0: // there is none
	case bounded && limit-end > pecGap && indexNotPadding(block[end:limit]) >= 0:
		a.doubts(base+end, "%d bytes stand between the end code and the thumbnails, which follow it in a whole file", limit-end)
	case bounded && len(block) > limit+2*pecThumbnail*(blocks+1) && indexNotPadding(block[limit+pecThumbnail*(blocks+1):]) >= 0:
		// Behind the thumbnails some versions keep a little more, but never as much
		// again.
		a.doubts(base+limit, "%d bytes stand behind the thumbnails", len(block)-limit-pecThumbnail*(blocks+1))
	case bounded && brokenThumbnails(block[limit:], blocks+1):
		a.doubts(base+len(block), "the file ends inside its thumbnails, %d of %d bytes; the stitches before them end as they should", len(block)-limit, pecThumbnail*(blocks+1))
	case bounded:
		a.speaks("the end code stands where the thumbnails begin")
	default:
		a.speaks("an end code")
	}
}

// brokenThumbnails reports whether thumbnails end in the middle of one. A file may have
// none, or one for the whole alone.
func brokenThumbnails(b []byte, most int) bool {
	return len(b) < pecThumbnail*most && len(b)%pecThumbnail != 0 && indexNotPadding(b) >= 0
}

// readPECHeader takes the name, the palette entries and the size, in 0.1 mm.
func (a *assembler) readPECHeader(block []byte, base int) {
	a.d.Name = headerText(block[3:], 16)
	size := func(at int) int {
		return max(-1, int(int16(binary.LittleEndian.Uint16(block[at:]))))
	}
	a.d.Claims.Width, a.d.Claims.Height = size(pecSize), size(pecSize+2)
	n := int(block[pecColours])
	if n == 0xFF {
		a.warn(base+pecColours, "the file names no colours")
		return
	}
	a.d.Claims.ColourStops = n
	for i, index := range block[pecColours+1 : pecColours+2+n] {
		t := Thread{Index: int(index)}
		if index >= 1 && int(index) <= len(pecPalette) {
			t.Colour = pecPalette[index-1]
		} else {
			t.Colour = color.RGBA{A: 0xFF}
			a.warn(base+pecColours+1+i, "palette has no colour %d, taken as black", index)
		}
		a.d.Threads = append(a.d.Threads, t)
	}
}

// readPECStitches reads the records up to the end code and gives the place behind it. Y counts down in the
// file.
func (a *assembler) readPECStitches(format string, block []byte, base int) (end int, err *FormatError) {
	fail := func(p int, cause error, detail string) (int, *FormatError) {
		return -1, &FormatError{Format: format, Offset: int64(base + p), Cause: cause, Detail: detail}
	}
	const cut = "expected a further record or the end code"
	for p := pecStitches; ; {
		if p >= len(block) {
			return fail(p, ErrTruncated, cut)
		}
		first := block[p]
		if first == 0xFF {
			return p + 1, nil
		}
		if first == 0xFE {
			if p+3 > len(block) {
				return fail(p, ErrTruncated, cut)
			}
			if block[p+1] != 0xB0 {
				// How long the record is can no longer be known.
				return fail(p, ErrCorrupt, fmt.Sprintf("unknown code fe %02x, expected fe b0", block[p+1]))
			}
			// The third byte is a counter or a colour number, depending on
			// the description; the next palette entry holds either way.
			a.here(ColourStop, 0)
			p += 3
			continue
		}
		dx, fx, n := pecValue(block[p:])
		if n == 0 {
			return fail(p, ErrTruncated, cut)
		}
		dy, fy, m := pecValue(block[p+n:])
		if m == 0 {
			return fail(p, ErrTruncated, cut)
		}
		flags, ok := fx|fy, true
		switch {
		case flags&0x20 != 0:
			a.here(Trim, 0)
			if dx != 0 || dy != 0 {
				ok = a.move(Jump, 0, dx, -dy)
			}
		case flags&0x10 != 0:
			ok = a.move(Jump, 0, dx, -dy)
		default:
			ok = a.move(Stitch, 0, dx, -dy)
		}
		if !ok {
			return fail(p, ErrCorrupt, "the position runs beyond 100 m")
		}
		p += n + m
	}
}

// pecValue reads one coordinate in 0.1 mm, its flags (0x10 jump, 0x20 trim) and
// the bytes it takes, which are 0 when b is too short for it.
func pecValue(b []byte) (v int32, flags byte, n int) {
	switch {
	case len(b) == 0:
		return 0, 0, 0
	case b[0] < 0x80: // seven bits, two's complement
		return int32(int8(b[0]<<1) >> 1), 0, 1
	case len(b) < 2:
		return 0, 0, 0
	}
	// Twelve bits, two's complement, the high ones first.
	return int32(int16(uint16(b[0])<<12|uint16(b[1])<<4) >> 4), b[0] & 0x30, 2
}

// spreadPECThreads gives each colour block its thread. Only a design read to its
// end can have too few colour changes.
func (a *assembler) spreadPECThreads(base int, whole bool) {
	entries := len(a.d.Threads)
	if entries == 0 {
		return
	}
	blocks := a.d.Counts().ColourStops + 1
	if blocks > entries {
		a.warn(base+pecColours, "%d colours for %d colour blocks; the last one is repeated", entries, blocks)
		// A thread is far larger than the record that calls for it, so a
		// hostile file must not get one for each.
		for len(a.d.Threads) < min(blocks, maxThreads) {
			a.d.Threads = append(a.d.Threads, a.d.Threads[entries-1])
		}
	}
	if blocks < entries && whole {
		a.warn(base+pecColours, "%d colours for %d colour blocks; the rest are left out", entries, blocks)
		a.d.Threads = a.d.Threads[:blocks]
	}
}
