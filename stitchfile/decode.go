package stitchfile

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"
)

// Limits of a Decoder left at zero.
const (
	// DefaultTrimJumps is how many jumps in a row stand for a cut in formats
	// without a trim record. Machines let their owner set it; three is usual
	// (common practice, no single source).
	DefaultTrimJumps = 3
	// DefaultMaxBytes bounds the input. The largest designs sold hold a few
	// hundred thousand stitches, a few megabytes.
	DefaultMaxBytes = 64 << 20
)

// Decoder reads stitch files. The zero value is ready to use.
type Decoder struct {
	// Name is the file's name. Its extension breaks ties between formats
	// that have no signature; nothing else is done with it.
	Name string
	// TrimJumps is how many jumps in a row the machine cuts at, in formats
	// without a trim record; negative means never. 0 means that it is not
	// known: DefaultTrimJumps of them are a cut unless the file shows
	// otherwise, and one MarkUnsure where it does not show what it means.
	TrimJumps int
	// MaxBytes is the largest input accepted; 0 means DefaultMaxBytes.
	MaxBytes int64
}

func (d *Decoder) trimJumps() int {
	if d.TrimJumps == 0 {
		return DefaultTrimJumps
	}
	return d.TrimJumps
}

// Decode reads one design. See the package-level Decode.
func (d *Decoder) Decode(r io.Reader) (*Design, error) { return d.decode(r, 0) }

// decode reads r, which is expected to hold so many bytes.
func (d *Decoder) decode(r io.Reader, expected int64) (*Design, error) {
	limit := d.MaxBytes
	if limit <= 0 {
		limit = DefaultMaxBytes
	}
	data, err := readUpTo(new(bytes.Buffer), r, expected, limit)
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > limit {
		return nil, &FormatError{Offset: limit, Cause: ErrTooLarge, Detail: fmt.Sprintf("more than %d bytes", limit)}
	}
	return d.DecodeBytes(data)
}

// DecodeBytes is Decode for bytes already in memory. The Design keeps no
// reference to data.
func (d *Decoder) DecodeBytes(data []byte) (*Design, error) {
	if len(data) == 0 {
		return nil, errNoBytes()
	}
	f, ok := recognise(data, false, extension(d.Name))
	if !ok {
		return nil, errStrange(data, extension(d.Name))
	}
	design, err := f.Decode(data, d)
	if design != nil {
		design.Format = f.Name
		tellRead(design, err)
		design.Damage = err
		design.settleWhole(err)
	}
	return design, err
}

func errNoBytes() *FormatError {
	return &FormatError{Cause: ErrEmpty, Detail: "expected a stitch file"}
}

// errStrange tells of bytes that no format claims, though the file may be named as one.
func errStrange(data []byte, ext string) *FormatError {
	if text := data[:min(24, len(data))]; isText(data) {
		return &FormatError{Cause: ErrUnknown, Detail: fmt.Sprintf("it holds text, beginning %q, and no stitches; the formats read are %s", bytes.TrimSpace(text), strings.Join(Names(), ", "))}
	}
	for _, f := range formats.all() {
		if slices.Contains(f.Extensions, ext) {
			return &FormatError{Cause: ErrUnknown, Detail: fmt.Sprintf("it is named as %s and holds none, or was cut short before its stitches; starts with % x", f.Name, data[:min(8, len(data))])}
		}
	}
	return &FormatError{Cause: ErrUnknown, Detail: fmt.Sprintf("starts with % x; the formats read are %s", data[:min(8, len(data))], strings.Join(Names(), ", "))}
}

// isText reports whether data is text that a person would read.
func isText(data []byte) bool {
	control := func(r rune) bool { return r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0x7F }
	return utf8.Valid(data) && !bytes.ContainsFunc(data, control)
}

// Decode reads one design from r in whatever format its content shows. When
// the file can only partly be read it returns the sound part and a
// *FormatError; when nothing can be read the Design is nil. Errors of r are
// returned as they are.
func Decode(r io.Reader) (*Design, error) { return new(Decoder).Decode(r) }

// Open reads the design in the named file, as Decode does.
func Open(name string) (*Design, error) {
	d := Decoder{Name: name}
	return d.Open(name)
}

// Open reads the design in the named file. If d.Name is empty, the file's own
// name serves as the tie-break between formats.
func (d *Decoder) Open(name string) (*Design, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	named := *d
	if named.Name == "" {
		named.Name = name
	}
	var size int64
	if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
		size = info.Size() // so that it is read in one piece
	}
	return named.decode(f, size)
}

// extension is the lower-case extension of name without its dot.
func extension(name string) string {
	return strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
}
