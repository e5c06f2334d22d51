package stitchfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"slices"
	"sync"
)

// Limits of a PackReader left at zero. Packs sold hold some dozens of entries of
// a few hundred kilobytes; a library of designs some thousands.
const (
	DefaultMaxEntries = 50_000
	DefaultMaxTotal   = 2 << 30
	// DefaultMaxRatio is well past what stitches do (real designs: 3 to 1, the
	// most regular 23 to 1) and well below nothing but zeros (1000 to 1).
	DefaultMaxRatio   = 200
	DefaultMaxArchive = 256 << 20
	DefaultMaxNested  = 1
)

// ratioFloor is the size from which MaxRatio holds; below it a good ratio does
// no harm.
const ratioFloor = 1 << 20

// PackReader opens packs: what a maker sells as one design, in several sizes and
// formats. The zero value is ready to use. Its limits keep a pack made to do
// harm from taking more than its share; what is beyond them is left out with an
// error that is ErrTooLarge.
type PackReader struct {
	// Decoder reads the designs; its MaxBytes bounds each entry. Its Name is
	// not used.
	Decoder Decoder
	// MaxEntries is how many files and folders are looked at; 0 means
	// DefaultMaxEntries.
	MaxEntries int
	// MaxTotal is how many bytes all entries in ZIP files may come to when
	// unpacked; 0 means DefaultMaxTotal.
	MaxTotal int64
	// MaxRatio is how many times its packed size an entry of a megabyte or
	// more may come to, and all entries of a ZIP together; 0 means
	// DefaultMaxRatio.
	MaxRatio int
	// MaxArchive is the largest ZIP that is held in memory, because it comes
	// from a stream or lies in another ZIP; 0 means DefaultMaxArchive.
	MaxArchive int64
	// MaxNested is how deep ZIP files are opened that lie in a ZIP; 0 means
	// DefaultMaxNested, negative means not at all.
	MaxNested int
}

// limits returns r with its zeros filled in.
func (r PackReader) limits() PackReader {
	fill := func(v *int64, d int64) {
		if *v <= 0 {
			*v = d
		}
	}
	fill(&r.Decoder.MaxBytes, DefaultMaxBytes)
	fill(&r.MaxTotal, DefaultMaxTotal)
	fill(&r.MaxArchive, DefaultMaxArchive)
	if r.MaxEntries <= 0 {
		r.MaxEntries = DefaultMaxEntries
	}
	if r.MaxRatio <= 0 {
		r.MaxRatio = DefaultMaxRatio
	}
	if r.MaxNested == 0 {
		r.MaxNested = DefaultMaxNested
	}
	return r
}

// Pack is a ZIP, a folder or a single stitch file, seen as a list of entries. It
// holds no file open and need not be closed; of the ZIP files nested in others
// the one used last stays in memory as long as the Pack does. Its methods may be
// called concurrently.
type Pack struct {
	path   string
	reader PackReader
	walk   func(*walk)

	mu   sync.Mutex
	kept *store // the nested ZIP unpacked last
}

// OpenPack opens the ZIP, the folder or the single file of that name with the
// default limits; see PackReader.Open.
func OpenPack(name string) (*Pack, error) { return new(PackReader).Open(name) }

// Open opens the named ZIP, folder or single file. What it is shows in its
// content. A file that is no file to come back to, such as a pipe, is read at
// once. Errors are those of the file system; whatever is wrong inside comes from
// the entries.
func (r *PackReader) Open(name string) (*Pack, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p := &Pack{path: shown(name), reader: r.limits()}
	switch {
	case info.IsDir():
		p.walk = func(w *walk) { w.folder(name) }
	case !info.Mode().IsRegular():
		return r.Read(f, name)
	default:
		var start [4]byte
		n, err := io.ReadFull(f, start[:])
		if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
			return nil, err
		}
		if isZIP(start[:n]) || extension(name) == "zip" {
			p.walk = func(w *walk) { w.zip(p.path, fileStore(name), 0) }
		} else {
			p.walk = func(w *walk) { w.put(w.fileEntry(p.path, name, name, info.Size())) }
		}
	}
	return p, nil
}

