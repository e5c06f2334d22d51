// Package demo holds two invented demonstration blocks as stitch files. "Kettle
// and Pear" comes in three sizes, each digitised anew; in a copy of the smallest
// that is merely stretched to 1.35 times its size; and in a copy of the largest
// with planted faults. "Snail Post" is made another way: batting first, pieces
// tacked down with a zigzag and finished with a blanket stitch. Package block
// draws them.
package demo

import (
	"archive/zip"
	_ "embed"
	"io/fs"
	"strings"
	"sync"
)

//go:generate go run ./gen

// The files of this folder, packed to a quarter: in a hidden folder, which no walk
// through this one meets.
//
//go:embed .packed/demo.zip
var packed string

var pack = sync.OnceValues(func() (*zip.Reader, error) {
	return zip.NewReader(strings.NewReader(packed), int64(len(packed)))
})

// Files are the design files.
var Files files

type files struct{}

var _ interface {
	fs.ReadDirFS
	fs.ReadFileFS
} = Files

// Open opens a design file by its name.
func (files) Open(name string) (fs.File, error) {
	z, err := pack()
	if err != nil {
		return nil, err
	}
	return z.Open(name)
}

// ReadFile gives what a design file holds.
func (f files) ReadFile(name string) ([]byte, error) {
	z, err := pack()
	if err != nil {
		return nil, err
	}
	return fs.ReadFile(z, name)
}

// ReadDir lists the design files, in the folder ".".
func (f files) ReadDir(name string) ([]fs.DirEntry, error) {
	z, err := pack()
	if err != nil {
		return nil, err
	}
	return fs.ReadDir(z, name)
}

// The design to look at first, the one with planted faults, and the one made
// another way.
const (
	Shown   = "kettle-150.pes"
	Faulty  = "kettle-150-faulty.dst"
	Another = "snail-130.pes"
)
