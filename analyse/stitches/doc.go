// Package stitches tells what each stitch of a design is part of.
//
// Sew cuts a design into colour stops and each stop into what is sewn without a
// break; stitches are joined to strokes, strokes that turn back on one another to
// surfaces (satin, open zigzag, fill), the rest to lines and ties. The result holds
// no length that depends on a scale but the needle points themselves.
package stitches
