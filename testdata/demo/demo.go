// Package demo holds two invented demonstration blocks as stitch files. "Kettle
// and Pear" comes in three sizes, each digitised anew; in a copy of the smallest
// that is merely stretched to 1.35 times its size; and in a copy of the largest
// with planted faults. "Snail Post" is made another way: batting first, pieces
// tacked down with a zigzag and finished with a blanket stitch. Package block
// draws them.
package demo

import "embed"

//go:generate go run ./gen

// Files are the design files.
//
//go:embed *.dst *.pes *.jef
var Files embed.FS

// The design to look at first, the one with planted faults, and the one made
// another way.
const (
	Shown   = "kettle-150.pes"
	Faulty  = "kettle-150-faulty.dst"
	Another = "snail-130.pes"
)
