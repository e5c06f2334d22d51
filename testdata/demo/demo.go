// Package demo holds the invented demo design, "Kettle and Pear", as stitch files:
// three sizes, each digitised anew; a copy of the smallest that is merely
// stretched to 1.35 times; and a copy with planted faults.
package demo

import "embed"

//go:generate go run ./gen

// Files are the design files.
//
//go:embed *.dst
var Files embed.FS

// The design to look at first, and the one with planted faults.
const (
	Shown  = "kettle-150.dst"
	Faulty = "kettle-150-faulty.dst"
)
