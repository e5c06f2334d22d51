package stitchfile

import (
	"errors"
	"fmt"
	"io"
)

const (
	// MaxConfigBytes is the most that DecodeConfig reads of any input.
	MaxConfigBytes = 32 << 10

	// configLead is read of every input. It holds every header that has a
	// fixed place, and as many records as tell formats of one header apart.
	configLead = 16 << 10
)

// Config is what the header of a stitch file states about the design. Headers
// err, and nothing here was counted; Decode counts.
type Config struct {
	Format string // name of the format, such as "DST"; empty if not recognised
	Name   string // name inside the file; empty where there is none or it is not known
	Claims Claims // each figure negative where the header does not state it
}

// unstated is the Config of a header that states nothing.
var unstated = Config{Claims: NoClaims}

// Size is the size that the header states, in millimetres. It is 0 by 0, and ok is
// false, where it states none.
func (c Config) Size() (width, height float64, ok bool) {
	if c.Claims.Width < 0 || c.Claims.Height < 0 {
		return 0, 0, false
	}
	return float64(c.Claims.Width) / 10, float64(c.Claims.Height) / 10, true
}

// DecodeConfig tells the format and what the header states, without reading the
// stitches: it reads the first 16 KiB of r, and never more than MaxConfigBytes. It
// leaves r wherever that ended.
//
// What is not told is told to be unknown. Name, colour stops, records and size are
// stated by DST and DSB, and by KSM where its header is that of DST; name, colour
// stops and size by PEC and PES; colour stops, records and size by HUS and VIP;
// records and size by U01; colour stops and records by VP3 and XXX; colour stops and
// size by JEF; records by PCS; colour stops by SEW; nothing by EXP, which has no
// header. What PES states may stand far into the file: past the first 16 KiB it is
// known only if r is an io.Seeker.
//
// The format is judged by those first bytes alone, so a file whose nature shows only
// later may be unknown here, or taken for another format than Decode takes it for.
// When the header is cut short or damaged the error is a *FormatError, and the Config
// names the format where that was recognised. Errors of r are returned as they are.
func DecodeConfig(r io.Reader) (Config, error) { return new(Decoder).DecodeConfig(r) }

// DecodeConfig tells what the header states. See the package-level DecodeConfig. Of
// the fields of d only Name bears on it.
func (d *Decoder) DecodeConfig(r io.Reader) (Config, error) {
	lead := make([]byte, configLead)
	n, err := io.ReadFull(r, lead)
	lead = lead[:n]
	whole := err == io.EOF || err == io.ErrUnexpectedEOF
	switch {
	case err != nil && !whole:
		return unstated, err
	case n == 0:
		return unstated, errNoBytes()
	}
	f, ok := recognise(lead, !whole, extension(d.Name))
	if !ok {
		return unstated, errStrange(lead, extension(d.Name))
	}
	if f.Config == nil {
		return Config{Format: f.Name, Claims: NoClaims}, nil
	}
	rest := &reach{lead: lead, whole: whole, r: r, at: int64(n), left: MaxConfigBytes - n}
	c, err := f.Config(lead, rest)
	c.Format = f.Name
	if rest.err != nil {
		return c, rest.err
	}
	return c, err
}

// config is what the header read so far has stated.
func (a *assembler) config() Config { return Config{Name: a.d.Name, Claims: a.d.Claims} }

// errShortHeader says that data ends within a header of the given length.
func errShortHeader(format string, data []byte, length int) *FormatError {
	return &FormatError{Format: format, Offset: int64(len(data)), Cause: ErrTruncated, Detail: fmt.Sprintf("the header alone takes %d bytes", length)}
}

// errOutOfReach: the input cannot seek, or has given all that is asked of any.
var errOutOfReach = errors.New("stitchfile: out of reach")

// reach reads elsewhere in an input of which the lead has been read.
type reach struct {
	lead  []byte
	whole bool // the lead is all there is
	r     io.Reader
	at    int64 // where r stands
	left  int   // how many bytes more may be read
	err   error // what r failed with
}

// ReadAt serves what it can from the lead, and seeks for the rest.
func (x *reach) ReadAt(p []byte, off int64) (int, error) {
	if off >= 0 && (x.whole || off+int64(len(p)) <= int64(len(x.lead))) {
		n := copy(p, x.lead[min(off, int64(len(x.lead))):])
		if n < len(p) {
			return n, io.EOF
		}
		return n, nil
	}
	s, ok := x.r.(io.Seeker)
	if !ok || len(p) > x.left || off < 0 {
		return 0, errOutOfReach
	}
	if _, err := s.Seek(off-x.at, io.SeekCurrent); err != nil {
		x.left = 0 // such as a pipe; where it stands now is not known
		return 0, errOutOfReach
	}
	n, err := io.ReadFull(x.r, p)
	x.at = off + int64(n)
	x.left -= n
	switch err {
	case nil, io.EOF:
		return n, err
	case io.ErrUnexpectedEOF:
		return n, io.EOF
	}
	x.err = err
	return n, err
}
