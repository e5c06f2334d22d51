package stitchfile_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// square is a DST file of 41 stitches, or as many more as asked for.
func square(tb testing.TB, more int) []byte {
	tb.Helper()
	var b stitchtest.Builder
	b.Run(stitchtest.Rect(stitchtest.Point{}, 20, 20), 2)
	for i := range more {
		b.StitchTo(stitchtest.Point{X: float64(i%2) * 3})
	}
	return encoded(tb, "DST", b.Design())
}

func encoded(tb testing.TB, format string, d *stitchfile.Design) []byte {
	tb.Helper()
	data, err := stitchtest.Encode(format, d)
	if err != nil {
		tb.Fatal(err)
	}
	return data
}

// file is one file of a pack made for a test.
type file struct {
	name string
	data []byte
}

// zipped packs files in the order given, by the given method.
func zipped(tb testing.TB, method uint16, files ...file) []byte {
	tb.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		e, err := w.CreateHeader(&zip.FileHeader{Name: f.name, Method: method})
		if err == nil {
			_, err = e.Write(f.data)
		}
		if err != nil {
			tb.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// sized packs one entry whose header before it tells its sizes, as most ZIP
// writers do and zip.Writer.CreateHeader does not.
func sized(tb testing.TB, files ...file) []byte {
	tb.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		packed := zipped(tb, zip.Deflate, f)
		r, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
		if err != nil {
			tb.Fatal(err)
		}
		h := r.File[0].FileHeader
		h.Flags &^= 8
		raw, err := r.File[0].OpenRaw()
		if err != nil {
			tb.Fatal(err)
		}
		e, err := w.CreateRaw(&h)
		if err == nil {
			_, err = io.Copy(e, raw)
		}
		if err != nil {
			tb.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// edit changes every record of an archive that starts with mark.
func edit(data []byte, mark string, change func(record []byte)) []byte {
	data = bytes.Clone(data)
	for at := 0; ; at += len(mark) {
		i := bytes.Index(data[at:], []byte(mark))
		if i < 0 {
			return data
		}
		at += i
		change(data[at:])
	}
}

// write puts files below a new folder and returns its name.
func write(tb testing.TB, files ...file) string {
	tb.Helper()
	dir := tb.TempDir()
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			tb.Fatal(err)
		}
		if err := os.WriteFile(name, f.data, 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	return dir
}

// contents tells of each entry in one line what became of it, without the
// pack's own name.
func contents(p *stitchfile.Pack) []string {
	var out []string
	for e := range p.Entries() {
		path, _ := strings.CutPrefix(e.Path, p.Path()+"/")
		if e.Path == p.Path() {
			path = "."
		}
		var what []string
		if e.Skipped != "" {
			what = append(what, "skipped: "+e.Skipped)
		} else {
			d, err := e.Decode()
			if d != nil {
				what = append(what, fmt.Sprint(d.Counts().Stitches))
			}
			if err != nil {
				var ee *stitchfile.EntryError
				if !errors.As(err, &ee) || ee.Path != e.Path {
					what = append(what, "ERROR WITHOUT PATH")
				}
				what = append(what, cause(err))
			}
		}
		out = append(out, path+": "+strings.Join(what, ", "))
	}
	return out
}

// cause names the first cause that err is.
func cause(err error) string {
	for _, c := range []struct {
		err  error
		name string
	}{
		{stitchfile.ErrEncrypted, "encrypted"},
		{stitchfile.ErrCompression, "compression"},
		{stitchfile.ErrChecksum, "checksum"},
		{stitchfile.ErrTooLarge, "too large"},
		{stitchfile.ErrCorrupt, "corrupt"},
		{stitchfile.ErrTruncated, "truncated"},
		{stitchfile.ErrUnknown, "unknown"},
		{stitchfile.ErrEmpty, "empty"},
		{fs.ErrPermission, "permission"},
	} {
		if errors.Is(err, c.err) {
			return c.name
		}
	}
	return err.Error()
}

func read(tb testing.TB, r stitchfile.PackReader, data []byte) *stitchfile.Pack {
	tb.Helper()
	p, err := r.Read(bytes.NewReader(data), "-")
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// One set of files reads the same from a ZIP, a folder and a stream, whatever
// order the ZIP has them in.
func TestPackShapes(t *testing.T) {
	a, b := square(t, 0), square(t, 9)
	inner := zipped(t, zip.Deflate, file{"deep.dst", a})
	files := []file{
		{"block.DST", a},
		{"block/5in/block.dst", b},
		{"block/a.dst/b.dst", a}, // a folder named like a stitch file
		{"block/readme.pdf", []byte("%PDF")},
		{"broken.pes", []byte("not at all")},
		{"empty.jef", nil},
		{"half.dst", b[:540]},
		{"more.zip", inner},
		{"nameless", a},
		{"notes.xyz", []byte("hello")},
		{"other.xyz", b},
		{"picture.jpg", []byte("JFIF")},
		{"__MACOSX/._block.dst", a},
		{"._block.dst", a},
		{"Thumbs.db", a},
		{"packed.xyz", inner},
		{"not.zip", []byte("not at all")},
		{"really.zip", a},
		{"spaced.exp ", encoded(t, "EXP", sampler())},
		{"zip.pes", inner},
	}
	want := []string{
		"._block.dst: skipped: data of the system",
		"Thumbs.db: skipped: data of the system",
		"__MACOSX/._block.dst: skipped: data of the system",
		"block/5in/block.dst: 50",
		"block/a.dst/b.dst: 41",
		"block/readme.pdf: skipped: a document",
		"block.DST: 41",
		"broken.pes: unknown",
		"empty.jef: empty",
		"half.dst: 8, truncated",
		"more.zip/deep.dst: 41",
		"nameless: 41",
		"not.zip: corrupt",
		"notes.xyz: skipped: no design of a format that is read here",
		"other.xyz: 50",
		"packed.xyz/deep.dst: 41",
		"picture.jpg: skipped: a picture",
		"really.zip: 41",
		"spaced.exp: 313",
		"zip.pes: unknown",
	}
	backwards := slices.Clone(files)
	slices.Reverse(backwards)
	archive := zipped(t, zip.Deflate, backwards...)
	dir := write(t, append(files, file{"pack.zip", archive}, file{"pack.bin", archive}, file{"pack", archive})...)
	for _, name := range []string{"pack.zip", "pack.bin", "pack"} {
		p, err := stitchfile.OpenPack(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, contents(p)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
		os.Remove(filepath.Join(dir, name))
	}
	p, err := stitchfile.OpenPack(dir)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, contents(p)); diff != "" {
		t.Errorf("folder (-want +got):\n%s", diff)
	}
	for range 2 {
		if diff := cmp.Diff(want, contents(read(t, stitchfile.PackReader{}, archive))); diff != "" {
			t.Errorf("stream (-want +got):\n%s", diff)
		}
	}
}

// A single file is a pack of one, and is never passed over.
func TestPackSingle(t *testing.T) {
	dir := write(t, file{"a.dst", square(t, 0)}, file{"half.dst", square(t, 9)[:540]}, file{"a.pdf", []byte("%PDF-1.4")}, file{"empty.zip", nil},
		file{"none.zip", zipped(t, zip.Store)})
	for name, want := range map[string][]string{
		"a.dst":     {".: 41"},
		"half.dst":  {".: 8, truncated"},
		"a.pdf":     {".: unknown"},
		"empty.zip": {".: corrupt"},
		"none.zip":  nil,
	} {
		p, err := stitchfile.OpenPack(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, contents(p)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	if _, err := stitchfile.OpenPack(filepath.Join(dir, "absent.dst")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("absent: %v", err)
	}
	for _, data := range [][]byte{square(t, 0), zipped(t, zip.Deflate, file{"a.dst", square(t, 0)})} {
		if got := contents(read(t, stitchfile.PackReader{}, data)); len(got) != 1 || !strings.HasSuffix(got[0], ": 41") {
			t.Errorf("stream: %q", got)
		}
	}
}
