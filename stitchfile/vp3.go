package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image/color"
	"io"
	"unicode/utf16"
)

const vp3Mark = "%vsm%\x00"

// The packets of a VP3 file, each a tag of three bytes and a length of four.
const (
	vp3Summary = "\x00\x02\x00"
	vp3Design  = "\x00\x03\x00"
	vp3Block   = "\x00\x05\x00"
	vp3Run     = "\x00\x01\x00"

	vp3Packet = 7 // tag and length
)

func init() {
	RegisterFormat(Format{
		Name:       "VP3",
		Extensions: []string{"vp3"},
		Doc:        "nested packets, one for each colour block; threads by RGB",
		Carries:    Carries{Colours: "rgb", Trims: true, Halts: true},
		Recognise:  startsWith(vp3Mark),
		Config:     configVP3,
		Decode:     decodeVP3,
	})
}

// vp3 is the state of one reading.
type vp3 struct {
	assembler
	cursor
	blocks   int // colour blocks begun
	stated   int // colour blocks that the designs state
	designs  int
	cx, cy   int32 // centre of the present design, µm, Y up
	disputed bool  // a code of doubtful meaning was met
}

// configVP3 tells the counts of the summary. They stand behind two texts, which in
// an odd file may reach past the lead; then they are not known.
func configVP3(lead []byte, _ io.ReaderAt) (Config, error) {
	v := vp3{assembler: newAssembler(0), cursor: cursor{b: lead, p: len(vp3Mark)}}
	v.wide()
	switch err := v.readSummary(); {
	case err == nil:
		return v.config(), nil
	case v.bad && len(lead) == configLead:
		return unstated, nil
	default:
		return unstated, err
	}
}

// decodeVP3 reads VP3. It cannot tell a name, and its size is left out because some
// writers put the canvas there. Real files state the lengths of the outer packets too
// short, so only the length of a stitch run bounds anything; the outer ones serve
// to find the next packet where none follows at once.
func decodeVP3(data []byte, _ *Decoder) (*Design, error) {
	v := vp3{assembler: newAssembler(len(data) / 2), cursor: cursor{b: data, p: len(vp3Mark)}}
	if producer := v.wide(); producer != "" {
		v.d.Fields = append(v.d.Fields, Field{"producer", producer})
	}
	if err := v.readSummary(); err != nil {
		return nil, err
	}
	for v.p < len(data) {
		var err *FormatError
		switch {
		case bytes.HasPrefix(data[v.p:], []byte(vp3Design)):
			err = v.readDesign()
		case v.designs > 0 && bytes.HasPrefix(data[v.p:], []byte(vp3Block)):
			err = v.readBlock()
		case v.designs > 0 && v.blocks >= v.stated && indexNotPadding(v.b[v.p:]) < 0:
			v.p = len(data)
		case v.designs > 0 && v.blocks >= v.stated:
			v.doubts(v.p, "%d bytes after the last colour block are passed over", len(data)-v.p)
			v.p = len(data)
		case len(data)-v.p < vp3Packet:
			err = v.fail(v.p, ErrTruncated, "expected a further colour block")
		case data[v.p] == 0 && data[v.p+2] == 0 && v.end(v.p) > v.p:
			v.warn(v.p, "unknown packet % x is passed over", data[v.p:v.p+3])
			v.p = v.end(v.p)
		default:
			err = v.fail(v.p, ErrCorrupt, fmt.Sprintf("expected a colour block 00 05 00, found % x", data[v.p:v.p+3]))
		}
		if err != nil {
			return v.finish(), err
		}
	}
	if v.designs > 1 {
		v.warn(0, "%d designs in one file, sewn one after another", v.designs)
	}
	if v.blocks < v.stated || v.designs == 0 {
		return v.finish(), v.fail(v.p, ErrTruncated, fmt.Sprintf("%d colour blocks are stated, %d are there", v.stated, v.blocks))
	}
	if v.blocks > v.stated {
		v.doubts(0, "%d colour blocks are stated, %d are there", v.stated, v.blocks)
	}
	// By some descriptions the count is a time, so it may speak for a design and not
	// against one of which every block is as long as it says.
	if claimed, n := v.d.Claims.Records, v.d.Counts().Stitches; claimed == n && n > 0 {
		v.speaks("the header counts %d stitches, and all are there", claimed)
	} else if claimed > 0 {
		v.warn(0, "header counts %d stitches, the design has %d", claimed, n)
	}
	v.speaksAtLast("every colour block is there and as long as it says")
	return v.finish(), nil
}

func (v *vp3) fail(at int, cause error, detail string) *FormatError {
	return &FormatError{Format: "VP3", Offset: int64(min(at, len(v.b))), Cause: cause, Detail: detail}
}

