package stitchfile

import "encoding/binary"

// cursor takes values from b one after another; bad stays set once the bytes ran
// out, and everything taken then is zero.
type cursor struct {
	b   []byte
	p   int
	bad bool
}

func (c *cursor) take(n int) []byte {
	if c.bad || n > len(c.b)-c.p {
		c.bad = true
		return nil
	}
	c.p += n
	return c.b[c.p-n : c.p]
}

func (c *cursor) u8() int {
	if b := c.take(1); b != nil {
		return int(b[0])
	}
	return 0
}

// u16 takes a little-endian value, be16 and be32 take big-endian ones.
func (c *cursor) u16() int {
	if b := c.take(2); b != nil {
		return int(binary.LittleEndian.Uint16(b))
	}
	return 0
}

func (c *cursor) be16() int {
	if b := c.take(2); b != nil {
		return int(binary.BigEndian.Uint16(b))
	}
	return 0
}

func (c *cursor) be32() uint32 {
	if b := c.take(4); b != nil {
		return binary.BigEndian.Uint32(b)
	}
	return 0
}
