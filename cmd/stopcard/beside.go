package main

import (
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"

	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/stitchfile"
)

const (
	// mostNotes bounds the notes files looked at beside a design, and mostColoured
	// the files whose colours are tried; packs have a few of each.
	mostNotes    = 200
	mostColoured = 4

	// mostDesigns is from where a folder is a library and no pack: colours are not
	// looked for in it.
	mostDesigns = 5000
)

// beside is what lies beside designs: in their pack, or in their folder.
type beside struct {
	notes   []notesFile
	designs []*stitchfile.Entry
}

// notesFile is a notes file with what came of reading it.
type notesFile struct {
	path  string
	notes *notes.Notes
	err   error
}

// folders remembers what lies in folders, so that each is listed, and its notes read,
// once however many of its files are named.
type folders struct {
	mu   sync.Mutex
	list map[string]func() *folder
}

// folder is the stitch files and the notes in a folder itself.
type folder struct {
	stitch []string
	notes  []notesFile
}

func (fs *folders) look(packs *stitchfile.PackReader, dir string) *folder {
	fs.mu.Lock()
	if fs.list == nil {
		fs.list = map[string]func() *folder{}
	}
	if fs.list[dir] == nil {
		fs.list[dir] = sync.OnceValue(func() *folder { return listFolder(packs, dir) })
	}
	look := fs.list[dir]
	fs.mu.Unlock()
	return look()
}

func listFolder(packs *stitchfile.PackReader, dir string) *folder {
	out := &folder{}
	list, err := os.ReadDir(dir)
	if err != nil {
		return out
	}
	for _, f := range list {
		name := filepath.Join(dir, f.Name())
		switch {
		case !f.Type().IsRegular():
		case isNotes(name) && len(out.notes) < mostNotes:
			if p, err := packs.Open(name); err == nil {
				for e := range p.Entries() {
					out.notes = append(out.notes, readNotes(e))
				}
			}
		case isStitchName(name):
			out.stitch = append(out.stitch, name)
		}
	}
	return out
}

// lookBeside lists what lies beside the designs of a pack. It looks when it is first
// asked.
func (fs *folders) lookBeside(packs *stitchfile.PackReader, pack *stitchfile.Pack, path string) func() *beside {
	return sync.OnceValue(func() *beside {
		b := &beside{}
		info, err := os.Stat(path)
		if path == "-" || err != nil {
			return b
		}
		single := info.Mode().IsRegular()
		for e := range pack.Entries() {
			if !single || e.Path != pack.Path() {
				single = false // it is a pack: a file of its own is its only entry
			}
			b.take(e)
		}
		if info.Mode().IsRegular() {
			here := fs.look(packs, filepath.Dir(path))
			b.notes = append(b.notes, here.notes...)
			for _, name := range here.stitch {
				if single && name != filepath.Clean(path) && strings.EqualFold(plainStem(name), plainStem(path)) {
					if p, err := packs.Open(name); err == nil {
						for e := range p.Entries() {
							b.take(e)
						}
					}
				}
			}
		}
		return b
	})
}

func (b *beside) take(e *stitchfile.Entry) {
	switch {
	case isNotes(e.Path):
		if len(b.notes) < mostNotes {
			b.notes = append(b.notes, readNotes(e))
		}
	case e.Skipped == "" && len(b.designs) < mostDesigns:
		b.designs = append(b.designs, e)
	}
}

func isNotes(name string) bool {
	return strings.HasSuffix(strings.ToLower(name), notes.Extension)
}

func readNotes(e *stitchfile.Entry) notesFile {
	f := notesFile{path: e.Path}
	text, err := e.Bytes(notes.MaxBytes)
	if err != nil {
		f.err = err
		return f
	}
	f.notes, f.err = notes.Parse(e.Path, text)
	return f
}

// plainStem is a file's name without folder and ending, as it stands.
func plainStem(name string) string {
	base := path.Base(filepath.ToSlash(name))
	if isNotes(base) {
		return base[:len(base)-len(notes.Extension)]
	}
	return strings.TrimSuffix(base, path.Ext(base))
}

// notesFor picks the notes for a design: those of its own name, or else those whose
// sign is of its stitches, or else those of another size of it. named tells that they
// go by its name. An error is that of notes which go by its name and cannot be read.
func (b *beside) notesFor(name string, sign notes.Sign) (found *notes.Notes, named bool, err error) {
	own, letters := plainStem(name), lettersOf(name)
	var other *notes.Notes
	for _, f := range b.notes {
		if strings.EqualFold(plainStem(f.path), own) {
			return f.notes, true, f.err
		}
	}
	for _, f := range b.notes {
		like := letters != "" && letters == lettersOf(plainStem(f.path))
		switch {
		case f.err != nil && like:
			return nil, true, f.err
		case f.err != nil || f.notes.Design == nil:
			continue
		}
		switch fit, _ := f.notes.Design.Sign.Against(sign, like); fit {
		case notes.SameStitches:
			return f.notes, like, nil
		case notes.OtherSize:
			if other == nil {
				other, named = f.notes, like
			}
		}
	}
	return other, named, nil
}

// coloursFor gives a design without colours those of a file of its name and stitches
// beside it, and says which; the path is empty where there is none.
func (b *beside) coloursFor(name string, d *stitchfile.Design) (*stitchfile.Design, string) {
	if notes.HasColours(d) {
		return d, ""
	}
	tried := 0
	for _, e := range b.designs {
		if e.Path == name || !strings.EqualFold(plainStem(e.Path), plainStem(name)) {
			continue
		}
		if tried++; tried > mostColoured {
			break
		}
		from, err := e.Decode()
		if from == nil || err != nil {
			continue
		}
		if out, ok := notes.WithColours(d, from); ok {
			return out, e.Path
		}
	}
	return d, ""
}
