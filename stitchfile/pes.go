package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image/color"
	"io"
)

const (
	pesMark    = "#PES"
	pesPlace   = 12   // the place of the stitch block ends here
	pesStrings = 16   // first string of versions 4 and later
	pesNearby  = 4096 // how far from its stated place the block is looked for
)

func init() {
	RegisterFormat(Format{
		Name:       "PES",
		Extensions: []string{"pes"},
		Doc:        "design-program data around a PEC block, which holds the stitches",
		Carries:    Carries{Colours: "rgb", Trims: true, Hoop: true, Name: true},
		Recognise:  startsWith(pesMark),
		Config:     configPES,
		Decode:     decodePES,
	})
}

// decodePES reads the stitches from the PEC block only; the design part before
// it holds shapes for editing, which may differ from what is sewn. PES cannot tell
// a halt from a thread change, and what its older versions say of threads is no more
// than places in a palette.
func decodePES(data []byte, _ *Decoder) (*Design, error) {
	if len(data) < pesPlace {
		return nil, errShortHeader("PES", data, pesPlace)
	}
	stated := int64(binary.LittleEndian.Uint32(data[8:]))
	at, bad := locatePEC(data, 0, stated)
	if bad != nil {
		return nil, bad
	}
	base := int(at)
	return decodePECBlock("PES", data, base, designPart{data[:base], stated})
}

// designPart is what stands before the stitch block, and where that is said to be.
type designPart struct {
	head   []byte
	stated int64
}

func (p designPart) dress(a *assembler) {
	if int64(len(p.head)) != p.stated {
		a.warn(8, "stitch block is said to be at byte %d, found at %d", p.stated, len(p.head))
	}
	a.readPESHeader(p.head)
}

func (p designPart) compare(a *assembler) { a.compareEditing(p.head) }

// configPES tells what the stitch block and the texts of the design part say of
// name, colours and size. The block stands behind the design part, often out of the
// lead; where it cannot be reached the texts alone must do.
func configPES(lead []byte, rest io.ReaderAt) (Config, error) {
	if len(lead) < pesPlace {
		return unstated, errShortHeader("PES", lead, pesPlace)
	}
	stated := int64(binary.LittleEndian.Uint32(lead[8:]))
	a := newAssembler(0)
	data, from := lead, int64(0)
	if stated+pecStitches > int64(len(lead)) || !bytes.HasPrefix(lead[stated:], []byte("LA:")) {
		from = max(0, stated-pesNearby-pesPlace)
		data = make([]byte, pesPlace+2*pesNearby+pecStitches)
		n, err := rest.ReadAt(data, from)
		if err != nil && err != io.EOF {
			a.readPESHeader(lead[:min(stated, int64(len(lead)))])
			return a.config(), nil
		}
		data = data[:n]
	}
	base, bad := locatePEC(data, from, stated)
	if bad != nil {
		return unstated, bad
	}
	block, bad := openPEC("PES", data, from, base)
	if bad != nil {
		return unstated, bad
	}
	a.readPECHeader(block, int(base))
	head := lead[:min(base, int64(len(lead)))]
	if !a.readPESHeader(head) && int64(len(head)) < base {
		a.d.Name = "" // that of the texts would go before
	}
	return a.config(), nil
}

// locatePEC gives the place in the file of the stitch block, which is said to be at
// the given one; data holds what stands from the byte from on.
func locatePEC(data []byte, from, stated int64) (int64, *FormatError) {
	if stated-from+3 > int64(len(data)) {
		return 0, &FormatError{Format: "PES", Offset: 8, Cause: ErrTruncated, Detail: fmt.Sprintf("the stitch block is said to be at byte %d, behind the end of the file", stated)}
	}
	base := int(stated - from)
	if stated < pesPlace || !bytes.HasPrefix(data[base:], []byte("LA:")) {
		base = findPEC(data, base)
	}
	if base < 0 && stated == 0 {
		return 0, &FormatError{Format: "PES", Offset: 8, Cause: ErrCorrupt, Detail: "it names no stitch block and has none: a drawing saved without stitches for a machine"}
	}
	if base < 0 {
		return 0, &FormatError{Format: "PES", Offset: 8, Cause: ErrCorrupt, Detail: fmt.Sprintf("no stitch block at or near byte %d", stated)}
	}
	return from + int64(base), nil
}

