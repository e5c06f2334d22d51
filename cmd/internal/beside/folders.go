package beside

import (
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
)

// Folders remembers what lies in folders, so that each is listed, and its notes read,
// once however many of its files are named.
type Folders struct {
	mu   sync.Mutex
	list map[string]func() *folder
}

// folder is the stitch files and the notes in a folder itself.
type folder struct {
	stitch []string
	notes  []notesFile
}

func (fs *Folders) look(packs *stitchfile.PackReader, dir string) *folder {
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
		case IsNotes(name) && len(out.notes) < mostNotes:
			if p, err := packs.Open(name); err == nil {
				for e := range p.Entries() {
					out.notes = append(out.notes, readNotes(e))
				}
			}
		case IsStitchName(name):
			out.stitch = append(out.stitch, name)
		}
	}
	return out
}

// Look lists what lies beside the designs of a pack that was opened by a path; "-" is
// standard input, which has nothing beside it. It looks when it is first asked.
func (fs *Folders) Look(packs *stitchfile.PackReader, pack *stitchfile.Pack, path string) func() *Beside {
	return sync.OnceValue(func() *Beside {
		b := &Beside{}
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
				if single && name != filepath.Clean(path) && strings.EqualFold(Stem(name), Stem(path)) {
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
