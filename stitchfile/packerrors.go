package stitchfile

import (
	"errors"
	"fmt"
	"io/fs"
)

// Further causes, which only the entries of a pack can have.
var (
	// ErrEncrypted: the entry is locked with a password.
	ErrEncrypted = errors.New("entry is locked with a password")
	// ErrCompression: the entry is packed by a method that is not read here.
	ErrCompression = errors.New("entry is packed in a way that is not read here")
	// ErrChecksum: the bytes unpacked are not those that were packed.
	ErrChecksum = errors.New("entry does not match its checksum")
	// ErrSkipped: the entry was passed over when the pack was listed.
	ErrSkipped = errors.New("entry is passed over")
)

// EntryError says which entry of a pack something is wrong with. Its Err is a
// *FormatError, whose Format is "ZIP" where the pack and not the design is at
// fault and whose Offset then counts from the start of the ZIP; or an error of
// the file system.
type EntryError struct {
	Path string // as in Entry.Path
	Err  error
}

func (e *EntryError) Error() string { return e.Path + ": " + e.Err.Error() }

// Unwrap returns the error without its path.
func (e *EntryError) Unwrap() error { return e.Err }

// entryError puts the path to err, and takes out the one that the file system
// put there.
func entryError(path string, err error) error {
	if err == nil {
		return nil
	}
	if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
		err = fmt.Errorf("%s: %w", pe.Op, pe.Err)
	}
	return &EntryError{Path: path, Err: err}
}

func zipError(offset int64, cause error, format string, args ...any) error {
	return &FormatError{Format: "ZIP", Offset: offset, Cause: cause, Detail: fmt.Sprintf(format, args...)}
}