// findPEC looks for a PEC block around the given place and returns the first, or
// -1.
func findPEC(data []byte, near int) int {
	end := min(len(data), near+pesNearby)
	for p := max(pesPlace, near-pesNearby); p < end; p++ {
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
// block, as far as the version is described, and reports whether no text was left
// out. A surprise is a warning: the PEC block alone makes a whole design.
func (a *assembler) readPESHeader(head []byte) bool {
	version := string(head[4:8])
	if version == "0001" {
		// Its writers put the size of the canvas into the block.
		a.d.Claims.Width, a.d.Claims.Height = -1, -1
	}
	if len(head) < pesStrings {
		return true
	}
	switch version {
	case "0040", "0050", "0055", "0056", "0060", "0070", "0080", "0090", "0100":
	default:
		return true // older ones have no texts here
	}
	r := pesReader{cursor{b: head, p: pesStrings}}
	name, category, author, keywords, comments := r.text(), r.text(), r.text(), r.text(), r.text()
	if r.bad {
		a.warn(pesStrings, "the texts of the design part do not fit; they are left out")
		return false
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
	if l, ok := pesLayouts[version]; ok {
		a.readPESThreads(&r, l)
	}
	return true
}

// pesLayout is what differs between versions behind the texts.
type pesLayout struct {
	settings  int  // bytes before the background image
	hoop      int  // where in them the hoop stands
	kind      int  // bytes between a thread's colour and its names
	tentative bool // known from a real file alone, so held to what follows
}

var pesLayouts = map[string]pesLayout{
	"0050": {24, 2, 4, true},
	"0055": {24, 2, 4, true},
	"0056": {24, 2, 4, true},
	"0060": {36, 4, 5, false},
	"0070": {36, 4, 5, false},
}

// readPESThreads takes the hoop and the thread list.
func (a *assembler) readPESThreads(r *pesReader, l pesLayout) {
	odd := func(at int, what string) {
		if !l.tentative {
			a.warn(at, "%s; colours are those of the palette", what)
		}
	}
	at := r.p
	settings := r.take(l.settings)
	r.text()   // background image
	r.take(24) // matrix of that image
	fills, motifs, feathers, count := r.u16(), r.u16(), r.u16(), r.u16()
	if r.bad {
		odd(at, "the settings of the design part do not fit")
		return
	}
	// No hoop made is wider than two metres.
	hoop := Hoop{float64(binary.LittleEndian.Uint16(settings[l.hoop:])), float64(binary.LittleEndian.Uint16(settings[l.hoop+2:]))}
	if min(hoop.Width, hoop.Height) <= 0 || max(hoop.Width, hoop.Height) > 2000 {
		hoop = Hoop{}
	}
	if !l.tentative {
		a.d.Hoop = hoop
	}
	at = r.p
	if fills != 0 || motifs != 0 || feathers != 0 {
		odd(at, "the thread list lies behind data of unknown length")
		return
	}
	var threads []Thread
	for range count {
		var t Thread
		t.Catalogue = r.text()
		if rgb := r.take(3); rgb != nil {
			t.Colour = color.RGBA{rgb[0], rgb[1], rgb[2], 0xFF}
		}
		r.take(l.kind)
		t.Name, t.Maker = r.text(), r.text()
		r.text() // chart
		if r.bad {
			odd(at, "the thread list does not fit")
			return
		}
		threads = append(threads, t)
	}
	if l.tentative {
		r.take(2) // number of objects
		if string(r.take(4)) != "\xFF\xFF\x00\x00" {
			return
		}
		a.d.Hoop = hoop
	}
	a.matchPESThreads(threads, at)
}

// matchPESThreads lays the listed threads over the palette entries. Both ways of
// listing occur: one thread for each entry, or one for each distinct index in
// order of first use. Where threads are listed that are not used, those of the
// very colours of the palette are meant.
func (a *assembler) matchPESThreads(threads []Thread, at int) {
	entries := a.d.Threads
	place := make(map[int]int) // palette index to listed thread
	for _, e := range entries {
		if _, ok := place[e.Index]; !ok {
			place[e.Index] = len(place)
		}
	}
	if len(threads) != len(entries) && len(threads) != len(place) {
		if matchByColour(threads, entries) {
			return
		}
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

// matchByColour gives each entry the listed thread of its colour, if there is one
// for every entry.
func matchByColour(threads, entries []Thread) bool {
	listed := make(map[color.RGBA]Thread)
	for _, t := range threads {
		listed[t.Colour] = t
	}
	for _, e := range entries {
		if _, ok := listed[e.Colour]; !ok {
			return false
		}
	}
	for i, e := range entries {
		entries[i] = listed[e.Colour]
		entries[i].Index = e.Index
	}
	return true
}