// Read reads a ZIP or a single stitch file from in, under the given name; "-" is
// usual for standard input. It reads in to its end, at most r.MaxArchive bytes of a ZIP
// and r.Decoder.MaxBytes of anything else, and returns errors of in as they are.
func (r *PackReader) Read(in io.Reader, name string) (*Pack, error) {
	p := &Pack{path: shown(name), reader: r.limits()}
	// What is no ZIP is read no further than a design may go on.
	var start [4]byte
	n, err := io.ReadFull(in, start[:])
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return nil, err
	}
	limit := p.reader.Decoder.MaxBytes
	if isZIP(start[:n]) {
		limit = p.reader.MaxArchive
	}
	data, err := readPieces(io.MultiReader(bytes.NewReader(start[:n]), in), limit)
	if err != nil {
		return nil, err
	}
	if int64(len(data)) > limit {
		return nil, entryError(p.path, tooLarge(limit))
	}
	if isZIP(data) {
		p.walk = func(w *walk) { w.zip(p.path, byteStore(data), 0) }
		return p, nil
	}
	p.walk = func(w *walk) {
		e := w.entry(p.path, name, int64(len(data)))
		e.fetch = func(*bytes.Buffer) ([]byte, error) {
			if limit := p.reader.Decoder.MaxBytes; int64(len(data)) > limit {
				return nil, tooLarge(limit)
			}
			return data, nil
		}
		w.put(e)
	}
	return p, nil
}

// Path is the name that the pack was opened by, with slashes, and the first part
// of the Path of its entries.
func (p *Pack) Path() string { return p.path }

// Entries lists everything in the pack in the order of a walk through sorted
// folders, whatever order a ZIP has them in; each time it is called it looks
// anew. Designs are not decoded, and most entries are not even read: see
// Entry.Decode. Entries stay good after the loop. Files that are open while it
// lists are closed when the loop ends, by break also.
//
// A file is taken for a design if a format claims its extension, and else if its
// content leaves no doubt; a single file that was given by name always is.
// Symbolic links in a folder are not followed, and folders whose name starts
// with a full stop are not entered; both are among the entries as passed over.
// ZIP files in a folder or in a ZIP are entered, as deep as MaxNested allows.
// An archive that is damaged gives what of it is sound and one entry, under its
// own Path, whose Decode says what is wrong.
func (p *Pack) Entries() iter.Seq[*Entry] {
	return func(yield func(*Entry) bool) {
		w := &walk{pack: p, yield: yield, seen: make(names)}
		p.walk(w)
	}
}

// Designs lists the entries that are not passed over. It is Entries without
// those that have a reason in Skipped.
func (p *Pack) Designs() iter.Seq[*Entry] {
	return func(yield func(*Entry) bool) {
		for e := range p.Entries() {
			if e.Skipped == "" && !yield(e) {
				return
			}
		}
	}
}

// Entry is one file in a pack.
type Entry struct {
	// Path is the pack's name and the place inside it, such as
	// "pack.zip/block-5in.dst", and is the entry's own: a second one of the
	// same name gets a number. What follows the pack's name has no empty,
	// "." or ".." element and nothing that does not show, whatever the pack
	// says; even so it is a name to show, not one to open.
	Path string
	// Name is the name as the pack spells it, bytes unchanged.
	Name string
	// Size is the size in bytes that the pack states for the entry unpacked.
	Size int64
	// Skipped says why the entry is passed over, in words; it is empty for a
	// design.
	Skipped string

	pack *Pack
	err  error // what is known to be wrong before the entry is read
	// fetch reads the entry, into the buffer if need be. What could be read
	// comes beside the error.
	fetch func(*bytes.Buffer) ([]byte, error)
}

