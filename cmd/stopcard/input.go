package main

import (
	"fmt"
	"slices"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// inputFlags are the flags of every verb that reads designs, and with them what
// the settings file says.
type inputFlags struct {
	settings report.Settings
	trims    int
	hoop     string // as given: a size, or the name of one of hoops
	jobs     int

	// Of some verbs only, but the settings file may hold them for all.
	paper   string
	failOn  string
	spoolM  float64
	clothMM float64
	sitting float64

	choice choice // of verbs that take one file of each design in a pack
	again  bool   // the designs were read before: what was said then need not be said again

	hoops map[string]string // sizes by name, from the settings file
	from  map[string]string // where a setting comes from, by name; absent: default
	file  string            // --settings

	threadBox  string             // --thread-box
	ownThreads []report.OwnThread // of the settings file

	notesFiles []string       // --notes
	given      []*notes.Notes // as read
	noNotes    bool           // of a verb that is about the design as it is
}

// newInputFlags are the flags as they stand when none is given and no settings
// file is read.
func newInputFlags() *inputFlags {
	return &inputFlags{
		settings: report.DefaultSettings(), trims: stitchfile.DefaultTrimJumps,
		paper: "a4", failOn: string(report.Fault), spoolM: 500, clothMM: 1100, sitting: 60,
		hoops: map[string]string{}, from: map[string]string{},
	}
}

// sharedFlag marks the flags that stand apart in a verb's help.
const sharedFlag = "stopcard_shared"

// add defines the flags that every reading verb has.
func (in *inputFlags) add(f *pflag.FlagSet) {
	*in = *newInputFlags()
	for _, s := range settingList {
		if s.shared {
			in.addOne(f, s)
		}
	}
	f.Var(limitFlag{in}, "limit", "limit of a rule, such as thin-cover=0.8; may be repeated ('stopcard rules' lists them)")
	f.Var(&fileFlag{in}, "settings", "settings file, or none (default: the one in your configuration folder, if there)")
	f.StringArrayVar(&in.notesFiles, "notes", nil, "notes on the designs, or none (default: NAME"+notes.Extension+" beside the design or in its pack); may be repeated")
	for _, name := range []string{"limit", "settings", "notes"} {
		f.SetAnnotation(name, sharedFlag, nil)
	}
}

// addSetting defines the flag of one setting that only some verbs have.
func (in *inputFlags) addSetting(f *pflag.FlagSet, name string) {
	if s := findSetting(name); s != nil {
		in.addOne(f, *s)
	}
}

func (in *inputFlags) addOne(f *pflag.FlagSet, s setting) {
	f.Var(s.value(in), s.name, s.doc)
	if s.shared {
		f.SetAnnotation(s.name, sharedFlag, nil)
	}
}

// options are what a design is measured with.
func (in *inputFlags) options() analyse.Options { return analyse.Options{Settings: &in.settings} }

// known finds what is known of a design beside its stitches: notes, and colours of
// another file where it has none.
func (in *inputFlags) known(src source, d *stitchfile.Design) (analyse.Options, *stitchfile.Design, error) {
	o := in.options()
	near := &beside{}
	if src.beside != nil {
		near = src.beside()
	}
	d, o.ColoursFrom = near.coloursFor(src.path, d)
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
	o.Notes, o.NotesNamed, err = near.notesFor(src.path, notes.SignOf(d))
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
		in.given = append(in.given, n)
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
	if in.hoop == "" {
		return nil
	}
	size, named := in.hoops[in.hoop]
	if !named {
		size = in.hoop
	}
	w, h, err := parseSize(size)
	if err != nil {
		where := "--hoop"
		if from := in.from["hoop"]; from != "" && from != flagSource {
			where = from + ": hoop"
		}
		return fmt.Errorf("%s: %v, nor is it a hoop named in the settings file", where, err)
	}
	in.settings.HoopWidthMM, in.settings.HoopHeightMM = w, h
	return nil
}
