// Package stitchtest makes stitch files whose truth is known, for tests.
//
// A Builder lays stitches the way a digitiser would: runs, triple lines,
// satin along a path, fills, ties, trims and colour stops. Encode turns the
// design into the bytes of any format that package stitchfile reads. Nothing
// here is meant for sewing: hand-made bytes have not been near a machine.
package stitchtest
