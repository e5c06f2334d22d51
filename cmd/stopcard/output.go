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
)

// writeFile writes a file whole or not at all: into a temporary file beside it,
// renamed when complete. An existing file is replaced only with force, and an
// input never.
func writeFile(path string, force bool, input string, write func(io.Writer) error) (err error) {
	if info, statErr := os.Stat(path); statErr == nil {
		if from, e := os.Stat(input); input != "" && e == nil && os.SameFile(info, from) {
			return fmt.Errorf("%s is the input; choose another name with -o", path)
		}
		if !force {
			return fmt.Errorf("%s is there already; --force replaces it", path)
		}
	} else if !errors.Is(statErr, fs.ErrNotExist) {
		return statErr
	}
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
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// stem is a file's name without folder and extension, for naming outputs.
func stem(path string) string {
	if path == "-" {
		return "design"
	}
	base := filepath.Base(path)
	return strings.TrimSuffix(base, filepath.Ext(base))
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
