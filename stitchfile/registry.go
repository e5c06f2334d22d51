package stitchfile

import (
	"bytes"
	"cmp"
	"io"
	"slices"
	"sync"
	"sync/atomic"
)

// Certainty is how surely a format knows its own bytes.
type Certainty uint8

const (
	No        Certainty = iota // not this format
	Faint                      // nothing speaks against it, and little for it; wins only by its extension
	Possible                   // nothing speaks against it; wins only by its extension, or where there is none
	Likely                     // the structure fits throughout
	Signature                  // starts with the format's own mark
)

// Carries tells what a format can hold beside needle points.
type Carries struct {
	Colours string // "none", "palette" or "rgb"
	Trims   bool   // has a trim record of its own
	Halts   bool   // can tell a plain halt from a thread change
	Hoop    bool   // names a hoop
	Name    bool   // holds a name for the design
}

// Format is one file format: how to know it and how to read it.
type Format struct {
	Name       string   // upper case, as in Design.Format
	Extensions []string // lower case, without dot; the usual one first
	Doc        string   // one line for people
	Carries    Carries

	// Recognise judges whether data is of this format; more tells that data
	// is only the start of the file. It must be quick on foreign data and
	// must not panic on any.
	Recognise func(data []byte, more bool) Certainty

	// Config tells what the header states, and NoClaims where it states
	// nothing; nil where the format has no header to ask. It gets the start
	// of a file that Recognise has taken, and a reader that reaches other
	// places of the file where the input can seek, within MaxConfigBytes.
	// It must not keep lead.
	Config func(lead []byte, rest io.ReaderAt) (Config, error)

	// Decode reads data. It returns the sound part beside a *FormatError
	// when data is damaged, and must not keep data.
	Decode func(data []byte, d *Decoder) (*Design, error)
}

// registry holds formats in order of name. A list is never changed once it
// stands here, so that designs can be read while a format is added.
type registry struct {
	adding sync.Mutex
	list   atomic.Pointer[[]Format]
}

var formats registry

func (r *registry) all() []Format {
	if list := r.list.Load(); list != nil {
		return *list
	}
	return nil
}

func (r *registry) add(f Format) {
	r.adding.Lock()
	defer r.adding.Unlock()
	before := r.all()
	at, found := slices.BinarySearchFunc(before, f, func(a, b Format) int { return cmp.Compare(a.Name, b.Name) })
	if found {
		panic("stitchfile: format " + f.Name + " registered twice")
	}
	list := slices.Concat(before[:at], []Format{f}, before[at:])
	r.list.Store(&list)
}

// RegisterFormat adds a format to those that Decode knows. It is meant to be
// called from an init function, but may be called while designs are read; a
// second format of the same name panics.
func RegisterFormat(f Format) { formats.add(f) }

// Formats lists the formats that Decode knows, by name.
func Formats() []Format { return slices.Clone(formats.all()) }

// Names lists the names of the formats that Decode knows.
func Names() []string {
	var names []string
	for _, f := range formats.all() {
		names = append(names, f.Name)
	}
	return names
}

// startsWith recognises a format that has a mark of its own, or several.
func startsWith(marks ...string) func([]byte, bool) Certainty {
	return func(data []byte, _ bool) Certainty {
		for _, mark := range marks {
			if bytes.HasPrefix(data, []byte(mark)) {
				return Signature
			}
		}
		return No
	}
}

// recognise picks the format of data, which may have more behind it: the surest
// one, and among equals the one that claims the extension.
func recognise(data []byte, more bool, ext string) (best Format, ok bool) {
	var surest Certainty
	var named bool
	for _, f := range formats.all() {
		c := f.Recognise(data, more)
		if c == No {
			continue
		}
		n := slices.Contains(f.Extensions, ext)
		if c == Faint && !n {
			continue
		}
		if c == Possible && ext != "" && !n {
			continue // a file named otherwise needs better proof
		}
		if c > surest || c == surest && n && !named {
			best, surest, named, ok = f, c, n, true
		}
	}
	return best, ok
}
