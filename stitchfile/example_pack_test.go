package stitchfile_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"runtime"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// examplePack is a ZIP as a maker sells it: two sizes, a guide, and a file that
// was damaged on the way.
func examplePack() *bytes.Buffer {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, size := range []float64{20, 30} {
		var b stitchtest.Builder
		b.Run(stitchtest.Rect(stitchtest.Point{}, size, size), 2)
		data, _ := stitchtest.Encode("DST", b.Design())
		f, _ := w.Create(fmt.Sprintf("block/%v mm.dst", size))
		f.Write(data)
		if size == 30 {
			f, _ := w.Create("block/cut short.dst")
			f.Write(data[:600])
		}
	}
	w.Create("block/guide.pdf")
	w.Close()
	return &out
}

// Read takes a pack from any reader, such as standard input. OpenPack takes one
// by its name.
func ExamplePackReader_Read() {
	pack, err := new(stitchfile.PackReader).Read(examplePack(), "pack.zip")
	if err != nil {
		fmt.Println(err)
		return
	}
	for e := range pack.Entries() {
		if e.Skipped != "" {
			fmt.Printf("%s: passed over, %s\n", e.Path, e.Skipped)
			continue
		}
		d, err := e.Decode()
		if err != nil {
			fmt.Println(err) // names the entry
		}
		if d != nil {
			fmt.Printf("%s: %d stitches\n", e.Path, d.Counts().Stitches)
		}
	}
	// Output:
	// pack.zip/block/20 mm.dst: 41 stitches
	// pack.zip/block/30 mm.dst: 61 stitches
	// pack.zip/block/cut short.dst: DST: byte 599: file is cut short: expected a further record or the end record; 27 stitches were read, 29 of the 64 records that the header counts
	// pack.zip/block/cut short.dst: 27 stitches
	// pack.zip/block/guide.pdf: passed over, a document
}

// Entries may be decoded on all cores. Each holds its bytes only while it is
// decoded, so that memory is bounded by the number of workers.
func ExampleEntry_Decode_concurrent() {
	pack, err := new(stitchfile.PackReader).Read(examplePack(), "pack.zip")
	if err != nil {
		fmt.Println(err)
		return
	}
	var mu sync.Mutex
	total := 0

	work := make(chan *stitchfile.Entry)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for e := range work {
				if d, _ := e.Decode(); d != nil {
					mu.Lock()
					total += d.Counts().Stitches
					mu.Unlock()
				}
			}
		})
	}
	for e := range pack.Designs() {
		work <- e
	}
	close(work)
	workers.Wait()
	fmt.Println(total, "stitches")
	// Output: 129 stitches
}

func ExampleOpenPack() {
	pack, err := stitchfile.OpenPack("absent.zip")
	if err != nil {
		fmt.Println(err)
		return
	}
	for e := range pack.Designs() {
		fmt.Println(e.Path, e.Size)
	}
	// Output: stat absent.zip: no such file or directory
}
