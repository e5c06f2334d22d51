package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image/color"
)

const (
	pesMark    = "#PES"
	pesStrings = 16   // first string of versions 4 and later
	pesNearby  = 4096 // how far from its stated place the block is looked for
)

func init() {
	RegisterFormat(Format{
		Name:       "PES",
		Extensions: []string{"pes"},
		Doc:        "design-program data around a PEC block, which holds the stitches",
		Carries:    Carries{Colours: "rgb", Trims: true, Hoop: true, Name: true},
		Recognise:  recognisePES,
		Decode:     decodePES,
	})
}

func recognisePES(data []byte) Certainty {
	if bytes.HasPrefix(data, []byte(pesMark)) {
		return Signature
	}
	return No
}

// decodePES reads the stitches from the PEC block only; the design part before
// it holds shapes for editing, which may differ from what is sewn.
func decodePES(data []byte, _ *Decoder) (*Design, error) {
	if len(data) < 12 {
		return nil, &FormatError{Format: "PES", Offset: int64(len(data)), Cause: ErrTruncated, Detail: "the place of the stitch block takes 12 bytes"}
	}
	stated := int64(binary.LittleEndian.Uint32(data[8:]))
	if stated+3 > int64(len(data)) {
		return nil, &FormatError{Format: "PES", Offset: 8, Cause: ErrTruncated, Detail: fmt.Sprintf("the stitch block is said to be at byte %d, the file has %d", stated, len(data))}
	}
	base := int(stated)
	if base < 12 || !bytes.HasPrefix(data[base:], []byte("LA:")) {
		base = findPEC(data, base)
		if base < 0 {
			return nil, &FormatError{Format: "PES", Offset: 8, Cause: ErrCorrupt, Detail: fmt.Sprintf("no stitch block at or near byte %d", stated)}
		}
	}
	return decodePECBlock("PES", data, base, func(a *assembler) {
		if base != int(stated) {
			a.warn(8, "stitch block is said to be at byte %d, found at %d", stated, base)
		}
		a.readPESHeader(data[:base])
	})
}

// findPEC looks for a PEC block around the given place and returns the first, or
// -1.
func findPEC(data []byte, near int) int {
	end := min(len(data), near+pesNearby)
	for p := max(12, near-pesNearby); p < end; p++ {
		i := bytes.Index(data[p:end], []byte("LA:"))
		if i < 0 {
			return -1
		}
		p += i
		if p+19 < len(data) && data[p+19] == '\r' {
			return p
		}
	}
	return -1
}

// pesReader is a cursor that knows the strings of a PES file.
type pesReader struct{ cursor }

// text reads a string after its length, which takes three bytes where it is 255
// or more.
func (r *pesReader) text() string {
	n := r.u8()
	if n == 0xFF {
		n = r.u16()
	}
	return headerText(r.take(n), n)
}

// readPESHeader takes texts, hoop and threads from the part before the PEC
// block, as far as the version is described. A surprise is a warning: the PEC
// block alone makes a whole design.
func (a *assembler) readPESHeader(head []byte) {
	if len(head) < pesStrings {
		return
	}
	version := string(head[4:8])
	switch version {
	case "0040", "0050", "0055", "0056", "0060", "0070", "0080", "0090", "0100":
	default:
		return // older ones have no texts here
	}
	r := pesReader{cursor{b: head, p: pesStrings}}
	name, category, author, keywords, comments := r.text(), r.text(), r.text(), r.text(), r.text()
	if r.bad {
		a.warn(pesStrings, "the texts of the design part do not fit; they are left out")
		return
	}
	if name != "" {
		a.d.Name = name
	}
	a.d.Comments = comments
	for _, f := range []Field{{"category", category}, {"author", author}, {"keywords", keywords}} {
		if f.Value != "" {
			a.d.Fields = append(a.d.Fields, f)
		}
	}
	if version != "0060" && version != "0070" {
		return
	}
	at := r.p
	settings := r.take(36)
	r.text()   // background image
	r.take(24) // matrix of that image
	fills, motifs, feathers, count := r.u16(), r.u16(), r.u16(), r.u16()
	if r.bad {
		a.warn(at, "the settings of the design part do not fit; colours are those of the palette")
		return
	}
	// No hoop made is wider than two metres.
	if w, h := binary.LittleEndian.Uint16(settings[4:]), binary.LittleEndian.Uint16(settings[6:]); w > 0 && h > 0 && w <= 2000 && h <= 2000 {
		a.d.Hoop = Hoop{Width: float64(w), Height: float64(h)}
	}
	at = r.p
	if fills != 0 || motifs != 0 || feathers != 0 {
		a.warn(at, "the thread list lies behind data of unknown length; colours are those of the palette")
		return
	}
	var threads []Thread
	for range count {
		var t Thread
		t.Catalogue = r.text()
		if rgb := r.take(3); rgb != nil {
			t.Colour = color.RGBA{rgb[0], rgb[1], rgb[2], 0xFF}
		}
		r.take(5) // kind of the thread
		t.Name, t.Maker = r.text(), r.text()
		r.text() // chart
		if r.bad {
			a.warn(at, "the thread list does not fit; colours are those of the palette")
			return
		}
		threads = append(threads, t)
	}
	a.matchPESThreads(threads, at)
}

// matchPESThreads lays the listed threads over the palette entries. Both ways of
// listing occur: one thread for each entry, or one for each distinct index in
// order of first use.
func (a *assembler) matchPESThreads(threads []Thread, at int) {
	entries := a.d.Threads
	place := make(map[int]int) // palette index to listed thread
	for _, e := range entries {
		if _, ok := place[e.Index]; !ok {
			place[e.Index] = len(place)
		}
	}
	if len(threads) != len(entries) && len(threads) != len(place) {
		a.warn(at, "%d threads are listed for %d colour blocks; colours are those of the palette", len(threads), len(entries))
		return
	}
	for i, e := range entries {
		from := i
		if len(threads) != len(entries) {
			from = place[e.Index]
		}
		entries[i] = threads[from]
		entries[i].Index = e.Index
	}
}
