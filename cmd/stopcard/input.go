package main

import (
	"fmt"
	"slices"
	"sync"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/cmd/internal/beside"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
	"github.com/stopcard/stopcard/stitchfile"
)

// inputFlags are the flags of every verb that reads designs, and with them what
// the settings file says.
type inputFlags struct {
	settingsfile.Values

	choice choice // of verbs that take one file of each design in a pack
	again  bool   // the designs were read before: what was said then need not be said again
	passes bool   // of verbs that ask how far a design may be resized

	from string // --from: where names are listed
	null bool   // they end in NUL

	file   string   // --settings
	opened []string // settings, threads and notes that were read

	notesFiles []string       // --notes
	given      []*notes.Notes // as read
	noNotes    bool           // of a verb that is about the design as it is
}

// newInputFlags are the flags as they stand when none is given and no settings
// file is read.
func newInputFlags() *inputFlags {
	return &inputFlags{Values: *settingsfile.New()}
}

// sharedFlag marks the flags that stand apart in a verb's help.
const sharedFlag = "stopcard_shared"

// add defines the flags that every reading verb has.
func (in *inputFlags) add(f *pflag.FlagSet) {
	*in = *newInputFlags()
	for _, s := range settingsfile.List {
		if s.Shared {
			in.addOne(f, s)
		}
	}
	f.Var(limitFlag{in}, "limit", "limit of a rule, such as thin-cover=0.8; may be repeated ('stopcard rules' lists them)")
	f.Var(&fileFlag{in}, "settings", "settings file, or none (default: the one in your configuration folder, if there)")
	f.StringArrayVar(&in.notesFiles, "notes", nil, "notes on the designs, or none (default: NAME"+notes.Extension+" beside the design or in its pack); may be repeated")
	f.StringVar(&in.from, "from", "", "file that lists further files to read, a name a line; - for standard input")
	f.BoolVarP(&in.null, "null", "0", false, "names in --from end in NUL, as find -print0 writes them")
	for _, name := range []string{"limit", "settings", "notes", "from", "null"} {
		f.SetAnnotation(name, sharedFlag, nil)
	}
}

// addSetting defines the flag of one setting that only some verbs have.
func (in *inputFlags) addSetting(f *pflag.FlagSet, name string) {
	if s := settingsfile.Find(name); s != nil {
		in.addOne(f, *s)
	}
}

func (in *inputFlags) addOne(f *pflag.FlagSet, s settingsfile.Setting) {
	f.Var(s.Value(&in.Values), s.Name, s.Doc)
	if s.Shared {
		f.SetAnnotation(s.Name, sharedFlag, nil)
	}
}

// options are what a design is measured with.
func (in *inputFlags) options() analyse.Options { return analyse.Options{Settings: &in.Settings} }

// known finds what is known of a design beside its stitches: notes, and colours of
// another file where it has none.
func (in *inputFlags) known(src source, d *stitchfile.Design) (analyse.Options, *stitchfile.Design, error) {
	o := in.options()
	near := new(beside.Beside)
	if src.beside != nil {
		near = src.beside()
	}
	d, o.ColoursFrom = near.ColoursFor(src.path, d)
	switch {
	case in.noNotes || slices.Equal(in.notesFiles, []string{"none"}):
		return o, d, nil
	case len(in.given) > 0:
		o.NotesNamed = true
		sign := notes.SignOf(d)
		for _, n := range in.given {
			o.Notes = n
			if n.Design == nil {
				break
			}
			if fit, _ := n.Design.Sign.Against(sign, true); fit != notes.NoFit {
				break
			}
		}
		return o, d, nil
	}
	var err error
	o.Notes, o.NotesNamed, err = near.NotesFor(src.path, sync.OnceValue(func() notes.Sign { return notes.SignOf(d) }))
	return o, d, err
}

// readGiven reads the notes that --notes names.
func (in *inputFlags) readGiven() error {
	in.given = nil
	if slices.Equal(in.notesFiles, []string{"none"}) {
		return nil
	}
	for _, name := range in.notesFiles {
		text, err := readSmall(name, notes.MaxBytes, "a notes file")
		if err != nil {
			return fmt.Errorf("--notes %s: %w", name, err)
		}
		n, err := notes.Parse(name, text)
		if err != nil {
			return err
		}
		in.given, in.opened = append(in.given, n), append(in.opened, name)
	}
	return nil
}

// resolve works out what depends on several settings: the hoop's size by its
// name.
func (in *inputFlags) resolve() error {
	if err := in.readGiven(); err != nil {
		return err
	}
	if err := in.openBox(); err != nil {
		return err
	}
	return in.ResolveHoop()
}
