package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
)

// By how much the part for editing may differ from what is sewn. In the real files looked
// at, stitches kept for editing differed by at most 0.2 mm, eight in twenty thousand and
// no thread; outlines by 0.6 mm, since stitches reach a little beyond them.
const (
	editingSize    = 10 // 0.1 mm, across or up
	outlineSize    = 15 // 0.1 mm, across or up
	editingPercent = 10 // of the stitches
	editingFew     = 50 // stitches
)

const (
	pesObjects  = "\xFF\xFF\x00\x00"                                                                // behind the number of objects, before the first
	pesStitches = pesObjects + "\x07\x00"                                                           // an object of stitches
	pesFrame    = pesStitches + "CEmbOne"                                                           // its frame
	pesSegments = pesStitches + "CSewSeg"                                                           // its stitches, in segments
	pesOutline  = pesObjects + "\x08\x00"                                                           // an object drawn as an outline
	pesLine     = pesOutline + "CEmbLine"                                                           // its frame
	pesNext     = 0x8003                                                                            // another segment follows
	pesAsDrawn  = "\x00\x00\x80\x3F" + "\x00\x00\x00\x00" + "\x00\x00\x00\x00" + "\x00\x00\x80\x3F" // the first four numbers of a matrix that neither turns nor scales
)

// pesEditing is what the part for editing says of the design that it draws.
type pesEditing struct {
	box      Box
	room     int64 // by how much the stitches may differ from the box
	stitches int   // 0: it holds outlines
	threads  []int // palette entries in sewing order, none twice in a row
}

// readPESEditing reads the part for editing as far as it is known: one object of stitches,
// or any number of outlines, turned and scaled in no way. Of others it tells nothing.
func readPESEditing(head []byte) (e pesEditing, ok bool) {
	if at := bytes.Index(head, []byte(pesFrame)); at >= 2 && binary.LittleEndian.Uint16(head[at-2:]) == 1 {
		return readPESSegments(head[at+len(pesFrame):])
	}
	if at := bytes.Index(head, []byte(pesLine)); at >= 2 {
		return readPESOutlines(head[at+len(pesLine):], int(binary.LittleEndian.Uint16(head[at-2:])))
	}
	return e, false
}

// readPESSegments reads an object of stitches from behind its name.
func readPESSegments(b []byte) (e pesEditing, ok bool) {
	e.room = editingSize
	r := cursor{b: b}
	r.take(16) // its box, which many writers leave empty
	if m := r.take(len(pesAsDrawn)); string(m) != pesAsDrawn {
		return e, false
	}
	at := bytes.Index(b[r.p:], []byte(pesSegments))
	if at < 0 {
		return e, false
	}
	r.p += at + len(pesSegments)
	for more := pesNext; more == pesNext; {
		sewn := r.u16() == 0
		r.u16() // thread
		points := cursor{b: r.take(4 * r.u16())}
		for sewn && points.p < len(points.b) {
			x, y := int32(int16(points.u16())), int32(int16(points.u16()))
			e.box = e.box.with(Box{x, y, x, y}, e.stitches == 0)
			e.stitches++
		}
		if more = r.u16(); more != pesNext {
			for i := 0; i < more && !r.bad; i++ {
				r.u16() // segment where it begins
				e.threads = append(e.threads, r.u16())
			}
		}
	}
	e.threads = slices.Compact(e.threads)
	return e, !r.bad && e.stitches > 0 && len(e.threads) > 0
}

// readPESOutlines reads the boxes of n outlines from behind the name of the first. Each
// has two before its matrix: of the outline, and of its stitches.
func readPESOutlines(b []byte, n int) (e pesEditing, ok bool) {
	e.room = outlineSize
	found := 0
	for p := 0; ; p += len(pesAsDrawn) {
		i := bytes.Index(b[p:], []byte(pesAsDrawn))
		if i < 0 {
			return e, found > 0 && found == n
		}
		if p += i; p < 8 {
			return e, false
		}
		r := cursor{b: b, p: p - 8}
		s := func() int32 { return int32(int16(r.u16())) }
		e.box = e.box.with(Box{s(), s(), s(), s()}, found == 0)
		found++
	}
}

// with is a box around both, or the other alone where there is none yet.
func (b Box) with(o Box, first bool) Box {
	if first {
		return o
	}
	return Box{min(b.MinX, o.MinX), min(b.MinY, o.MinY), max(b.MaxX, o.MaxX), max(b.MaxY, o.MaxY)}
}

// compareEditing holds the part for editing to what is sewn. Machines sew the stitch
// block, people look at the other part in a program: where the two are not one design,
// the file was put together of two.
func (a *assembler) compareEditing(head []byte) {
	e, ok := readPESEditing(head)
	box, sewn := a.d.Bounds()
	if !ok || !sewn {
		return
	}
	at := len(head)
	var unlike []string
	if dw, dh := e.box.Width()-box.Width(), e.box.Height()-box.Height(); max(dw, -dw, dh, -dh) > e.room {
		unlike = append(unlike, fmt.Sprintf("it is %.1f by %.1f mm, what is sewn %.1f by %.1f mm",
			float64(e.box.Width())/10, float64(e.box.Height())/10, float64(box.Width())/10, float64(box.Height())/10))
	}
	if e.stitches > 0 { // outlines tell neither stitches nor threads
		n := a.d.Counts().Stitches
		if d := max(n-e.stitches, e.stitches-n); d > max(editingFew, n*editingPercent/100) {
			unlike = append(unlike, fmt.Sprintf("it has %d stitches, what is sewn %d", e.stitches, n))
		}
		var threads []int
		for _, t := range a.d.Threads {
			threads = append(threads, t.Index)
		}
		switch threads = slices.Compact(threads); {
		case len(threads) == 0 || slices.Contains(e.threads, 0): // not set
		case len(threads) != len(e.threads):
			unlike = append(unlike, fmt.Sprintf("it changes the thread %s, what is sewn %s", plural(len(e.threads)-1, "time", "times"), plural(len(threads)-1, "time", "times")))
		case !slices.Equal(threads, e.threads):
			a.warn(at, "the part for editing, before the stitches, names other threads than the stitch block, which are taken")
		}
	}
	if len(unlike) > 0 {
		a.doubts(at, "the part for editing, before the stitches, holds another design: %s", strings.Join(unlike, ", and "))
	}
}
