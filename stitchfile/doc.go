// Package stitchfile reads machine-embroidery stitch files into one model.
//
// A stitch file tells a machine where to put the needle down, where to travel
// with the needle up, where to cut the thread and where to wait for the person
// beside it. Every format says these few things in its own bytes; Decode
// turns them into a Design, a flat list of moves in tenths of a millimetre:
//
//	d, err := stitchfile.Open("block.dst")
//	if d == nil {
//		return err // nothing could be read
//	}
//	for _, m := range d.Moves {
//		fmt.Println(m.Kind, m.X, m.Y)
//	}
//
// Formats are told apart by their content, never by name alone. A file that
// can only partly be read yields both the part and an error, so a caller must
// look at the error even when a Design came back. Oddities that did not stop
// the reading are kept in Design.Warnings, each with its byte offset.
//
// Header counts and extents are never trusted: everything is counted again
// from the records, and memory stays in proportion to the bytes given.
//
// DecodeConfig asks the header alone, for those who need no more than a name and a
// size, and tells which of its answers are none.
//
// The package holds no analysis; see package analyse for that.
package stitchfile
