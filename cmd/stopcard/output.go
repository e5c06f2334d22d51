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
// which takes the name when complete. An existing file is replaced only with force,
// an input never, and nothing that is no plain file.
func writeFile(path string, force bool, input string, write func(io.Writer) error) error {
	return writeSet([]string{path}, force, input, func(_ int, w io.Writer) error { return write(w) })
}

// writeSet writes several files, all whole or none: what is written takes its names
// only when the last is complete.
func writeSet(paths []string, force bool, input string, write func(i int, w io.Writer) error) (err error) {
	var all []*pending
	defer func() {
		for _, p := range all {
			p.drop()
		}
	}()
	for i, path := range paths {
		p, err := stage(path, force, input, func(w io.Writer) error { return write(i, w) })
		if err != nil {
			return err
		}
		all = append(all, p)
	}
	// A stop comes before all of them take their names, or after.
	return temporaries.during(func() error {
		for i, p := range all {
			if err := p.commit(); err != nil {
				for _, before := range all[:i] {
					if !before.replace {
						os.Remove(before.path)
					}
				}
				return err
			}
		}
		return nil
	})
}

// pending is a file that is written and has not yet taken its name.
type pending struct {
	temporary, path string
	replace         bool
}

// stage writes a temporary file beside path.
func stage(path string, force bool, input string, write func(io.Writer) error) (_ *pending, err error) {
	mode, path, err := mayWrite(path, force, input)
	if err != nil {
		return nil, err
	}
	defer func() { err = written(path, err) }()
	tidy(filepath.Dir(path))
	f, err := temporary(filepath.Dir(path))
	if err != nil {
		return nil, err
	}
	p := &pending{f.Name(), path, force}
	defer func() {
		if err != nil {
			f.Close()
			p.drop()
		}
	}()
	b := bufio.NewWriter(f)
	if err = write(b); err != nil {
		return nil, err
	}
	if err = b.Flush(); err != nil {
		return nil, err
	}
	if mode != 0 {
		if err = f.Chmod(mode); err != nil {
			return nil, err
		}
	}
	// On the disk before it takes the name, or a crash could leave a name
	// without its bytes.
	if err = f.Sync(); err != nil {
		return nil, err
	}
	return p, f.Close()
}

// mayWrite reports what stands in the way of writing a file. It gives the name to
// write to, which is where a link leads, and the mode of the file that is replaced, 0
// for none.
func mayWrite(path string, force bool, input string) (fs.FileMode, string, error) {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, path, nil
	}
	if err != nil {
		return 0, path, err
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		to, err := filepath.EvalSymlinks(path)
		if err != nil {
			return 0, path, fmt.Errorf("%s is a link that leads nowhere; name a file", path)
		}
		path = to
		if info, err = os.Stat(path); err != nil {
			return 0, path, err
		}
	}
	switch {
	case isInput(info, input):
		return 0, path, fmt.Errorf("%s is the input; choose another name with -o", path)
	case info.IsDir():
		return 0, path, fmt.Errorf("%s is a folder; name a file in it", path)
	case !info.Mode().IsRegular():
		return 0, path, fmt.Errorf("%s is no plain file, and is left as it is", path)
	case !force:
		return 0, path, fmt.Errorf("%s is there already; --force replaces it", path)
	}
	return info.Mode().Perm(), path, nil
}

// commit gives the file its name. Without leave to replace it fails where another
// process took the name meanwhile.
func (p *pending) commit() (err error) {
	defer func() { err = written(p.path, err) }()
	if p.replace {
		return os.Rename(p.temporary, p.path)
	}
	err = os.Link(p.temporary, p.path)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s is there already; --force replaces it", p.path)
	}
	// This file system knows no links: the name is taken first.
	f, err := os.OpenFile(p.path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already; --force replaces it", p.path)
	}
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(p.temporary, p.path)
}

// drop removes what did not take its name.
func (p *pending) drop() {
	os.Remove(p.temporary)
	temporaries.forget(p.temporary)
}

// written tells of an error by the name that a person gave: the temporary file is
// nothing that they know.
func written(path string, err error) error {
	var at *fs.PathError
	var moved *os.LinkError
	switch {
	case errors.As(err, &at):
		return fmt.Errorf("%s cannot be written: %w", path, at.Err)
	case errors.As(err, &moved):
		return fmt.Errorf("%s cannot be written: %w", path, moved.Err)
	}
	return err
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
	case reserved(base):
		return "_" + base
	case base[0] == '-':
		return "_" + base[1:] // or it would look like a flag
	}
	return base
}

// stems are the names given in a run.
type stems struct {
	taken map[string]bool
	last  map[string]int // how many numbers of a name are given, so that none is tried twice
}

func newStems() *stems { return &stems{taken: map[string]bool{}, last: map[string]int{}} }

// ownStem is stem, made unlike those given already, in whatever case: by the extension,
// so that block.dst and block.pes do not write to one file, and by a number after that.
// Where the name is changed because some system refuses it, it says why.
func ownStem(names *stems, path string) (own, why string) {
	taken := names.taken
	base := filepath.Base(filepath.FromSlash(path))
	raw := strings.TrimSuffix(base, filepath.Ext(base))
	name := stem(path)
	switch {
	case path == "-" || name == raw:
	case reserved(raw):
		why = "some systems keep that name for a device"
	case len(raw) > maxStem:
		why = "some systems refuse names as long"
	default:
		why = "some systems refuse such names"
	}
	fold := func(s string) string { return strings.ToLower(s) }
	unlike := taken[fold(name)] && !taken[exact+name]
	if ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(path), ".")); taken[fold(name)] && ext != "" {
		name += "-" + ext
	}
	own = name
	for taken[fold(own)] {
		names.last[fold(name)]++
		own = fmt.Sprintf("%s-%d", name, names.last[fold(name)]+1)
	}
	taken[fold(own)] = true
	taken[exact+stem(path)], taken[exact+own] = true, true
	if why == "" && unlike {
		why = "another differs from it by capital letters only, and some systems take them for one"
	}
	return own, why
}

// exact marks names as they are, beside those in lower case; no name begins so.
const exact = "/"

// reserved reports whether some systems keep a name for a device, whatever ending it has.
func reserved(name string) bool {
	name, _, _ = strings.Cut(strings.ToUpper(name), ".")
	switch name = strings.TrimRight(name, " "); name {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	for _, port := range []string{"COM", "LPT"} {
		if n, ok := strings.CutPrefix(name, port); ok && utf8.RuneCountInString(n) == 1 && strings.Contains("0123456789¹²³", n) {
			return true
		}
	}
	return false
}
