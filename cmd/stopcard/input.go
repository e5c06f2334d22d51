package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

// inputFlags are the flags of every verb that reads designs.
type inputFlags struct {
	settings analyse.Settings
	trims    int
	hoop     string
}

// newInputFlags are the flags as they stand when none is given.
func newInputFlags() *inputFlags {
	return &inputFlags{settings: analyse.DefaultSettings(), trims: stitchfile.DefaultTrimJumps}
}

func (in *inputFlags) add(f *pflag.FlagSet) {
	*in = *newInputFlags()
	f.Float64Var(&in.settings.SpeedPerMinute, "speed", in.settings.SpeedPerMinute, "stitches a minute")
	f.Float64Var(&in.settings.StopSeconds, "stop-seconds", in.settings.StopSeconds, "time one colour stop costs, in seconds")
	f.Float64Var(&in.settings.TrimSeconds, "trim-seconds", in.settings.TrimSeconds, "time one trim costs, in seconds")
	f.Float64Var(&in.settings.ThreadWeight, "thread-weight", in.settings.ThreadWeight, "weight number of the top thread")
	f.StringVar(&in.hoop, "hoop", "", "hoop field, such as 130x180 (mm) or 5x7in")
	f.IntVar(&in.trims, "trim-jumps", in.trims, "jumps in a row that stand for a trim, in formats without one")
}

// resolve turns flag texts into settings.
func (in *inputFlags) resolve() error {
	s := &in.settings
	for _, v := range []struct {
		name  string
		value float64
		least float64
	}{{"speed", s.SpeedPerMinute, 1}, {"thread-weight", s.ThreadWeight, 1}, {"stop-seconds", s.StopSeconds, 0}, {"trim-seconds", s.TrimSeconds, 0}} {
		if !(v.value >= v.least && v.value < 1e6) {
			return fmt.Errorf("--%s %v: expected a number from %v to 1000000", v.name, v.value, v.least)
		}
	}
	if in.hoop == "" {
		return nil
	}
	text, unit := strings.TrimSuffix(in.hoop, "mm"), 1.0
	if t, ok := strings.CutSuffix(in.hoop, "in"); ok {
		text, unit = t, 25.4
	}
	var w, h float64
	var rest string
	if n, _ := fmt.Sscanf(text, "%gx%g%s", &w, &h, &rest); n != 2 || !(w > 0 && h > 0 && w < 5000 && h < 5000) {
		return fmt.Errorf("--hoop %q: expected a width and a height, such as 130x180 or 5x7in", in.hoop)
	}
	s.HoopWidthMM, s.HoopHeightMM = w*unit, h*unit
	return nil
}

// input is one design read, with its report.
type input struct {
	path   string
	design *stitchfile.Design
	report *analyse.Report
	err    error // design was read only in part
}

// read reads and analyses one file; "-" is standard input. The input is nil
// when nothing could be read.
func (in *inputFlags) read(s *session, path string) (*input, error) {
	dec := stitchfile.Decoder{TrimJumps: in.trims}
	if in.trims == 0 {
		dec.TrimJumps = -1
	}
	var d *stitchfile.Design
	var err error
	if path == "-" {
		d, err = dec.Decode(s.stdin)
	} else {
		d, err = dec.Open(path)
	}
	if d == nil {
		return nil, err
	}
	r := analyse.Run(d, in.settings)
	r.Path = path
	r.Damage(err, d.Claims.Records)
	return &input{path: path, design: d, report: r, err: err}, nil
}

// each reads the files in turn and calls f for those that could be read at least
// in part. Its status is the gravest met.
func (in *inputFlags) each(s *session, paths []string, f func(*input) int) int {
	if err := in.resolve(); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	if len(paths) == 0 {
		s.complain("no file given; name a stitch file, or - for standard input")
		return exitUsage
	}
	status := exitOK
	for _, path := range paths {
		got, err := in.read(s, path)
		if err != nil {
			s.complain("%s: %v", path, err)
			status = max(status, exitUnreadable)
			continue
		}
		if got.err != nil {
			s.complain("%s: read only in part: %v", path, got.err)
			status = max(status, exitUnreadable)
		}
		status = max(status, f(got))
	}
	return status
}
