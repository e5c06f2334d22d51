package stitchfile_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/stitchfile"
)

const (
	localMark   = "PK\x03\x04"
	centralMark = "PK\x01\x02"
	endMark     = "PK\x05\x06"
)

// named limits an edit to the records of one entry.
func named(name string, nameAt int, change func([]byte)) func([]byte) {
	return func(r []byte) {
		if len(r) > nameAt && bytes.HasPrefix(r[nameAt:], []byte(name)) {
			change(r)
		}
	}
}

// Every fault in an archive is told of the entry that has it, and the others
// are read. The offsets are those of APPNOTE.TXT 4.3.7, 4.3.12 and 4.3.16; what is
// left of the entry cut by 20 bytes, 580 bytes of 647, was measured with zlib.
func TestPackDamage(t *testing.T) {
	le := binary.LittleEndian
	a, b, c := file{"a.dst", square(t, 0)}, file{"b.dst", square(t, 200)}, file{"c.dst", square(t, 2)}
	stored := zipped(t, zip.Store, a, b, c)
	deflated := zipped(t, zip.Deflate, a, b, c)
	header := sized(t, a, b, c)
	central := func(data []byte, change func([]byte)) []byte {
		return edit(data, centralMark, named("b.dst", 46, change))
	}
	local := func(data []byte, change func([]byte)) []byte {
		return edit(data, localMark, named("b.dst", 30, change))
	}
	directory := bytes.Index(header, []byte(centralMark))
	second := bytes.Index(header[4:], []byte(localMark)) + 4
	third := bytes.Index(header[second+4:], []byte(localMark)) + second + 4
	deflatedThird := bytes.LastIndex(deflated, []byte(localMark))
	deflatedDirectory := bytes.Index(deflated, []byte(centralMark))

	for _, test := range []struct {
		name string
		data []byte
		want []string
	}{
		{"sound", header, []string{"a.dst: 41", "b.dst: 241", "c.dst: 43"}},
		{"locked", central(header, func(r []byte) { r[8] |= 1 }), []string{"a.dst: 41", "b.dst: encrypted", "c.dst: 43"}},
		{"locked and strong", central(header, func(r []byte) { r[8] |= 1; le.PutUint16(r[10:], 99) }), []string{"a.dst: 41", "b.dst: encrypted", "c.dst: 43"}},
		{"other method", central(header, func(r []byte) { le.PutUint16(r[10:], 14) }), []string{"a.dst: 41", "b.dst: compression", "c.dst: 43"}},
		{"wrong checksum", central(header, func(r []byte) { r[16] ^= 1 }), []string{"a.dst: 41", "b.dst: 241, checksum", "c.dst: 43"}},
		{"a stitch changed", edit(stored, localMark, named("b.dst", 30, func(r []byte) { r[30+5+512+30] ^= 1 })), []string{"a.dst: 41", "b.dst: 241, checksum", "c.dst: 43"}},
		{"stream broken", edit(header, localMark, named("b.dst", 30, func(r []byte) { r[30+5] |= 6 })), []string{"a.dst: 41", "b.dst: corrupt", "c.dst: 43"}},
		{"header lost", local(header, func(r []byte) { r[0] = 'Q' }), []string{"a.dst: 41", "b.dst: corrupt", "c.dst: 43"}},
		{"larger than it is", central(header, func(r []byte) { le.PutUint32(r[24:], le.Uint32(r[24:])+7) }), []string{"a.dst: 41", "b.dst: 241, truncated", "c.dst: 43"}},
		{"smaller than it is", central(header, func(r []byte) { le.PutUint32(r[24:], 700) }), []string{"a.dst: 41", "b.dst: 61, corrupt", "c.dst: 43"}},
		{"past the end", central(header, func(r []byte) { le.PutUint32(r[42:], 1<<30) }), []string{"a.dst: 41", "b.dst: corrupt", "c.dst: 43"}},
		{"on top of another", central(header, func(r []byte) { le.PutUint32(r[42:], 0) }), []string{"a.dst: 41", "b.dst: 41, truncated", "c.dst: 43"}},
		{"packed to more than the file", central(stored, func(r []byte) { le.PutUint32(r[20:], 1<<30); le.PutUint32(r[24:], 1<<30) }), []string{"a.dst: 41", "b.dst: too large", "c.dst: 43"}},
		{"unpacked to 4 GB", central(header, func(r []byte) { le.PutUint32(r[24:], 0xFFFFFFF0) }), []string{"a.dst: 41", "b.dst: too large", "c.dst: 43"}},
		{"a link", central(header, func(r []byte) { r[5] = 3; le.PutUint32(r[38:], 0o120777<<16) }), []string{"a.dst: 41", "b.dst: skipped: a link to another place", "c.dst: 43"}},

		// Without a usable list of contents the entries are found one by one.
		{"cut in the list", header[:directory+60], []string{"a.dst: 41", "b.dst: 241", "c.dst: 43", ".: truncated"}},
		{"cut before the list", header[:directory], []string{"a.dst: 41", "b.dst: 241", "c.dst: 43", ".: truncated"}},
		{"list damaged", central(header, func(r []byte) { r[0] = 'Q' }), []string{"a.dst: 41", "b.dst: 241", "c.dst: 43", ".: truncated"}},
		{"list counts too many", edit(header, endMark, func(r []byte) { r[8], r[10] = 9, 9 }), []string{"a.dst: 41", "b.dst: 241", "c.dst: 43", ".: truncated"}},
		{"cut in the last entry", header[:directory-20], []string{"a.dst: 41", "b.dst: 241", "c.dst: 21, truncated", ".: truncated"}},
		{"cut in a header", header[:third+20], []string{"a.dst: 41", "b.dst: 241", ".: truncated"}},
		{"cut in a name", header[:third+32], []string{"a.dst: 41", "b.dst: 241", ".: truncated"}},
		{"cut at once", header[:20], []string{".: truncated"}},
		{"four bytes", header[:4], []string{".: truncated"}},
		{"streamed, cut in the list", deflated[:deflatedDirectory+60], []string{"a.dst: 41", "b.dst: 241", "c.dst: 43", ".: truncated"}},
		{"streamed, cut after the last entry's data", deflated[:deflatedDirectory-16], []string{"a.dst: 41", "b.dst: 241", "c.dst: 43, truncated", ".: truncated"}},
		{"streamed, cut in the last entry", deflated[:deflatedDirectory-36], []string{"a.dst: 41", "b.dst: 241", "c.dst: 21, truncated", ".: truncated"}},
		{"streamed, cut before the last entry", deflated[:deflatedThird], []string{"a.dst: 41", "b.dst: 241", ".: truncated"}},
		{"streamed, stream broken", edit(deflated[:deflatedDirectory], localMark, named("b.dst", 30, func(r []byte) { r[30+5] |= 6 })), []string{"a.dst: 41", "b.dst: corrupt", "c.dst: 43", ".: truncated"}},
		{"streamed whole, cut in the list", stored[:bytes.Index(stored, []byte(centralMark))], []string{"a.dst: 41", "b.dst: 241", "c.dst: 43", ".: truncated"}},
		{"first header lost", append([]byte(localMark), header[4+second-4:directory]...), []string{"b.dst: 241", "c.dst: 43", ".: truncated"}},
	} {
		got := contents(read(t, stitchfile.PackReader{}, test.data))
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// What is said of a faulty entry names the entry, the place and the fault.
func TestPackErrorWords(t *testing.T) {
	data := edit(sized(t, file{"b.dst", square(t, 0)}), centralMark, func(r []byte) { r[16] ^= 1 })
	for e := range read(t, stitchfile.PackReader{}, data).Entries() {
		_, err := e.Decode()
		var fe *stitchfile.FormatError
		if !errors.As(err, &fe) || fe.Format != "ZIP" || fe.Offset != 35 {
			t.Errorf("%v", err)
		}
		if want := "-/b.dst: ZIP: byte 35: entry does not match its checksum: the 641 bytes unpacked are not those that were packed"; err.Error() != want {
			t.Errorf("%q\nwant %q", err, want)
		}
	}
}

func TestPackLimits(t *testing.T) {
	a := file{"a.dst", square(t, 0)}
	zeros := make([]byte, 100<<20)
	bomb := zipped(t, zip.Deflate, a, file{"b.dst", zeros[:2<<20]}, file{"c.dst", zeros}, file{"d.xyz", zeros[:2<<20]}, file{"e.dst", a.data})
	var many []file
	for i := range 12_000 {
		many = append(many, file{fmt.Sprintf("%05d.dst", i), nil})
	}
	crowd := zipped(t, zip.Store, many...)
	three := zipped(t, zip.Store, file{"3.zip", zipped(t, zip.Store, file{"2.zip", zipped(t, zip.Store, file{"1.zip", zipped(t, zip.Store, a)}, a)}, a)}, a)
	size := int64(len(a.data))
	streamed := zipped(t, zip.Deflate, a, file{"b.dst", square(t, 3000)}, file{"c.dst", a.data})

	// Entries that share their bytes come to far more than the archive has.
	shared := func() []byte {
		kernel := make([]byte, 1<<20)
		var files []file
		for i := range 1000 {
			files = append(files, file{fmt.Sprintf("%03d.dst", i), nil})
		}
		data := zipped(t, zip.Deflate, append([]file{{"k00.dst", kernel}}, files...)...)
		record := bytes.Clone(data[bytes.Index(data, []byte(centralMark)):][:46])
		return edit(data, centralMark, func(r []byte) {
			name := bytes.Clone(r[28:30])
			copy(r, record)
			copy(r[28:30], name)
		})
	}()

	for _, test := range []struct {
		name   string
		data   []byte
		reader stitchfile.PackReader
		want   []string
	}{
		{"zeros", bomb, stitchfile.PackReader{Decoder: stitchfile.Decoder{MaxBytes: 200 << 20}},
			[]string{"a.dst: 41", "b.dst: too large", "c.dst: too large", "d.xyz: skipped: no design by its name, and too large to look into", "e.dst: 41"}},
		{"entries", zipped(t, zip.Store, a, file{"b.dst", a.data}, file{"c.dst", a.data}), stitchfile.PackReader{MaxEntries: 2},
			[]string{"a.dst: 41", "b.dst: 41", ".: too large"}},
		{"bytes of an entry", zipped(t, zip.Store, a, file{"b.dst", square(t, 1)}), stitchfile.PackReader{Decoder: stitchfile.Decoder{MaxBytes: size}},
			[]string{"a.dst: 41", "b.dst: too large"}},
		{"bytes of all", zipped(t, zip.Store, a, file{"b.dst", a.data}, file{"c.dst", a.data}), stitchfile.PackReader{MaxTotal: 2*size + 1},
			[]string{"a.dst: 41", "b.dst: 41", "c.dst: too large"}},
		{"nested", three, stitchfile.PackReader{},
			[]string{"3.zip/2.zip: skipped: a ZIP inside too many others", "3.zip/a.dst: 41", "a.dst: 41"}},
		{"nested, none wanted", three, stitchfile.PackReader{MaxNested: -1},
			[]string{"3.zip: skipped: a ZIP inside too many others", "a.dst: 41"}},
		{"nested, all wanted", three, stitchfile.PackReader{MaxNested: 9},
			[]string{"3.zip/2.zip/1.zip/a.dst: 41", "3.zip/2.zip/a.dst: 41", "3.zip/a.dst: 41", "a.dst: 41"}},
		{"nested, total", three, stitchfile.PackReader{MaxTotal: size},
			[]string{"3.zip: too large", "a.dst: 41"}},
		{"bytes of all, no list", streamed[:bytes.Index(streamed, []byte(centralMark))], stitchfile.PackReader{MaxTotal: 2 * size},
			[]string{"a.dst: 41", "b.dst: too large", "c.dst: too large", ".: truncated"}},
		{"bytes of one, no list", streamed[:bytes.Index(streamed, []byte(centralMark))], stitchfile.PackReader{MaxArchive: 4000},
			[]string{"a.dst: 41", "b.dst: too large", "c.dst: 41", ".: truncated"}},
		{"entries, no list", streamed[:bytes.Index(streamed, []byte(centralMark))], stitchfile.PackReader{MaxEntries: 1},
			[]string{"a.dst: 41", ".: too large"}},
		{"list of contents", crowd, stitchfile.PackReader{MaxEntries: 1},
			[]string{"00000.dst: empty", ".: too large"}},
	} {
		got := contents(read(t, test.reader, test.data))
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	if got := contents(read(t, stitchfile.PackReader{}, crowd)); len(got) != 12_000 {
		t.Errorf("%d of 12,000 entries", len(got))
	}
	if _, err := (&stitchfile.PackReader{MaxArchive: 100}).Read(bytes.NewReader(bomb), "-"); !errors.Is(err, stitchfile.ErrTooLarge) {
		t.Errorf("a stream past the limit: %v", err)
	}
	refused := 0
	for _, line := range contents(read(t, stitchfile.PackReader{}, shared)) {
		if strings.HasSuffix(line, "too large") {
			refused++
		}
	}
	if refused < 900 {
		t.Errorf("%d of 1001 overlapping entries were refused", refused)
	}
}

// A long list of contents is refused before it fills the memory.
func TestPackLongList(t *testing.T) {
	var b bytes.Buffer
	b.WriteString(localMark)
	name := strings.Repeat("x", 60_000)
	record := make([]byte, 46)
	copy(record, centralMark)
	binary.LittleEndian.PutUint16(record[28:], uint16(len(name)))
	for range 300 {
		b.Write(record)
		b.WriteString(name)
	}
	length := b.Len() - 4
	end := make([]byte, 22)
	copy(end, endMark)
	binary.LittleEndian.PutUint16(end[8:], 300)
	binary.LittleEndian.PutUint16(end[10:], 300)
	binary.LittleEndian.PutUint32(end[12:], uint32(length))
	binary.LittleEndian.PutUint32(end[16:], 4)
	b.Write(end)
	if got := contents(read(t, stitchfile.PackReader{}, b.Bytes())); len(got) != 300 {
		t.Errorf("%d entries by the default limits", len(got))
	}
	if got := contents(read(t, stitchfile.PackReader{MaxEntries: 1000}, b.Bytes())); len(got) != 1 || got[0] != ".: too large" {
		t.Errorf("%d entries, first %q", len(got), got[0])
	}
}

// However an entry is named, its path stays inside the pack, shows, and is its own.
func TestPackNames(t *testing.T) {
	data := square(t, 0)
	for _, test := range []struct{ name, want string }{
		{"../../etc/passwd.dst", "etc/passwd.dst"},
		{"/abs.dst", "abs.dst"},
		{`..\..\up.dst`, "up.dst"},
		{`a\b.dst`, "a/b.dst"},
		{`C:\designs\b.dst`, "C/designs/b.dst"},
		{"C:b.dst", "C/b.dst"},
		{`\\server\share\b.dst`, "server/share/b.dst"},
		{"a/./b//c/../d.dst", "a/b/c/d.dst"},
		{"a..b.dst", "a..b.dst"},
		{"bell\a\x1b[31m.dst", "bell��[31m.dst"},
		{"nul\x00.dst", "nul�.dst"},
		{"line\nbreak.dst", "line�break.dst"},
		{"right\u202etsd.dst", "right�tsd.dst"},
		{"bl\x81te.dst", "blüte.dst"}, // code page 437
		{"Blüte.dst", "Blüte.dst"},
		{"..", "unnamed"},
		{" . ", "unnamed"},
		{strings.Repeat("ü", 9000) + ".dst", strings.Repeat("ü", 256) + "…" + strings.Repeat("ü", 254) + ".dst"},
	} {
		p := read(t, stitchfile.PackReader{}, zipped(t, zip.Store, file{test.name, data}))
		for e := range p.Entries() {
			if e.Path != "-/"+test.want || e.Name != test.name {
				t.Errorf("%q: path %q, want %q, name %q", test.name, e.Path, test.want, e.Name)
			}
		}
	}
	same := zipped(t, zip.Store, file{"b (2).dst", data}, file{"b.dst", data}, file{"./b.dst", data}, file{"b.dst", data}, file{`\b.dst`, data}, file{"", data})
	want := []string{"b (2).dst: 41", "b.dst: 41", "b (3).dst: 41", "b (4).dst: 41", "b (5).dst: 41", "unnamed: 41"}
	if diff := cmp.Diff(want, contents(read(t, stitchfile.PackReader{}, same))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// FuzzPack holds what must be so of any bytes read as a pack.
func FuzzPack(f *testing.F) {
	a := square(f, 0)
	inner := zipped(f, zip.Deflate, file{"d/e.dst", a}, file{"d/e.dst", a})
	seed := zipped(f, zip.Deflate, file{"../a.dst", a}, file{"b", a}, file{"c.zip", inner}, file{"f.pdf", nil})
	f.Add(seed)
	f.Add(seed[:len(seed)-40])
	f.Add(sized(f, file{"C:\\a.dst", a}, file{"b.exp", a[512:]}))
	f.Add(zipped(f, zip.Store))
	f.Add(a)
	reader := stitchfile.PackReader{
		Decoder: stitchfile.Decoder{MaxBytes: 1 << 16}, MaxEntries: 50, MaxTotal: 1 << 17, MaxArchive: 1 << 16, MaxNested: 2,
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := reader.Read(bytes.NewReader(data), "-")
		if err != nil {
			if !errors.Is(err, stitchfile.ErrTooLarge) || len(data) <= 1<<16 {
				t.Fatal(err)
			}
			return
		}
		seen := make(map[string]bool)
		moves, entries := 0, 0
		for e := range p.Entries() {
			entries++
			inside, ok := strings.CutPrefix(e.Path, "-/")
			if !ok && e.Path != "-" {
				t.Fatalf("path %q is outside the pack", e.Path)
			}
			for part := range strings.SplitSeq(inside, "/") {
				if part == "" || part == "." || part == ".." {
					t.Fatalf("path %q", e.Path)
				}
			}
			if strings.ContainsFunc(inside, func(r rune) bool { return unicode.IsControl(r) || r == '\\' }) {
				t.Fatalf("path %q", e.Path)
			}
			d, err := e.Decode()
			if d == nil && err == nil {
				t.Fatalf("%q: neither a design nor an error", e.Path)
			}
			if d != nil {
				if seen[e.Path] {
					t.Fatalf("two designs at %q", e.Path)
				}
				seen[e.Path] = true
				moves += len(d.Moves)
			}
		}
		// No format makes more than two moves of a byte, and two of a file.
		if limit := 2*(1<<17) + 2*entries; moves > limit {
			t.Fatalf("%d moves, the limits allow %d", moves, limit)
		}
		if entries > 2*50+2 {
			t.Fatalf("%d entries", entries)
		}
		if first, second := contents(p), contents(p); !cmp.Equal(first, second) {
			t.Fatal(cmp.Diff(first, second))
		}
	})
}