// buffers are kept from one entry to the next, for a Design keeps nothing of the
// bytes it was decoded from. Those of the largest designs are not, lest they lie beside
// what is made of the design.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// Decode reads the design. The error, if any, is an *EntryError with the entry's
// Path; as with the package's Decode, a design that could be read only in part
// comes beside it, also where the pack and not the design is damaged. One entry
// and different ones may be decoded concurrently; each call holds the bytes of
// its entry only until it returns.
func (e *Entry) Decode() (*Design, error) {
	switch {
	case e.Skipped != "":
		return nil, entryError(e.Path, fmt.Errorf("%w: %s", ErrSkipped, e.Skipped))
	case e.err != nil:
		return nil, entryError(e.Path, e.err)
	}
	buf := buffers.Get().(*bytes.Buffer)
	defer func() {
		if buf.Cap() <= mostKept {
			buffers.Put(buf)
		}
	}()
	data, err := e.fetch(buf)
	if len(data) == 0 && err != nil {
		return nil, entryError(e.Path, err)
	}
	dec := e.pack.reader.Decoder
	dec.Name = e.Path
	d, derr := dec.DecodeBytes(data)
	switch {
	case err == nil && isZIP(data):
		err = zipError(0, ErrUnknown, "a ZIP under the name of a stitch file; give it by itself to have it opened")
	case err == nil:
		err = derr
	case derr != nil && d != nil:
		err = fmt.Errorf("%w; %w", err, derr)
	}
	return d, entryError(e.Path, err)
}

// mostKept is the largest buffer that is kept, in bytes; designs sold are smaller.
const mostKept = 4 << 20

// isZIP reports whether data starts as a ZIP does: with an entry, or with the
// end of an empty list of contents.
func isZIP(data []byte) bool {
	return bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("PK\x05\x06"))
}

// readUpTo reads r into b, to its end or one byte past limit. The size expected
// must come from somewhere better than a claim.
func readUpTo(b *bytes.Buffer, r io.Reader, expected, limit int64) ([]byte, error) {
	b.Reset()
	b.Grow(int(min(max(expected, 0), limit)) + bytes.MinRead)
	_, err := b.ReadFrom(io.LimitReader(r, limit+1))
	return b.Bytes(), err
}

// readPieces is readUpTo where nothing tells how much to expect: in pieces that are joined at
// last, so that much input takes no more than twice its bytes meanwhile.
func readPieces(r io.Reader, limit int64) ([]byte, error) {
	var pieces [][]byte
	r = io.LimitReader(r, limit+1)
	for size := 64 << 10; ; size = min(2*size, 8<<20) {
		piece := make([]byte, size)
		n, err := io.ReadFull(r, piece)
		pieces = append(pieces, piece[:n])
		switch err {
		case nil:
		case io.EOF, io.ErrUnexpectedEOF:
			return slices.Concat(pieces...), nil
		default:
			return nil, err
		}
	}
}

func tooLarge(limit int64) error {
	return &FormatError{Cause: ErrTooLarge, Offset: limit, Detail: fmt.Sprintf("more than %d bytes", limit)}
}

// Bytes reads an entry as it is, whatever it holds, up to limit bytes; one that is
// larger is an error that is ErrTooLarge. Notes and lists that come with designs are
// read so.
func (e *Entry) Bytes(limit int64) ([]byte, error) {
	if e.err != nil || e.fetch == nil {
		return nil, entryError(e.Path, errors.Join(e.err, errNotThere))
	}
	if e.Size > limit {
		return nil, entryError(e.Path, tooLarge(limit))
	}
	data, err := e.fetch(new(bytes.Buffer))
	if err == nil && int64(len(data)) > limit {
		err = tooLarge(limit)
	}
	if err != nil {
		return nil, entryError(e.Path, err)
	}
	return bytes.Clone(data), nil
}

var errNotThere = errors.New("there is nothing to read in it")
