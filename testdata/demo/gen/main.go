// Command gen writes the demonstration files, and the pack of them that programs hold,
// into the current directory. It is run by go generate in the folder above.
package main

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"io"
	"log"
	"maps"
	"os"
	"slices"

	"github.com/stopcard/stopcard/testdata/demo/block"
)

func main() {
	files, err := block.Files(block.Formats())
	if err != nil {
		log.Fatal(err)
	}
	packed, err := pack(files)
	if err != nil {
		log.Fatal(err)
	}
	files[".packed/demo.zip"] = packed
	for name, data := range files {
		if err := os.WriteFile(name, data, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}

func pack(files map[string][]byte) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(w, flate.BestCompression)
	})
	for _, name := range slices.Sorted(maps.Keys(files)) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(files[name])
		}
		if err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}
