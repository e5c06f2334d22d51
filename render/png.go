package render

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"hash/adler32"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"io"
	"math"

	fastflate "github.com/klauspost/compress/flate"
)

// EncodePNG writes img as PNG with its resolution in a pHYs chunk, so that it
// prints at true size. dpi is in pixels per inch; the chunk holds pixels per
// metre, dpi/0.0254 rounded (PNG specification, W3C). Channels have 8 bits. Errors are
// those of w, or of a picture without pixels, which the format does not have.
//
// It writes what image/png reads back as the same pixels, in a third of the time and no
// larger for pictures of thread and for cards: guessing filters line by line takes
// longer than to compress, and makes lines that repeat one another harder to find.
func EncodePNG(w io.Writer, img image.Image, dpi float64) error {
	pic, ok := img.(*image.RGBA)
	if !ok {
		pic = image.NewRGBA(img.Bounds())
		draw.Draw(pic, pic.Rect, img, pic.Rect.Min, draw.Src)
	}
	wide, high := pic.Rect.Dx(), pic.Rect.Dy()
	if wide <= 0 || high <= 0 || wide > math.MaxInt32 || high > math.MaxInt32 {
		return errors.New("render: PNG of a picture without pixels, or with too many")
	}
	channels, kind := 3, byte(2) // true colour, and 6: with alpha
	if !pic.Opaque() {
		channels, kind = 4, 6
	}
	strips := make([]pngStrip, (high+pngStripRows-1)/pngStripRows)
	err := eachAtOnce(len(strips), func(i int) error {
		return strips[i].compress(pic, i*pngStripRows, min(high, (i+1)*pngStripRows), channels, i == len(strips)-1)
	})
	if err != nil {
		return err
	}

	head := binary.BigEndian.AppendUint32(nil, uint32(wide))
	head = binary.BigEndian.AppendUint32(head, uint32(high))
	out := pngWriter{w: w}
	out.write([]byte("\x89PNG\r\n\x1a\n"))
	out.chunk("IHDR", append(head, 8, kind, 0, 0, 0))
	perMetre := uint32(math.Round(dpi / 0.0254))
	size := binary.BigEndian.AppendUint32(nil, perMetre)
	out.chunk("pHYs", append(binary.BigEndian.AppendUint32(size, perMetre), 1))
	// All strips make one zlib stream (RFC 1950), whose checksum goes over all bytes.
	out.chunk("IDAT", []byte{0x78, 0x01})
	sum := uint32(1)
	for i := range strips {
		out.chunk("IDAT", strips[i].deflated.Bytes())
		sum = joinAdler(sum, strips[i].sum, strips[i].bytes)
	}
	out.chunk("IDAT", binary.BigEndian.AppendUint32(nil, sum))
	out.chunk("IEND", nil)
	return out.err
}

const (
	// pngStripRows is how many lines are compressed together: enough that what strips
	// cannot look back to is no loss, few enough for all processors to have work.
	pngStripRows = 256

	// pngLevel is the level of the fast compression: twice as fast as plainLevel of
	// compress/flate for thread and cards, and 1 to 4 % larger. Where most lines are the same
	// as the line above it, in plain areas, it is up to twice as large, so those are left
	// to the other. Both levels are the first that make thread and cards no larger than
	// image/png does at its fastest.
	pngLevel   = 5
	plainLevel = 4
)

// pngStrip is some lines of a picture, compressed.
type pngStrip struct {
	deflated bytes.Buffer
	sum      uint32 // Adler-32 of the bytes before that
	bytes    int
}

// compress takes the lines from y to end: as they are, or as the same as the line above.
func (s *pngStrip) compress(pic *image.RGBA, y, end, channels int, last bool) error {
	wide := 4 * pic.Rect.Dx()
	repeats, repeated := make([]bool, end-y), 0
	for i := range repeats {
		if at := (y + i) * pic.Stride; y+i > 0 && bytes.Equal(pic.Pix[at:at+wide], pic.Pix[at-pic.Stride:at-pic.Stride+wide]) {
			repeats[i] = true
			repeated++
		}
	}
	z, err := s.compressor(2*repeated > len(repeats))
	if err != nil {
		return err
	}
	sum := adler32.New()
	to := io.MultiWriter(z, sum)
	const none, up = 0, 2 // filters
	line, same := make([]byte, 1+channels*pic.Rect.Dx()), make([]byte, 1+channels*pic.Rect.Dx())
	line[0], same[0] = none, up
	for i, again := range repeats {
		out := same
		if !again {
			out = line
			at := (y + i) * pic.Stride
			pngLine(line[1:], pic.Pix[at:at+wide], channels)
		}
		if _, err := to.Write(out); err != nil {
			return err
		}
		s.bytes += len(out)
	}
	s.sum = sum.Sum32()
	if last {
		return z.Close()
	}
	return z.Flush() // to a whole byte
}

func (s *pngStrip) compressor(plain bool) (interface {
	io.WriteCloser
	Flush() error
}, error) {
	if plain {
		return flate.NewWriter(&s.deflated, plainLevel)
	}
	return fastflate.NewWriter(&s.deflated, pngLevel)
}

// pngLine writes pixels without alpha, or with alpha that is not multiplied in.
func pngLine(to, row []byte, channels int) {
	if channels == 3 {
		for ; len(row) >= 4 && len(to) >= 3; row, to = row[4:], to[3:] {
			to[0], to[1], to[2] = row[0], row[1], row[2]
		}
		return
	}
	copy(to, row)
	for i := 0; i < len(row); i += 4 {
		if a := row[i+3]; a != 0 && a != 255 {
			c := color.NRGBAModel.Convert(color.RGBA{row[i], row[i+1], row[i+2], a}).(color.NRGBA)
			to[i], to[i+1], to[i+2] = c.R, c.G, c.B
		}
	}
}

// joinAdler is the Adler-32 checksum (RFC 1950) of bytes with checksum a and n more,
// which have checksum b by themselves.
func joinAdler(a, b uint32, n int) uint32 {
	const base = 65521
	a1, a2, b1, b2 := uint64(a&0xffff), uint64(a>>16), uint64(b&0xffff), uint64(b>>16)
	low := (a1 + b1 + base - 1) % base
	high := (a2 + b2 + uint64(n)%base*(a1+base-1)) % base
	return uint32(high<<16 | low)
}

// pngWriter writes a PNG file and remembers the first error.
type pngWriter struct {
	w   io.Writer
	err error
}

func (p *pngWriter) write(b []byte) {
	if p.err == nil {
		_, p.err = p.w.Write(b)
	}
}

func (p *pngWriter) chunk(name string, data []byte) {
	head := append(binary.BigEndian.AppendUint32(nil, uint32(len(data))), name...)
	p.write(head)
	p.write(data)
	p.write(binary.BigEndian.AppendUint32(nil, crc32.Update(crc32.ChecksumIEEE(head[4:]), crc32.IEEETable, data)))
}
