package stitchfile

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"math"
	"sort"
	"strings"
	"sync"
)

// zip lists the archive in s, which lies under the given path, at the given
// level of nesting.
func (w *walk) zip(path string, s *store, level int) {
	if err := s.hold(); err != nil {
		w.fault(path, path, err)
		return
	}
	defer s.release()
	r := w.pack.reader
	files, err := listZIP(s, s.size, r)
	if err != nil && files == nil {
		if w.misnamed(path, s) {
			return
		}
		w.fault(path, path, err)
		return
	}
	type listed struct {
		*zip.File
		clean string
	}
	sorted := make([]listed, len(files))
	for i, f := range files {
		sorted[i] = listed{f, cleanPath(f.Name)}
	}
	sort.SliceStable(sorted, func(i, j int) bool { return comparePaths(sorted[i].clean, sorted[j].clean) < 0 })
	a := &archive{store: s, level: level, rebuilt: err != nil}
	for _, f := range sorted {
		if !w.look() {
			return
		}
		if f.Mode().IsDir() || strings.HasSuffix(f.Name, `\`) {
			continue
		}
		if !w.inZIP(a, path, f.clean, f.File) {
			return
		}
	}
	if err != nil {
		w.fault(path, path, err)
	}
}

// misnamed hands over a file that is named as a ZIP and is a plain design.
func (w *walk) misnamed(path string, s *store) bool {
	size := s.size
	if size > w.pack.reader.Decoder.MaxBytes {
		return false
	}
	read := func(buf *bytes.Buffer) ([]byte, error) {
		if err := s.hold(); err != nil {
			return nil, err
		}
		defer s.release()
		return readUpTo(buf, io.NewSectionReader(s, 0, size), size, size)
	}
	data, err := read(new(bytes.Buffer))
	if err != nil || !plainlyDesign(data) {
		return false
	}
	w.put(&Entry{Path: path, Name: path, Size: size, pack: w.pack, fetch: read})
	return true
}

// archive is one ZIP while it is listed.
type archive struct {
	store   *store
	level   int
	rebuilt bool  // its own list of contents could not be used
	bytes   int64 // unpacked so far, as stated
}

// inZIP lists one file of an archive and reports whether to go on.
func (w *walk) inZIP(a *archive, path, clean string, f *zip.File) bool {
	size := int64(min(f.UncompressedSize64, math.MaxInt64/2))
	e := w.entry(path+"/"+clean, f.Name, size)
	offset, _ := f.DataOffset() // zero if the entry's own header is damaged, which reading it tells
	e.fetch = func(buf *bytes.Buffer) ([]byte, error) {
		return fetchZIP(buf, w.pack, a, f, offset, w.pack.reader.Decoder.MaxBytes)
	}

	ext := extension(clean)
	nested := ext == "zip"
	e.Skipped = passedOver(clean)
	switch {
	case e.Skipped != "":
		return w.put(e)
	case f.Mode()&fs.ModeSymlink != 0:
		e.Skipped = "a link to another place"
		return w.put(e)
	case nested && a.level >= w.pack.reader.MaxNested:
		e.Skipped = "a ZIP inside too many others"
		return w.put(e)
	}
	limit := w.pack.reader.Decoder.MaxBytes
	if nested {
		limit = w.pack.reader.MaxArchive
	}
	if e.err = w.admit(a, f, offset, limit); e.err != nil {
		if !nested && !claimed(ext) && errors.Is(e.err, ErrTooLarge) {
			e.Skipped = "no design by its name, and too large to look into"
		}
		return w.put(e)
	}
	if !nested && !claimed(ext) {
		nested = w.sniff(e)
		if nested && a.level >= w.pack.reader.MaxNested {
			nested, e.Skipped = false, "a ZIP inside too many others"
		}
	}
	if nested {
		w.nested(a, e, f, offset)
		return !w.stopped
	}
	return w.put(e)
}

// admit refuses an entry that is locked or beyond the limits. It goes by the
// sizes that the archive states, for reading never goes past them; the limits so
// fall on the same entries every time.
func (w *walk) admit(a *archive, f *zip.File, offset, limit int64) error {
	r := w.pack.reader
	if f.Flags&1 != 0 {
		return zipError(offset, ErrEncrypted, "unpack it with its password first")
	}
	size, ratio := int64(min(f.UncompressedSize64, math.MaxInt64/2)), int64(r.MaxRatio)
	packed := int64(min(f.CompressedSize64, uint64(a.store.size)))
	switch {
	case size > limit:
		return zipError(offset, ErrTooLarge, "%d bytes unpacked, the limit is %d", size, limit)
	case size > ratioFloor && size/ratio > packed:
		return zipError(offset, ErrTooLarge, "%d bytes packed into %d, the limit is %d to 1", size, packed, ratio)
	case a.bytes+size > ratioFloor && (a.bytes+size)/ratio > a.store.size:
		return zipError(offset, ErrTooLarge, "the entries up to this one come to %d bytes from a ZIP of %d, the limit is %d to 1", a.bytes+size, a.store.size, ratio)
	case w.bytes+size > r.MaxTotal:
		return zipError(offset, ErrTooLarge, "the entries up to this one come to %d bytes unpacked, the limit is %d", w.bytes+size, r.MaxTotal)
	}
	a.bytes += size
	w.bytes += size
	return nil
}

// nested lists a ZIP that lies in another.
func (w *walk) nested(outer *archive, e *Entry, f *zip.File, offset int64) {
	var damage error // of the entry that the inner ZIP is
	inner := &store{load: func() (io.ReaderAt, int64, func(), error) {
		data, err := fetchZIP(new(bytes.Buffer), w.pack, outer, f, offset, w.pack.reader.MaxArchive)
		if len(data) == 0 && err != nil {
			return nil, 0, nil, err
		}
		damage = err
		return bytes.NewReader(data), int64(len(data)), func() {}, nil
	}}
	if err := inner.hold(); err != nil {
		e.err = err
		w.put(e)
		return
	}
	defer inner.release()
	if damage != nil && !w.fault(e.Path, e.Name, damage) {
		return
	}
	w.zip(e.Path, inner, outer.level+1)
}

// fetchZIP unpacks one entry. What could be unpacked comes beside the error.
func fetchZIP(buf *bytes.Buffer, p *Pack, a *archive, f *zip.File, offset, limit int64) ([]byte, error) {
	if err := a.store.hold(); err != nil {
		return nil, err
	}
	defer a.store.release()
	if a.level > 0 {
		p.keep(a.store)
	}
	return unzip(buf, a, f, offset, limit)
}

// inflaters are kept because a new one takes some 40 KB, more than most entries.
var inflaters = sync.Pool{New: func() any { return flate.NewReader(nil) }}

// unzip unpacks one entry up to the size stated for it. Unlike File.Open it
// gives everything that comes before a fault.
func unzip(buf *bytes.Buffer, a *archive, f *zip.File, offset, limit int64) ([]byte, error) {
	raw, err := f.OpenRaw()
	if err != nil {
		return nil, zipError(offset, ErrCorrupt, "no entry where the list of contents says there is one")
	}
	switch f.Method {
	case zip.Store:
	case zip.Deflate:
		inflater := inflaters.Get().(io.Reader)
		defer inflaters.Put(inflater)
		inflater.(flate.Resetter).Reset(raw, nil) // never fails without a dictionary
		raw = inflater
	default:
		return nil, zipError(offset, ErrCompression, "method %d, read are 0 and 8; unpack it and give the file itself", f.Method)
	}
	size := int64(min(f.UncompressedSize64, uint64(limit)))
	packed := int64(min(f.CompressedSize64, uint64(a.store.size)))
	data, err := readUpTo(buf, raw, min(size, 4*packed), size)
	had := fmt.Sprintf("%d of %d bytes could be unpacked", len(data), size)
	if a.rebuilt { // the size is a guess
		had = fmt.Sprintf("%d bytes could be unpacked", len(data))
	}
	switch {
	case int64(len(data)) > size:
		return data[:size], zipError(offset, ErrCorrupt, "more than the %d bytes that the archive states could be unpacked", size)
	case errors.Is(err, io.ErrUnexpectedEOF) || err == nil && int64(len(data)) < size:
		return data, zipError(offset, ErrTruncated, "%s", had)
	case err != nil:
		return data, zipError(offset, ErrCorrupt, "%s: %v", had, err)
	case f.CRC32 != 0 && f.CRC32 != crc32.ChecksumIEEE(data):
		return data, zipError(offset, ErrChecksum, "the %d bytes unpacked are not those that were packed", size)
	}
	return data, nil
}

// listZIP reads the list of contents of the archive in r. Where that is damaged
// or missing it gathers the entries one after another instead, and returns them
// beside an error. A foreign file gives no entries.
func listZIP(r io.ReaderAt, size int64, limits PackReader) ([]*zip.File, error) {
	// A list of contents takes some hundred bytes an entry. The names in it
	// may be long, so that the bound leaves room.
	bounded := &boundedReaderAt{r: r, left: 1<<20 + 512*int64(limits.MaxEntries)}
	zr, err := zip.NewReader(bounded, size)
	if err == nil || errors.Is(err, zip.ErrInsecurePath) {
		bounded.left = math.MaxInt64
		return zr.File, nil
	}
	if bounded.left < 0 {
		return nil, zipError(0, ErrTooLarge, "the list of contents is longer than %d entries need", limits.MaxEntries)
	}
	var start [4]byte
	if n, _ := r.ReadAt(start[:], 0); !isZIP(start[:n]) {
		return nil, zipError(0, ErrCorrupt, "expected 50 4b 03 04, the start of a ZIP, found % x", start[:n])
	}
	whole, n := rebuildZIP(r, size, limits)
	zr, err = zip.NewReader(whole, whole.size())
	if err != nil || n == 0 {
		return nil, zipError(size, ErrTruncated, "no list of contents and no entries")
	}
	return zr.File, zipError(size, ErrTruncated, "the list of contents is missing or damaged; the %s found without it", plural(n, "entry was", "entries were"))
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// boundedReaderAt gives up when more than left bytes have been read.
type boundedReaderAt struct {
	r    io.ReaderAt
	left int64
}

func (b *boundedReaderAt) ReadAt(p []byte, off int64) (int, error) {
	if b.left != math.MaxInt64 {
		if b.left -= int64(len(p)); b.left < 0 {
			return 0, ErrTooLarge
		}
	}
	return b.r.ReadAt(p, off)
}
