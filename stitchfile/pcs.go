package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image/color"
	"io"
)

const (
	pcsTable   = 4
	pcsColours = 16
	pcsCount   = 68
	pcsHeader  = 70
	pcsRecord  = 9
)

func init() {
	RegisterFormat(Format{
		Name:       "PCS",
		Extensions: []string{"pcs"},
		Doc:        "records with absolute places after a table of 16 colours",
		Carries:    Carries{Colours: "rgb", Hoop: true},
		Recognise:  recognisePCS,
		Config:     configPCS,
		Decode:     decodePCS,
	})
}

func recognisePCS(data []byte, _ bool) Certainty {
	if len(data) < pcsHeader || data[0] != 0x32 || data[1] != 2 && data[1] != 3 || data[2] != pcsColours || data[3] != 0 {
		return No
	}
	return Likely
}

// configPCS tells the count of records. The table lists sixteen colours whether they
// are used or not, so it says nothing about colour stops.
func configPCS(lead []byte, _ io.ReaderAt) (Config, error) {
	c := unstated
	c.Claims.Records = int(binary.LittleEndian.Uint16(lead[pcsCount:]))
	return c, nil
}

// decodePCS reads PCS. The header counts every record but the colour changes, and
// nothing else ends the design. PCS cannot tell a name or a size, nor a
// halt from a thread change.
func decodePCS(data []byte, dec *Decoder) (*Design, error) {
	count := int(binary.LittleEndian.Uint16(data[pcsCount:]))
	a := newAssembler((len(data) - pcsHeader) / pcsRecord)
	a.deriveCuts(dec, 0)
	a.d.Claims.Records = count
	if data[1] == 2 {
		a.d.Hoop = Hoop{80, 80} // the size of the large one, 3, is not described
	}
	said := [8]bool{}
	taken, p := 0, pcsHeader
	few := false // the header counts fewer than there are
	for ; taken < count || a.goesOnPCS(data[p:]); p += pcsRecord {
		if taken == count && !few {
			few = true
			a.doubts(pcsCount, "the header counts %d records, and more stand behind them", count)
		}
		if few {
			count = taken + 1
		}
		if p+pcsRecord > len(data) {
			return a.finish(), &FormatError{Format: "PCS", Offset: int64(len(data)), Cause: ErrTruncated, Detail: fmt.Sprintf("%d of %d records are there", taken, count)}
		}
		r := data[p : p+pcsRecord]
		kind, flag := Stitch, r[8]
		switch flag {
		case 0, 2:
		case 3:
			a.changePCS(data, p)
			continue
		case 4:
			kind = Jump
		case 1, 5, 6, 7:
			kind = Jump
			if !said[flag] {
				said[flag] = true
				a.warn(p+8, "unknown flag %d, taken as a jump", flag)
			}
		default:
			a.doubts(p, "%d of %d records are there, then something else begins", taken, count)
			return a.finish(), nil
		}
		x, y := pcsPlace(r), pcsPlace(r[4:])
		if !a.move(kind, 0, x-a.x, y-a.y) {
			return a.finish(), &FormatError{Format: "PCS", Offset: int64(p), Cause: ErrCorrupt, Detail: "the position runs beyond 100 m"}
		}
		taken++
	}
	a.d.Records = taken
	a.anotherBehind("PCS", joinedPCS(data, p))
	if rest := data[p:]; len(rest) > 13 {
		if picture := headerText(rest, 13); picture != "" {
			a.d.Fields = append(a.d.Fields, Field{"picture", picture})
		}
		a.d.Comments = headerText(rest[13:], len(rest))
	}
	if count > 0 && !few {
		a.speaks("the header counts %d records, and all are there", count)
	}
	return a.finish(), nil
}

// nearPCS is how far, in 0.1 mm, a record behind those that are counted may lie from the
// last: as far as the larger hoop is wide, which no letters of a picture's name come to.
const nearPCS = 3000

// goesOnPCS reports whether a further record stands where the header's count ends: a
// stitch, a jump or a change near the last place, and not the name of a picture.
func (a *assembler) goesOnPCS(b []byte) bool {
	for k := 0; k < 4 && len(b) >= pcsRecord && len(bytes.Trim(b[:pcsRecord], "\x00")) == 0; k++ {
		b = b[pcsRecord:] // stitches at 0, 0, or what pads a file
	}
	if len(b) < pcsRecord {
		return false
	}
	x, y := pcsPlace(b)-a.x, pcsPlace(b[4:])-a.y
	switch b[8] {
	case 3:
		return int(b[0]) < pcsColours && len(b) > pcsRecord && a.goesOnPCS(b[pcsRecord:])
	case 0, 2, 4:
		return max(x, -x, y, -y) <= nearPCS
	}
	return false
}

// pcsPlace reads a place in 0.1 mm: 32 bits, eight of them below the point.
func pcsPlace(b []byte) int32 {
	return int32((int64(int32(binary.LittleEndian.Uint32(b))) + 128) >> 8)
}

// changePCS takes the colour change at p. One before the first stitch only names
// the first thread.
func (a *assembler) changePCS(data []byte, p int) {
	t := Thread{Colour: color.RGBA{A: 0xFF}}
	if n := int(data[p]); n < pcsColours {
		rgb := data[pcsTable+4*n:]
		t.Colour = color.RGBA{rgb[0], rgb[1], rgb[2], 0xFF}
		t.Index = n
	} else {
		a.warn(p, "colour %d is not among the %d of the file, shown as black", n, pcsColours)
	}
	if len(a.d.Moves) > 0 || len(a.d.Threads) > 0 {
		if len(a.d.Threads) == 0 {
			a.d.Threads = append(a.d.Threads, Thread{}) // sewn before any was named
		}
		a.here(ColourStop, 0)
	}
	a.d.Threads = append(a.d.Threads, t)
}
