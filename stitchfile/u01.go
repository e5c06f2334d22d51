package stitchfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
)

const (
	u01Mark   = 128 // bytes of '0'
	u01Header = 0x100
)

func init() {
	RegisterFormat(Format{
		Name:       "U01",
		Extensions: []string{"u01"},
		Doc:        "three-byte records of signs and sizes; needle numbers, no colours",
		Carries:    Carries{Colours: "none", Trims: true, Halts: true},
		Recognise: func(data []byte, _ bool) Certainty {
			if len(data) >= u01Header && len(bytes.TrimLeft(data[:u01Mark], "0")) == 0 {
				return Signature
			}
			return No
		},
		Config: func(lead []byte, _ io.ReaderAt) (Config, error) {
			a := newAssembler(0)
			a.readU01Header(lead)
			return a.config(), nil
		},
		Decode: decodeU01,
	})
}

// decodeU01 reads U01. It cannot tell a name or colours: its changes name a needle of
// the machine, and which thread is on it only the machine's owner knows.
func decodeU01(data []byte, _ *Decoder) (*Design, error) {
	r := needleReader{assembler: newAssembler((len(data) - u01Header) / 3), format: "U01", data: data, control: 0, y: 1, x: 2}
	r.readU01Header(data)
	r.count = r.d.Claims.Records
	r.anotherBehind("U01", joinedU01(data))
	return r.read(u01Header)
}

// readU01Header takes the count of records and the size.
func (a *assembler) readU01Header(head []byte) {
	half := func(at int) int { return int(int16(binary.LittleEndian.Uint16(head[at:]))) }
	c := &a.d.Claims
	c.Records = int(binary.LittleEndian.Uint32(head[0x8C:]) & (1<<31 - 1))
	c.Width, c.Height = max(-1, half(0x84)-half(0x80)), max(-1, half(0x86)-half(0x82))
}

// needleReader reads the records that U01 and DSB share: a control byte and two
// unsigned sizes. Bit 7 of the control byte is always set, bits 6 and 5 are the
// signs of y and x, the rest is a code.
type needleReader struct {
	assembler
	format        string
	data          []byte
	control, y, x int // places within a record
	count         int // records that the header counts; 0 or less for none
	sequinCode    byte

	needle int // in use; 0 while none was named
	said   [32]bool
	sequin bool
}

func (r *needleReader) fail(p int, cause error, detail string) (*Design, error) {
	r.closeThreads()
	return r.finish(), &FormatError{Format: r.format, Offset: int64(p), Cause: cause, Detail: detail}
}

// read follows the records at p to the end code. Behind the records of U01 may
// stand what a machine has been taught, which is not to be read as stitches.
func (r *needleReader) read(p int) (*Design, error) {
	begin := p
	defer func() { r.d.Records = (p - begin) / 3 }()
	for ; p+3 <= len(r.data); p += 3 {
		if n := (p - begin) / 3; r.format == "U01" && n > 0 && n == r.count && r.data[p+r.control]&0x9F != 0x98 && !r.goesOn(p) {
			r.warn(p, "no end code after the %d records that the header counts; the bytes behind are passed over", n)
			r.speaks("the header counts %d records, and all are there", n)
			r.closeThreads()
			return r.finish(), nil
		}
		rec := r.data[p : p+3]
		c := rec[r.control]
		if c&0x80 == 0 {
			return r.fail(p, ErrCorrupt, fmt.Sprintf("control byte %02x without its highest bit: the records are out of step", c))
		}
		dx, dy := int32(rec[r.x]), int32(rec[r.y])
		if c&0x20 != 0 {
			dx = -dx
		}
		if c&0x40 != 0 {
			dy = -dy
		}
		if c == r.sequinCode && c != 0 && dx == 0 && dy == 0 {
			if r.sequin = !r.sequin; r.sequin {
				r.warn(p, "sequin mode: the sequins are kept as marked jumps")
			}
			continue
		}
		if c&0x1F == 0x18 {
			r.closeThreads()
			if i := indexNotPadding(r.data[p+3:]); i >= 0 && r.format != "U01" {
				r.doubts(p+3+i, "%d bytes after the end of the design are passed over", len(r.data)-p-3-i)
			}
			if n := (p - begin) / 3; r.count > 0 && n != r.count && n+1 != r.count {
				r.doubts(p, "header counts %d records, the design has %d", r.count, n)
			} else if r.count > 0 {
				r.speaks("the header counts %d records, and all are there", r.count)
			} else if r.format != "U01" {
				r.speaks("an end code, and nothing behind it")
			}
			return r.finish(), nil
		}
		if !r.record(p, c&0x1F, dx, dy) {
			return r.fail(p, ErrCorrupt, "the position runs beyond 100 m")
		}
	}
	if n := (p - begin) / 3; n > 0 && n == r.count && p == len(r.data) {
		r.warn(p, "no end code; all %d records that the header counts are there", n)
		r.speaks("the header counts %d records, and all are there", n)
		r.closeThreads()
		return r.finish(), nil
	}
	return r.fail(len(r.data), ErrTruncated, "expected a further record or the end code")
}

