package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"
)

// writeFile writes a file whole or not at all: into a temporary file beside it,
// renamed when complete. An existing file is replaced only with force, and an
// input never.
func writeFile(path string, force bool, input string, write func(io.Writer) error) (err error) {
	if info, statErr := os.Stat(path); statErr == nil {
		if isInput(info, input) {
			return fmt.Errorf("%s is the input; choose another name with -o", path)
		}
		if info.IsDir() {
			return fmt.Errorf("%s is a folder; name a file in it", path)
		}
		if !force {
			return fmt.Errorf("%s is there already; --force replaces it", path)
		}
	} else if !errors.Is(statErr, fs.ErrNotExist) {
		return statErr
	}
	// The temporary file is nothing that a person named.
	defer func() {
		var at *fs.PathError
		var moved *os.LinkError
		switch {
		case errors.As(err, &at):
			err = fmt.Errorf("%s cannot be written: %w", path, at.Err)
		case errors.As(err, &moved):
			err = fmt.Errorf("%s cannot be written: %w", path, moved.Err)
		}
	}()
	f, err := os.CreateTemp(filepath.Dir(path), ".stopcard-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	b := bufio.NewWriter(f)
	if err = write(b); err != nil {
		return err
	}
	if err = b.Flush(); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	// On the disk before it takes the name, or a crash could leave a name
	// without its bytes.
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// isInput reports whether the file is the input, or the pack that the input is
// in: its path then goes on inside the pack.
func isInput(info fs.FileInfo, input string) bool {
	for input != "" {
		if from, err := os.Stat(input); err == nil {
			return os.SameFile(info, from)
		}
		outer := filepath.Dir(input)
		if outer == input {
			break
		}
		input = outer
	}
	return false
}

// maxStem bounds the names of outputs, which get endings of their own; file
// systems allow 255 bytes.
const maxStem = 120

// stem is a file's name without folder and extension, for naming outputs. It is
// one that every system allows, whatever the file or pack says.
func stem(path string) string {
	base := filepath.Base(filepath.FromSlash(path))
	base = strings.TrimSuffix(base, filepath.Ext(base))
	base = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`<>:"/\|?*`, r) || !unicode.IsGraphic(r) || r == unicode.ReplacementChar {
			return '_'
		}
		return r
	}, base)
	for len(base) > maxStem {
		_, n := utf8.DecodeLastRuneInString(base)
		base = base[:len(base)-n]
	}
	base = strings.Trim(base, " .")
	switch {
	case base == "" || base == "-":
		return "design"
	case base[0] == '-':
		return "_" + base[1:] // or it would look like a flag
	}
	return base
}

// ownStem is stem, made unlike those in taken: by the extension, so that
// block.dst and block.pes do not write to one file, and by a number after that.
func ownStem(taken map[string]bool, path string) string {
	name := stem(path)
	if ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), ".")); taken[name] && ext != "" {
		name += "-" + ext
	}
	own := name
	for i := 2; taken[own]; i++ {
		own = fmt.Sprintf("%s-%d", name, i)
	}
	taken[own] = true
	return own
}
