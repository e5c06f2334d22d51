// Package demo holds the invented demonstration block "Kettle and Pear" as
// stitch files: three sizes, each digitised anew; a copy of the smallest that
// is merely stretched to 1.35 times its size; and a copy of the largest with
// planted faults. Package block draws it.
package demo

import "embed"

//go:generate go run ./gen

// Files are the design files.
//
//go:embed *.dst *.pes *.jef
var Files embed.FS

// The design to look at first, and the one with planted faults.
const (
	Shown  = "kettle-150.pes"
	Faulty = "kettle-150-faulty.dst"
)
