package stitchfile

import (
	"cmp"
	"slices"
)

// Certainty is how surely a format knows its own bytes.
type Certainty uint8

const (
	No        Certainty = iota // not this format
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

	// Recognise judges whether data is of this format. It must be quick on
	// foreign data and must not panic on any.
	Recognise func(data []byte) Certainty

	// Decode reads data. It returns the sound part beside a *FormatError
	// when data is damaged, and must not keep data.
	Decode func(data []byte, d *Decoder) (*Design, error)
}

var formats []Format

// RegisterFormat adds a format to those that Decode knows. It is meant to be
// called from an init function; a second format of the same name panics.
func RegisterFormat(f Format) {
	if slices.ContainsFunc(formats, func(g Format) bool { return g.Name == f.Name }) {
		panic("stitchfile: format " + f.Name + " registered twice")
	}
	formats = append(formats, f)
	slices.SortFunc(formats, func(a, b Format) int { return cmp.Compare(a.Name, b.Name) })
}

// Formats lists the formats that Decode knows, by name.
func Formats() []Format { return slices.Clone(formats) }

// Names lists the names of the formats that Decode knows.
func Names() []string {
	names := make([]string, len(formats))
	for i, f := range formats {
		names[i] = f.Name
	}
	return names
}

// recognise picks the format of data: the surest one, and among equals the one
// that claims the extension.
func recognise(data []byte, ext string) (best Format, ok bool) {
	var surest Certainty
	var named bool
	for _, f := range formats {
		c := f.Recognise(data)
		if c == No {
			continue
		}
		n := slices.Contains(f.Extensions, ext)
		if c == Possible && ext != "" && !n {
			continue // a file named otherwise needs better proof
		}
		if c > surest || c == surest && n && !named {
			best, surest, named, ok = f, c, n, true
		}
	}
	return best, ok
}
