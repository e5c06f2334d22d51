package stitchfile_test

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

// Real designs packed into a ZIP, a ZIP in that, and a folder come out as when
// each file is read by itself.
func TestRealPack(t *testing.T) {
	needReal(t)
	want := make(map[string]*stitchfile.Design)
	var files []file
	err := filepath.WalkDir(realDesigns, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		inside, err := filepath.Rel(realDesigns, name)
		if err != nil {
			return err
		}
		inside = filepath.ToSlash(inside)
		files = append(files, file{inside, data})
		if reads(name) {
			want[inside], _ = stitchfile.Open(name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	archive := zipped(t, zip.Deflate, files...)
	dir := write(t, file{"pack.zip", archive}, file{"outer.zip", zipped(t, zip.Store, file{"pack.zip", archive})})
	for _, c := range []struct{ name, prefix string }{
		{realDesigns, realDesigns + "/"},
		{filepath.Join(dir, "pack.zip"), filepath.ToSlash(dir) + "/pack.zip/"},
		{filepath.Join(dir, "outer.zip"), filepath.ToSlash(dir) + "/outer.zip/pack.zip/"},
	} {
		p, err := stitchfile.OpenPack(c.name)
		if err != nil {
			t.Fatal(err)
		}
		read := 0
		for e := range p.Designs() {
			inside, ok := strings.CutPrefix(e.Path, c.prefix)
			direct, known := want[inside]
			if !ok || !known {
				t.Errorf("%s is not one of the files", e.Path)
				continue
			}
			read++
			if d, _ := e.Decode(); !reflect.DeepEqual(d, direct) {
				t.Errorf("%s differs from the file read by itself", e.Path)
			}
		}
		if read != len(want) {
			t.Errorf("%s: %d of %d designs", c.name, read, len(want))
		}
	}
}

// A pack of two hundred designs, as a batch meets it.
func BenchmarkPack(b *testing.B) {
	data := square(b, 8000) // 24 KB, a small block
	var files []file
	for i := range 200 {
		files = append(files, file{string(rune('a'+i/26)) + string(rune('a'+i%26)) + ".dst", data})
	}
	archive := zipped(b, zip.Deflate, files...)
	nested := zipped(b, zip.Store, file{"n.zip", archive})
	dir := write(b, append(files, file{"../p.zip", archive})...)
	name := filepath.Join(dir, "..", "p.zip")
	for _, c := range []struct {
		name string
		open func() (*stitchfile.Pack, error)
	}{
		{"zip", func() (*stitchfile.Pack, error) { return stitchfile.OpenPack(name) }},
		{"folder", func() (*stitchfile.Pack, error) { return stitchfile.OpenPack(dir) }},
		{"stream", func() (*stitchfile.Pack, error) {
			return new(stitchfile.PackReader).Read(bytes.NewReader(archive), "-")
		}},
		{"nested", func() (*stitchfile.Pack, error) {
			return new(stitchfile.PackReader).Read(bytes.NewReader(nested), "-")
		}},
	} {
		for _, decode := range []bool{true, false} {
			sub := map[bool]string{true: "decode", false: "list"}[decode]
			b.Run(c.name+"/"+sub, func(b *testing.B) {
				b.ReportAllocs()
				designs := 0
				for b.Loop() {
					p, err := c.open()
					if err != nil {
						b.Fatal(err)
					}
					for e := range p.Designs() {
						designs++
						if !decode {
							continue
						}
						if _, err := e.Decode(); err != nil {
							b.Fatal(err)
						}
					}
				}
				if designs != 200*b.N {
					b.Fatalf("%d designs in %d rounds", designs, b.N)
				}
				b.ReportMetric(float64(designs)/b.Elapsed().Seconds(), "designs/s")
			})
		}
	}
}
