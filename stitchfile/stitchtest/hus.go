package stitchtest

import (
	"encoding/binary"

	"github.com/stopcard/stopcard/stitchfile"
)

func init() {
	encoders["HUS"] = func(d *stitchfile.Design) ([]byte, error) { return encodeHUS(d, 0x00C8AF5B, 2), nil }
	encoders["VIP"] = func(d *stitchfile.Design) ([]byte, error) { return encodeHUS(d, 0x0190FC5D, 4), nil }
}

// encodeHUS writes HUS, or VIP with zeros for its colours of four bytes each.
func encodeHUS(d *stitchfile.Design, mark uint32, colour int) []byte {
	var streams [3][]byte
	put := func(attribute byte, dx, dy int32) {
		for i, b := range []byte{attribute, byte(dx), byte(dy)} {
			streams[i] = append(streams[i], b)
		}
	}
	var x, y int32
	for _, m := range d.Moves {
		attribute := map[stitchfile.Kind]byte{
			stitchfile.Stitch: 0x80, stitchfile.Jump: 0x81, stitchfile.Trim: 0x88, stitchfile.ColourStop: 0x84, stitchfile.End: 0x90,
		}[m.Kind]
		s := steps(m.X-x, m.Y-y, 127)
		for i, v := range s {
			if i < len(s)-1 {
				put(0x81, v[0], v[1])
			} else {
				put(attribute, v[0], v[1])
			}
		}
		x, y = m.X, m.Y
	}
	if len(d.Moves) == 0 {
		put(0x90, 0, 0)
	}
	blocks := d.Counts().ColourStops + 1
	box, _ := d.Bounds()
	le := binary.LittleEndian
	head := le.AppendUint32(nil, mark)
	head = le.AppendUint32(head, uint32(len(streams[0])))
	head = le.AppendUint32(head, uint32(blocks))
	for _, v := range []int32{box.MaxX, box.MaxY, box.MinX, box.MinY} {
		head = le.AppendUint16(head, uint16(v))
	}
	var body []byte
	at := 42 + colour*blocks
	for _, s := range streams {
		head = le.AppendUint32(head, uint32(at+len(body)))
		body = append(body, Compress(s)...)
	}
	head = append(head, make([]byte, 10)...)
	for i := range blocks {
		if colour == 2 {
			head = le.AppendUint16(head, uint16(stitchfile.HUSIndex(d.Thread(i))))
		} else {
			head = append(head, 0, 0, 0, 0)
		}
	}
	return append(head, body...)
}

// bitWriter fills bytes from their highest bit on.
type bitWriter struct {
	b []byte
	n int
}

func (w *bitWriter) put(v, bits int) {
	for i := bits - 1; i >= 0; i-- {
		if w.n%8 == 0 {
			w.b = append(w.b, 0)
		}
		w.b[w.n/8] |= byte(v>>i&1) << (7 - w.n%8)
		w.n++
	}
}

// Compress packs b the way the streams of HUS are packed, with matches but with
// plain codes: nine bits for each byte or match length, four for each distance.
func Compress(b []byte) []byte {
	type code struct{ symbol, place, extra, bits int }
	var codes []code
	last := map[[3]byte]int{}
	for i := 0; i < len(b); {
		length, from := 0, 0
		if i+3 <= len(b) {
			if at, ok := last[[3]byte(b[i:])]; ok && i-at <= 1024 {
				from = at
				for i+length < len(b) && length < 256 && b[from+length] == b[i+length] {
					length++
				}
			}
		}
		step := max(length, 1)
		if length < 3 {
			codes = append(codes, code{symbol: int(b[i]), place: -1})
			step = 1
		} else {
			c := code{symbol: 256 + length - 3}
			if far := i - from - 1; far > 0 {
				for 1<<c.place <= far {
					c.place++
				}
				c.bits = c.place - 1
				c.extra = far - 1<<c.bits
			}
			codes = append(codes, c)
		}
		for range step {
			if i+3 <= len(b) {
				last[[3]byte(b[i:])] = i
			}
			i++
		}
	}
	var w bitWriter
	for len(codes) > 0 {
		n := min(len(codes), 0xFFFF)
		w.put(n, 16)
		w.put(0, 5)
		w.put(11, 5) // every code length is 11-2 bits
		w.put(511, 9)
		w.put(15, 5)
		for range 15 {
			w.put(4, 3)
		}
		for _, c := range codes[:n] {
			w.put(c.symbol, 9)
			if c.place >= 0 {
				w.put(c.place, 4)
				w.put(c.extra, c.bits)
			}
		}
		codes = codes[n:]
	}
	return w.b
}
