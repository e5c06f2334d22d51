package stitchfile

import (
	"errors"
	"fmt"
)

// The parameters of the compression in HUS and VIP: block-wise canonical Huffman
// codes over a sliding window, as archivers of the early nineties had it.
const (
	unpackLengths   = 19  // symbols that code the lengths of the codes
	unpackCodes     = 511 // 256 bytes, then match lengths
	unpackPlaces    = 15  // symbols for the distance of a match
	unpackEnd       = 510
	unpackThreshold = 3
	unpackMaxLength = 16 // bits of a code

	// The tables of a block cost far more time than the few bytes they can be
	// written in, so blocks with tables are bounded: a few, and one more for every so
	// many bytes, which a block worth its tables takes several times over. A block of
	// one symbol has none.
	unpackFewBlocks  = 64
	unpackBlockBytes = 64
)

var errUnpackShort = errors.New("the compressed bytes end early")

// unpacker takes bits from the highest of each byte on. Past the end it supplies
// zeros and counts them.
type unpacker struct {
	b     []byte
	p     int // next byte
	acc   uint64
	n     int // bits in acc
	extra int // bits made up past the end

	tables int // that were built
}

// unpack expands b to at most limit bytes. It returns what came out before the
// bytes ran out or made no sense; at is then the place of the block at fault. The
// result grows with what is put out, never with what is promised.
func unpack(b []byte, limit int) (out []byte, at int, err error) {
	u := &unpacker{b: b}
	var codes, places huffman
	left, blocks := 0, unpackFewBlocks+len(b)/unpackBlockBytes
	for len(out) < limit {
		if left == 0 {
			at = u.p - (u.n-u.extra)/8
			tables := u.tables
			if left, err = u.header(&codes, &places); err != nil {
				return out, at, err
			}
			if u.tables > tables {
				blocks--
			}
			if blocks < 0 {
				return out, at, errors.New("more blocks than the bytes are worth")
			}
		}
		left--
		c, ok := u.symbol(&codes)
		if u.short() {
			return out, at, errUnpackShort
		}
		switch {
		case !ok:
			return out, at, errors.New("a code outside the table")
		case c < 256:
			out = append(out, byte(c))
			continue
		case c == unpackEnd:
			return out, at, nil
		}
		length := min(c-256+unpackThreshold, limit-len(out))
		j, ok := u.symbol(&places)
		distance := 1
		if j > 0 {
			distance = 1 + 1<<(j-1) + u.bits(j-1)
		}
		if u.short() {
			return out, at, errUnpackShort
		}
		if !ok || distance > len(out) {
			return out, at, fmt.Errorf("a match %d bytes back, where %d are out", distance, len(out))
		}
		for from := len(out) - distance; length > 0; length-- {
			out = append(out, out[from])
			from++
		}
	}
	return out, at, nil
}

// header reads the number of codes in a block and the block's tables.
func (u *unpacker) header(codes, places *huffman) (int, error) {
	n := u.bits(16)
	var lengths huffman
	if err := u.table(&lengths, unpackLengths, 5, 3); err != nil {
		return 0, err
	}
	if err := u.codeTable(codes, &lengths); err != nil {
		return 0, err
	}
	if err := u.table(places, unpackPlaces, 5, 0); err != nil {
		return 0, err
	}
	if u.short() {
		return 0, errUnpackShort
	}
	if n == 0 {
		return 0, errors.New("a block without codes")
	}
	return n, nil
}

// table reads the code lengths of an alphabet of n symbols, whose count takes w
// bits. Where gap is not zero, a count of skipped symbols stands before that one.
func (u *unpacker) table(h *huffman, n, w, gap int) error {
	k := u.bits(w)
	if k == 0 {
		return h.single(u.bits(w), n)
	}
	if k > n {
		return fmt.Errorf("a table of %d symbols, of which there are %d", k, n)
	}
	var lengths [unpackCodes]uint8
	for i := 0; i < k; {
		l := u.bits(3)
		for l >= 7 && u.bits(1) == 1 {
			if l++; l > unpackMaxLength {
				return errors.New("a code longer than 16 bits")
			}
		}
		lengths[i] = uint8(l)
		if i++; i == gap {
			i += u.bits(2)
		}
	}
	u.tables++
	return h.build(lengths[:n])
}

// codeTable reads the code lengths of bytes and match lengths, which are
// themselves coded.
func (u *unpacker) codeTable(h, coded *huffman) error {
	k := u.bits(9)
	if k == 0 {
		return h.single(u.bits(9), unpackCodes)
	}
	var lengths [unpackCodes]uint8
	for i := 0; i < k; {
		t, ok := u.symbol(coded)
		switch {
		case !ok:
			return errors.New("a code length outside the table")
		case t == 0:
			i++
		case t == 1:
			i += u.bits(4) + 3
		case t == 2:
			i += u.bits(9) + 20
		case i >= unpackCodes:
			return errors.New("more code lengths than codes")
		default:
			lengths[i] = uint8(t - 2)
			i++
		}
		if u.short() {
			return errUnpackShort
		}
	}
	u.tables++
	return h.build(lengths[:])
}

func (u *unpacker) fill() {
	for u.n <= 56 {
		u.acc <<= 8
		if u.p < len(u.b) {
			u.acc |= uint64(u.b[u.p])
			u.p++
		} else {
			u.extra += 8
		}
		u.n += 8
	}
}

// bits takes n bits, at most 16, as a number.
func (u *unpacker) bits(n int) int {
	if u.n < n {
		u.fill()
	}
	u.n -= n
	return int(u.acc >> u.n & (1<<n - 1))
}

// short reports whether bits past the end have been taken.
func (u *unpacker) short() bool { return u.n < u.extra }

// huffman is a canonical code: shorter codes first, equal ones in the order of
// their symbols.
type huffman struct {
	count   [unpackMaxLength + 1]uint16 // codes of each length
	symbols [unpackCodes]uint16         // in the order of their codes
	only    bool                        // symbols[0] takes no bits
}

func (h *huffman) single(symbol, n int) error {
	if symbol >= n {
		return fmt.Errorf("symbol %d, of which there are %d", symbol, n)
	}
	h.only = true
	h.symbols[0] = uint16(symbol)
	return nil
}

func (h *huffman) build(lengths []uint8) error {
	*h = huffman{}
	for _, l := range lengths {
		h.count[l]++
	}
	h.count[0] = 0
	var next [unpackMaxLength + 2]uint16
	left := 1
	for l := 1; l <= unpackMaxLength; l++ {
		if left = 2*left - int(h.count[l]); left < 0 {
			return errors.New("a table with more codes than bits allow")
		}
		next[l+1] = next[l] + h.count[l]
	}
	for i, l := range lengths {
		if l > 0 {
			h.symbols[next[l]] = uint16(i)
			next[l]++
		}
	}
	return nil
}

// symbol decodes one symbol; ok is false where no code fits.
func (u *unpacker) symbol(h *huffman) (s int, ok bool) {
	if h.only {
		return int(h.symbols[0]), true
	}
	if u.n < unpackMaxLength {
		u.fill()
	}
	code, first, index := 0, 0, 0
	for l := 1; l <= unpackMaxLength; l++ {
		code |= int(u.acc>>(u.n-l)) & 1
		n := int(h.count[l])
		if code-first < n {
			u.n -= l
			return int(h.symbols[index+code-first]), true
		}
		index += n
		first = (first + n) << 1
		code <<= 1
	}
	return 0, false
}