// end is where the packet at p ends by its own word, within the file; p itself
// where no length is left to read.
func (v *vp3) end(p int) int {
	if len(v.b)-p < vp3Packet {
		return p
	}
	n := int64(binary.BigEndian.Uint32(v.b[p+3:]))
	return int(min(int64(len(v.b)), int64(p)+vp3Packet+n))
}

// wide takes a string of UTF-16.
func (v *vp3) wide() string {
	at := v.p
	n := v.be16()
	b := v.take(n)
	if n%2 == 1 && !v.bad {
		v.warn(at, "a text of UTF-16 takes %d bytes; the last is left out", n)
	}
	u := make([]uint16, len(b)/2)
	for i := range u {
		u[i] = binary.BigEndian.Uint16(b[2*i:])
	}
	return headerText([]byte(string(utf16.Decode(u))), 2*len(b))
}

// narrow takes a string of bytes.
func (v *vp3) narrow() string {
	n := v.be16()
	return headerText(v.take(n), n)
}

// readSummary takes the packet that stands before the designs.
func (v *vp3) readSummary() *FormatError {
	at := v.p
	tag := v.take(vp3Packet)
	if v.bad {
		return v.fail(len(v.b), ErrTruncated, "the file ends before its summary")
	}
	if string(tag[:3]) != vp3Summary {
		return v.fail(at, ErrCorrupt, fmt.Sprintf("expected the summary 00 02 00, found % x", tag[:3]))
	}
	v.d.Comments = v.wide()
	// The extents are passed over: some writers put the canvas there. The count
	// is of stitches in real files, but a time by some descriptions.
	v.take(16)
	v.d.Claims.Records = int(v.be32() & (1<<31 - 1))
	v.d.Claims.ColourStops = max(0, v.be16()-1)
	v.take(3) // 0C and the number of designs
	if v.bad {
		return v.fail(len(v.b), ErrTruncated, "the file ends inside its summary")
	}
	return nil
}

// readDesign takes the head of a design, up to its first colour block.
func (v *vp3) readDesign() *FormatError {
	v.take(vp3Packet)
	v.cx, v.cy = int32(v.be32()), int32(v.be32())
	v.take(3 + 16 + 8) // hoop box and size, whose order and meaning are disputed
	if notes := v.wide(); v.d.Comments == "" {
		v.d.Comments = notes
	}
	v.take(2 + 16 + 6)
	v.wide() // producer again
	v.stated += v.be16()
	if v.bad {
		return v.fail(len(v.b), ErrTruncated, "the file ends inside the head of a design")
	}
	v.designs++
	return nil
}

// readBlock takes one colour block and sets the cursor behind it.
func (v *vp3) readBlock() *FormatError {
	at, end := v.p, v.end(v.p)
	v.take(vp3Packet)
	x, y := int32(v.be32()), int32(v.be32())
	thread, dx, dy, ok := v.readThread(10)
	if !ok {
		thread, dx, dy, ok = v.readThread(11)
	}
	if !ok {
		run := v.findRun(at+vp3Packet, end)
		if run < 0 {
			if len(v.b)-at < 64 || end == len(v.b) {
				return v.fail(len(v.b), ErrTruncated, "the file ends inside the head of a colour block")
			}
			return v.fail(at, ErrCorrupt, "the colour block holds no stitch run 00 01 00 where one is due")
		}
		v.warn(at, "the thread of this colour block cannot be read")
		v.p, v.bad = run, false
	}
	v.beginBlock(thread, x, y)
	return v.readRun(at, end, dx, dy, ok)
}

// readThread tries a colour part of the given size for a table of one colour, and
// reports whether the stitch run stands behind it. It moves the cursor only then.
func (v *vp3) readThread(size int) (t Thread, dx, dy int32, ok bool) {
	from := v.p
	defer func() {
		if !ok {
			t, v.p, v.bad = Thread{}, from, false
		}
	}()
	colours := v.u8()
	v.take(size - 9)
	if rgb := v.take(6); rgb != nil {
		t.Colour = color.RGBA{rgb[0], rgb[1], rgb[2], 0xFF}
	}
	v.take(6 * max(0, colours-1))
	v.u8() // kind of the thread
	t.WeightClass = v.u8()
	t.Catalogue, t.Name, t.Maker = v.narrow(), v.narrow(), v.narrow()
	dx, dy = int32(v.be32()), int32(v.be32())
	ok = !v.bad && bytes.HasPrefix(v.b[v.p:], []byte(vp3Run))
	return t, dx, dy, ok
}

// findRun looks between from and end for a stitch run that ends where the colour
// block does, and returns its place or -1.
func (v *vp3) findRun(from, end int) int {
	for p := from; p < end; p++ {
		i := bytes.Index(v.b[p:end], []byte(vp3Run))
		if i < 0 {
			break
		}
		p += i
		if v.end(p) == end-1 {
			return p
		}
	}
	return -1
}

