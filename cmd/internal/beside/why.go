package beside

import (
	"errors"
	"io/fs"
	"strings"
)

// Why says why a file could not be read, without its name, which stands beside it.
func Why(path string, err error) string {
	var pe *fs.PathError
	text := err.Error()
	if errors.As(err, &pe) && pe.Path == path {
		text = pe.Err.Error()
	}
	return strings.TrimPrefix(text, path+": ")
}
