// Package resize tells how far a design may be scaled on the machine, with its
// stitch count kept, and what would become of it.
package resize
