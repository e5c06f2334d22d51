package stitchfile

import (
	"errors"
	"fmt"
)

// The causes a FormatError can have; tell them apart with errors.Is.
var (
	// ErrUnknown: the bytes are of no format that is read here.
	ErrUnknown = errors.New("not a known stitch file")
	// ErrEmpty: the input has no bytes.
	ErrEmpty = errors.New("file is empty")
	// ErrTruncated: the file ends before the design does.
	ErrTruncated = errors.New("file is cut short")
	// ErrCorrupt: the bytes contradict the format.
	ErrCorrupt = errors.New("file is damaged")
	// ErrTooLarge: the input is beyond the limits of the reader.
	ErrTooLarge = errors.New("file is too large")
)

// FormatError says what is wrong with a file, where, and what was expected
// there. When Decode returns it beside a Design, the Design holds everything
// that was sound before Offset.
type FormatError struct {
	Format string // name of the format; empty if it was not recognised
	Offset int64  // byte offset at which reading failed
	Detail string // what was found and what was expected
	Cause  error  // one of the Err values above
}

func (e *FormatError) Error() string {
	format := e.Format
	if format == "" {
		format = "stitch file"
	}
	s := fmt.Sprintf("%s: byte %d: %v", format, e.Offset, e.Cause)
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	return s
}

// Unwrap returns the cause.
func (e *FormatError) Unwrap() error { return e.Cause }