// beginBlock changes to the thread of a new block and travels to its start. A
// block with the thread of the one before it is how the format writes a halt.
func (v *vp3) beginBlock(t Thread, x, y int32) {
	if v.blocks > 0 {
		var mark Mark
		if t == v.d.Threads[v.blocks-1] {
			mark = MarkHalt
		}
		v.here(ColourStop, mark)
	}
	v.d.Threads = append(v.d.Threads, t)
	v.blocks++
	tenth := func(a, b int32) int32 { return int32((int64(a) + int64(b)) / 100) }
	if dx, dy := tenth(v.cx, x)-v.x, tenth(v.cy, y)-v.y; dx != 0 || dy != 0 {
		if !v.move(Jump, 0, dx, dy) {
			v.warn(v.p, "the colour block starts beyond 100 m; it goes on where the one before ended")
		}
	}
}

// readRun takes the stitch run of the block that stands from at to end, checks it
// against the displacement dx, dy in µm where that is known, and leaves the cursor
// at the next packet.
func (v *vp3) readRun(at, end int, dx, dy int32, known bool) *FormatError {
	from, stop := v.p, v.end(v.p)
	if stop-from < vp3Packet+3 {
		if len(v.b)-from >= vp3Packet+3 {
			return v.fail(from, ErrCorrupt, "the stitch run has no room for its scale")
		}
		return v.fail(len(v.b), ErrTruncated, "the file ends at the head of a stitch run")
	}
	stated := int64(binary.BigEndian.Uint32(v.b[from+3:]))
	if scale := v.b[from+vp3Packet:][:3]; string(scale) != "\x0A\xF6\x00" {
		v.warn(from+vp3Packet, "the stitch run has the scale % x, read as 0a f6 00", scale)
	}
	x, y := v.x, v.y
	if err := v.readStitches(from+vp3Packet+3, stop); err != nil {
		return err
	}
	if int64(from)+vp3Packet+stated > int64(len(v.b)) {
		return v.fail(len(v.b), ErrTruncated, "the stitch run is longer than the file")
	}
	if sx, sy := v.x-x, v.y-y; known && (far(sx, dx) || far(sy, dy)) {
		v.doubts(from-8, "the colour block is said to move by %d, %d µm, its stitches move by %d, %d", dx, dy, 100*sx, 100*sy)
	}
	v.p = stop + 1
	if next := v.b[min(v.p, len(v.b)):]; len(next) > 2 && (next[0] != 0 || next[2] != 0) && end > v.p {
		v.doubts(at, "the colour block goes on behind its stitches; passed over")
		v.p = end
	}
	return nil
}

// far reports whether a sum in 0.1 mm is more than a unit from its value in µm.
func far(tenths, µm int32) bool {
	d := 100*int64(tenths) - int64(µm)
	return max(d, -d) > 100
}

// readStitches follows the stitches from p to stop. Y counts down in them.
func (v *vp3) readStitches(p, stop int) *FormatError {
	for p < stop {
		if stop-p < 2 {
			v.doubts(p, "half a stitch at the end of the run is left out")
			return nil
		}
		if v.b[p] != 0x80 {
			if !v.move(Stitch, 0, int32(int8(v.b[p])), -int32(int8(v.b[p+1]))) {
				return v.fail(p, ErrCorrupt, "the position runs beyond 100 m")
			}
			p += 2
			continue
		}
		switch code := v.b[p+1]; code {
		case 1:
			if stop-p < 6 {
				v.doubts(p, "half a long move at the end of the run is left out")
				return nil
			}
			dx, dy := int32(int16(binary.BigEndian.Uint16(v.b[p+2:]))), int32(int16(binary.BigEndian.Uint16(v.b[p+4:])))
			// The needle goes down at the end: the count in real headers, and the
			// same designs in PES, agree on that. The way there is taken as
			// unsewn.
			if !v.move(Jump, MarkLong, dx, -dy) {
				return v.fail(p, ErrCorrupt, "the position runs beyond 100 m")
			}
			v.here(Stitch, 0)
			p += 4
			if stop-p < 4 || v.b[p+2] != 0x80 || v.b[p+3] != 2 {
				v.warn(p+2, "a long move is not closed by 80 02")
			}
		case 0, 2: // nothing, and the close of a long move
		case 3:
			if !v.disputed {
				v.disputed = true
				v.warn(p, "code 80 03, whose meaning is disputed, taken as a cut")
			}
			v.here(Trim, 0)
		default:
			return v.fail(p, ErrCorrupt, fmt.Sprintf("unknown code 80 %02x", code))
		}
		p += 2
	}
	return nil
}
