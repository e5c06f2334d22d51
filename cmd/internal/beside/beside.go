// Package beside is what lies beside a design and goes with it: notes in its pack or
// folder, and a file of its name and stitches that has the colours it lacks. The command
// and the app read designs by it alike.
package beside

import (
	"sort"
	"strings"

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

// Beside is what lies beside designs: in their pack, or in their folder. The zero value
// is nothing.
type Beside struct {
	notes   []notesFile
	designs []*stitchfile.Entry
}

// notesFile is a notes file with what came of reading it.
type notesFile struct {
	path  string
	notes *notes.Notes
	err   error
}

func (b *Beside) take(e *stitchfile.Entry) {
	switch {
	case IsNotes(e.Path):
		if len(b.notes) < mostNotes {
			b.notes = append(b.notes, readNotes(e))
		}
	case e.Skipped == "" && len(b.designs) < mostDesigns:
		b.designs = append(b.designs, e)
	}
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

// NotesFor picks the notes for a design: those of its own name, or else those whose
// sign is of its stitches, or else those of another size of it. named tells that they
// go by its name. An error is that of notes which go by its name and cannot be read. The
// sign is asked for where there are any.
func (b *Beside) NotesFor(name string, sign func() notes.Sign) (found *notes.Notes, named bool, err error) {
	own, letters := Stem(name), Letters(name)
	var other *notes.Notes
	for _, f := range b.notes {
		if strings.EqualFold(Stem(f.path), own) {
			return f.notes, true, f.err
		}
	}
	for _, f := range b.notes {
		like := letters != "" && letters == Letters(f.path)
		switch {
		case f.err != nil && like:
			return nil, true, f.err
		case f.err != nil || f.notes.Design == nil:
			continue
		}
		switch fit, _ := f.notes.Design.Sign.Against(sign(), like); fit {
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

// ColoursFor gives a design without colours those of a file of its name and stitches
// beside it, and says which; the path is empty where there is none.
func (b *Beside) ColoursFor(name string, d *stitchfile.Design) (*stitchfile.Design, string) {
	if notes.HasColours(d) {
		return d, ""
	}
	var like []*stitchfile.Entry
	for _, e := range b.designs {
		if e.Path != name && strings.EqualFold(Stem(e.Path), Stem(name)) {
			like = append(like, e)
		}
	}
	sort.SliceStable(like, func(i, j int) bool { return colourRank(like[i].Path) < colourRank(like[j].Path) })
	for i, e := range like {
		if i == mostColoured {
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