// goesOn reports whether the records at p run in step to an end code, which tells
// that the header counts too few.
func (r *needleReader) goesOn(p int) bool {
	for ; p+3 <= len(r.data); p += 3 {
		c := r.data[p+r.control]
		if c&0x80 == 0 {
			return false
		}
		if c&0x1F == 0x18 {
			r.count = -1 // so that the question is not asked again
			return true
		}
	}
	return false
}

// record adds the moves of one record. The codes of the speeds, and what the
// format leaves open, are warned about once each.
func (r *needleReader) record(p int, code byte, dx, dy int32) bool {
	once := func(format string, args ...any) {
		if !r.said[code] {
			r.said[code] = true
			r.warn(p, format, args...)
		}
	}
	travel := func() bool { return dx == 0 && dy == 0 || r.move(Jump, 0, dx, dy) }
	switch {
	case code == 0:
		return r.move(Stitch, 0, dx, dy)
	case code == 1:
		mark := Mark(0)
		if r.sequin {
			mark = MarkSequin
		}
		return r.move(Jump, mark, dx, dy)
	case code == 2, code == 4:
		once("code %d, by some accounts a stitch at another speed, taken as a stitch", code)
		return r.move(Stitch, 0, dx, dy)
	case code == 3, code == 5:
		once("code %d, by some accounts a jump at another speed, taken as a jump", code)
		return r.move(Jump, 0, dx, dy)
	case code == 7:
		r.here(Trim, 0)
		return travel()
	case code == 8:
		r.stop(MarkHalt)
		return travel()
	case code >= 9 && code <= 0x17:
		r.change(int(code) - 8)
		return travel()
	}
	once("unknown code %d, taken as a jump", code)
	return r.move(Jump, 0, dx, dy)
}

// change selects a needle. Before anything is sewn that is no stop: it only names
// the first thread.
func (r *needleReader) change(needle int) {
	first := len(r.d.Moves) == 0 && r.needle == 0
	mark := Mark(0)
	if needle == r.needle {
		mark = MarkHalt
	}
	if !first {
		r.stop(mark)
	}
	r.needle = needle
}

// stop ends the block of the needle in use.
func (r *needleReader) stop(m Mark) {
	r.thread()
	r.here(ColourStop, m)
}

// thread notes the needle in use as the thread of the block that ends.
func (r *needleReader) thread() {
	if len(r.d.Threads) < maxThreads {
		r.d.Threads = append(r.d.Threads, Thread{Index: r.needle})
	}
}

// closeThreads names the thread of the last block, and leaves none where no
// needle was ever named.
func (r *needleReader) closeThreads() {
	r.thread()
	for _, t := range r.d.Threads {
		if t.Index != 0 {
			return
		}
	}
	r.d.Threads = nil
}
