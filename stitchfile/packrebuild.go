package stitchfile

import (
	"bufio"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"io"
	"math"
)

// Records of a ZIP, after APPNOTE.TXT 6.3.10: the header before each entry
// (4.3.7), what follows an entry of unknown size (4.3.9), the list of contents
// (4.3.12) and its end (4.3.16).
const (
	zipLocal      = "PK\x03\x04"
	zipDescriptor = "PK\x07\x08"
	zipCentral    = "PK\x01\x02"

	zipLocalLen = 30
)

// rebuilt is an archive with a new list of contents behind it.
type rebuilt struct {
	r    io.ReaderAt
	end  int64 // where r ends and tail begins
	tail []byte
}

func (b *rebuilt) size() int64 { return b.end + int64(len(b.tail)) }

func (b *rebuilt) ReadAt(p []byte, off int64) (n int, err error) {
	if off < b.end {
		n, err = b.r.ReadAt(p[:min(int64(len(p)), b.end-off)], off)
		if n == len(p) || err != nil && err != io.EOF {
			return n, err
		}
		if off+int64(n) < b.end {
			return n, io.ErrUnexpectedEOF
		}
	}
	m, err := bytes.NewReader(b.tail).ReadAt(p[n:], off+int64(n)-b.end)
	return n + m, err
}

// rebuildZIP writes a list of contents from the headers before the entries, for
// an archive cut short or damaged so that its own cannot be used. It returns how
// many entries it found. The list is checked like any other when entries are
// read, so that a wrong guess here is an error there.
func rebuildZIP(r io.ReaderAt, size int64, limits PackReader) (*rebuilt, int) {
	b := &rebuilt{r: r, end: size}
	n := 0
	unpacked := int64(0)
	// A list for more than 4 GiB or 65,535 entries has another form, which a
	// damaged archive of that kind is not worth.
	for at := int64(0); size <= math.MaxUint32 && n < min(limits.MaxEntries+1, math.MaxUint16); {
		at = findRecord(r, zipLocal, at, size)
		if at < 0 {
			break
		}
		var h [zipLocalLen]byte
		if _, err := r.ReadAt(h[:], at); err != nil {
			break
		}
		le := binary.LittleEndian
		nameLen, extraLen := int64(le.Uint16(h[26:])), int64(le.Uint16(h[28:]))
		if at+zipLocalLen+nameLen > size {
			at += int64(len(zipLocal)) // no header, or one cut short
			continue
		}
		name := make([]byte, nameLen)
		if m, _ := r.ReadAt(name, at+zipLocalLen); m < len(name) {
			break
		}
		data := at + zipLocalLen + nameLen + extraLen
		e := zipExtent{crc: le.Uint32(h[14:]), packed: int64(le.Uint32(h[18:])), size: int64(le.Uint32(h[22:]))}
		flags, method := le.Uint16(h[6:]), le.Uint16(h[8:])
		if flags&8 != 0 || e.packed == math.MaxUint32 {
			limit := min(limits.MaxArchive, limits.MaxTotal-unpacked)
			e = measureEntry(r, data, size, method == 8 && flags&1 == 0, limit)
			unpacked += min(e.size, limit)
		}
		e.packed = max(0, min(e.packed, size-data)) // cut short; reading it says so
		b.tail = append(b.tail, zipCentral...)
		b.tail = append(b.tail, 20, 0)
		b.tail = append(b.tail, h[4:14]...)
		b.tail = le.AppendUint32(b.tail, e.crc)
		b.tail = le.AppendUint32(b.tail, uint32(e.packed))
		b.tail = le.AppendUint32(b.tail, uint32(e.size))
		b.tail = le.AppendUint16(b.tail, uint16(nameLen))
		b.tail = append(b.tail, make([]byte, 12)...) // no extra field, no comment, no attributes
		b.tail = le.AppendUint32(b.tail, uint32(at))
		b.tail = append(b.tail, name...)
		at = max(data+e.packed, at+int64(len(zipLocal)))
		n++
	}
	length := len(b.tail)
	b.tail = append(b.tail, "PK\x05\x06\x00\x00\x00\x00"...)
	for range 2 {
		b.tail = binary.LittleEndian.AppendUint16(b.tail, uint16(n))
	}
	b.tail = binary.LittleEndian.AppendUint32(b.tail, uint32(length))
	b.tail = binary.LittleEndian.AppendUint32(b.tail, uint32(min(size, math.MaxUint32)))
	b.tail = append(b.tail, 0, 0)
	return b, n
}

// zipExtent is what the header before an entry tells in most archives.
type zipExtent struct {
	crc          uint32
	packed, size int64
}

// measureEntry finds where an entry ends whose header does not tell: by unpacking
// it if that can be done within limit, or at the next header.
func measureEntry(r io.ReaderAt, data, end int64, deflated bool, limit int64) zipExtent {
	e := zipExtent{packed: max(0, nextHeader(r, data, end)-data)}
	e.size = e.packed
	if deflated && data < end {
		counted := &countingReader{r: bufio.NewReader(io.NewSectionReader(r, data, end-data))}
		n, err := io.Copy(io.Discard, io.LimitReader(flate.NewReader(counted), limit+1))
		switch {
		case n > limit:
			e.size = math.MaxUint32 // past every limit
			return e
		case err == io.ErrUnexpectedEOF:
			return zipExtent{packed: end - data, size: n + 1}
		case err != nil:
			e.size = n + 1 // so that reading it comes to the same fault
			return e
		}
		e = zipExtent{packed: counted.n, size: n}
	}
	var d [8]byte
	if n, _ := r.ReadAt(d[:], data+e.packed); n < len(d) || string(d[:4]) != zipDescriptor {
		e.size++ // whether it is whole cannot be known; let it count as cut short
	} else {
		e.crc = binary.LittleEndian.Uint32(d[4:])
	}
	return e
}

// nextHeader is where the next entry or the list of contents begins, or end.
func nextHeader(r io.ReaderAt, from, end int64) int64 {
	next := end
	for _, mark := range []string{zipLocal, zipCentral, zipDescriptor} {
		if at := findRecord(r, mark, from, next); at >= 0 {
			next = at
		}
	}
	return next
}

// findRecord looks for mark in r from one offset to another, or gives -1.
func findRecord(r io.ReaderAt, mark string, from, to int64) int64 {
	buf := make([]byte, 4096)
	for from+int64(len(mark)) <= to {
		n, err := r.ReadAt(buf[:min(int64(len(buf)), to-from)], from)
		if i := bytes.Index(buf[:n], []byte(mark)); i >= 0 {
			return from + int64(i)
		}
		if err != nil || n < len(mark) {
			return -1
		}
		from += int64(n - len(mark) + 1)
	}
	return -1
}

// countingReader counts the bytes taken, one by one if need be, so that nothing
// past the end of a stream is counted.
type countingReader struct {
	r *bufio.Reader
	n int64
}

func (c *countingReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

func (c *countingReader) ReadByte() (byte, error) {
	b, err := c.r.ReadByte()
	if err == nil {
		c.n++
	}
	return b, err
}
