// Package settingsfile has the settings of a person, by name and as the settings file
// that the command and the app read and write.
package settingsfile

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// FromFlag is the source of a setting given on the command line.
const FromFlag = "flag"

// MaxBytes bounds the settings file, and a thread box; a real one has a few hundred.
const MaxBytes = 1 << 20

// Values are all settings. Start from New.
type Values struct {
	Settings  report.Settings
	TrimJumps int    // jumps in a row that stand for a trim; 0: never. See ReadJumps
	Hoop      string // as given: a size, or the name of one of Hoops
	Jobs      int    // designs read at a time; 0: one for each processor

	// Of some verbs only, but the settings file may hold them for all.
	Paper          string
	FailOn         string
	SpoolM         float64
	ClothMM        float64
	SittingMinutes float64

	Hoops map[string]string // sizes by name, from the settings file
	From  map[string]string // where a setting comes from, by name; absent: default

	ThreadBox string             // a CSV of threads
	Threads   []report.OwnThread // those in the settings file itself
}

// ReadJumps is TrimJumps as a stitchfile.Decoder takes it: where it is what is usual, the
// decoder judges by each file what long ways mean, and any other number is obeyed.
func (v *Values) ReadJumps() int {
	switch v.TrimJumps {
	case 0:
		return -1
	case stitchfile.DefaultTrimJumps:
		return 0
	}
	return v.TrimJumps
}

// New are the settings as they stand when none is given and no file is read.
func New() *Values {
	return &Values{
		Settings: report.DefaultSettings(), TrimJumps: stitchfile.DefaultTrimJumps,
		Paper: "a4", FailOn: string(report.Fault), SpoolM: 500, ClothMM: 1100, SittingMinutes: 60,
		Hoops: map[string]string{}, From: map[string]string{},
	}
}

// ResolveHoop works out the hoop's size, by its name where it has one.
func (in *Values) ResolveHoop() error {
	if in.Hoop == "" {
		in.Settings.HoopWidthMM, in.Settings.HoopHeightMM = 0, 0
		return nil
	}
	size, named := in.Hoops[in.Hoop]
	if !named {
		size = in.Hoop
	}
	w, h, err := ParseSize(size)
	if err != nil {
		where := "--hoop"
		if from := in.From["hoop"]; from != "" && from != FromFlag {
			where = from + ": hoop"
		}
		return fmt.Errorf("%s: %v, nor is it a hoop named in the settings file", where, err)
	}
	in.Settings.HoopWidthMM, in.Settings.HoopHeightMM = w, h
	return nil
}
