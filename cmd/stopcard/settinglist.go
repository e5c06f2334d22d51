package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/render"
)

// setting is one thing that a person may set, by a flag and under the same name
// in the settings file.
type setting struct {
	name   string
	doc    string
	shared bool // a flag of every verb that reads designs
	value  func(*inputFlags) pflag.Value
}

// settingList has every setting, in the order in which help and 'stopcard
// settings' show them.
var settingList = []setting{
	{"hoop", "hoop field, such as 130x180 (mm) or 5x7in, or the name of a hoop in the settings file", true,
		func(in *inputFlags) pflag.Value { return textFlag{&in.hoop, "size"} }},
	{"units", "how lengths are shown: mm, inch or both", true,
		func(in *inputFlags) pflag.Value {
			return choiceFlag{&in.settings.Units, []string{"mm", "inch", "both"}}
		}},
	{"speed", "stitches a minute", true,
		number(1, 1e4, "number", func(in *inputFlags) *float64 { return &in.settings.SpeedPerMinute })},
	{"stop-seconds", "time to change the thread at a colour stop", true,
		number(0, 3600, "seconds", func(in *inputFlags) *float64 { return &in.settings.StopSeconds })},
	{"trim-seconds", "time the machine takes for one trim", true,
		number(0, 3600, "seconds", func(in *inputFlags) *float64 { return &in.settings.TrimSeconds })},
	{"lay-seconds", "time to lay one cloth", true,
		number(0, 3600, "seconds", func(in *inputFlags) *float64 { return &in.settings.LaySeconds })},
	{"cut-seconds", "time to trim one applique piece, hoop off and on", true,
		number(0, 3600, "seconds", func(in *inputFlags) *float64 { return &in.settings.CutSeconds })},
	{"thread-weight", "weight number of the needle thread", true,
		number(1, 1000, "number", func(in *inputFlags) *float64 { return &in.settings.ThreadWeight })},
	{"flattening", "width of the laid thread over its diameter", true,
		number(0.5, 5, "number", func(in *inputFlags) *float64 { return &in.settings.Flattening })},
	{"stack", "thickness of the cloth sewn through", true,
		number(0, 20, "mm", func(in *inputFlags) *float64 { return &in.settings.StackMM })},
	{"needle-share", "share of the thread that is needle thread, 0 to 1", true,
		number(0, 1, "number", func(in *inputFlags) *float64 { return &in.settings.NeedleShare })},
	{"tail", "thread lost at each cut, of each thread", true,
		number(0, 1000, "mm", func(in *inputFlags) *float64 { return &in.settings.TailMM })},
	{"bobbin-m", "thread on one bobbin", true,
		number(1, 1e5, "metres", func(in *inputFlags) *float64 { return &in.settings.BobbinM })},
	{"trim-allowance", "how far outside the tack-down scissors may leave the cloth", true,
		number(0, 10, "mm", func(in *inputFlags) *float64 { return &in.settings.TrimAllowanceMM })},
	{"corners", "how scissors turn the corners of a piece: sharp, each cut straight on, or round", true,
		func(in *inputFlags) pflag.Value {
			return choiceFlag{&in.settings.Corners, []string{report.SharpCorners, report.RoundCorners}}
		}},
	{"cloth-margin", "how far cloth reaches past the line it is laid over", true,
		number(0, 200, "mm", func(in *inputFlags) *float64 { return &in.settings.ClothMarginMM })},
	{"batting-margin", "the same for batting and backing", true,
		number(0, 200, "mm", func(in *inputFlags) *float64 { return &in.settings.BattingMarginMM })},
	{"trim-jumps", "jumps in a row that stand for a trim, in formats without one; 0: never", true,
		func(in *inputFlags) pflag.Value { return countFlag{&in.trims, 0, 1000} }},
	{"jobs", "designs read at a time; 0: one for each processor", true,
		func(in *inputFlags) pflag.Value { return countFlag{&in.jobs, 0, 1024} }},
	{"only", "rules to look at, with commas between; all others are left out", true,
		func(in *inputFlags) pflag.Value { return rulesFlag{&in.settings.Only} }},
	{"skip", "rules to leave out", true,
		func(in *inputFlags) pflag.Value { return rulesFlag{&in.settings.Skip} }},
	{"thread-box", "CSV of your own threads: name,colour,weight,left; or none", true,
		func(in *inputFlags) pflag.Value { return textFlag{&in.threadBox, "file"} }},
	{"fail-on", "least finding that gives exit status 1: note, warning or fault", false,
		func(in *inputFlags) pflag.Value {
			return choiceFlag{&in.failOn, []string{"note", "warning", "fault"}}
		}},
	{"paper", "paper of cards and templates: " + strings.Join(paperNames(), ", "), false,
		func(in *inputFlags) pflag.Value { return choiceFlag{&in.paper, paperNames()} }},
	{"spool-m", "thread on one spool", false,
		number(1, 1e5, "metres", func(in *inputFlags) *float64 { return &in.spoolM })},
	{"cloth-width", "width of the applique cloth that pieces are cut from", false,
		number(10, 1e4, "mm", func(in *inputFlags) *float64 { return &in.clothMM })},
	{"sitting-minutes", "how long you sit at the machine at a time", false,
		number(1, 1440, "minutes", func(in *inputFlags) *float64 { return &in.sitting })},
}

func paperNames() []string {
	var names []string
	for _, p := range render.Papers() {
		names = append(names, strings.ToLower(p.Name))
	}
	return names
}

func findSetting(name string) *setting {
	i := slices.IndexFunc(settingList, func(s setting) bool { return s.name == name })
	if i < 0 {
		return nil
	}
	return &settingList[i]
}

func number(least, most float64, unit string, at func(*inputFlags) *float64) func(*inputFlags) pflag.Value {
	return func(in *inputFlags) pflag.Value { return numberFlag{at(in), least, most, unit} }
}

// numberFlag is a number in a range. One in mm may be given in inches.
type numberFlag struct {
	at          *float64
	least, most float64
	unit        string
}

func (f numberFlag) String() string { return plain(*f.at) }
func (f numberFlag) Type() string   { return f.unit }
func (f numberFlag) Set(text string) error {
	parse := parseNumber
	if f.unit == "mm" {
		parse = parseLength
	}
	v, err := parse(text)
	if err != nil {
		return err
	}
	if !(v >= f.least && v <= f.most) {
		return fmt.Errorf("expected %s to %s, got %s", plain(f.least), plain(f.most), text)
	}
	*f.at = v
	return nil
}

// plain writes a number without needless digits.
func plain(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}

type countFlag struct {
	at          *int
	least, most int
}

func (f countFlag) String() string { return strconv.Itoa(*f.at) }
func (f countFlag) Type() string   { return "count" }
func (f countFlag) Set(text string) error {
	v, err := strconv.Atoi(text)
	if err != nil || v < f.least || v > f.most {
		return fmt.Errorf("expected a whole number from %d to %d, got %q", f.least, f.most, text)
	}
	*f.at = v
	return nil
}

type choiceFlag struct {
	at *string
	of []string
}

func (f choiceFlag) String() string { return *f.at }
func (f choiceFlag) Type() string   { return strings.Join(f.of, "|") }
func (f choiceFlag) Set(text string) error {
	text = strings.ToLower(text)
	if !slices.Contains(f.of, text) {
		last := len(f.of) - 1
		return fmt.Errorf("expected %s or %s, got %q", strings.Join(f.of[:last], ", "), f.of[last], text)
	}
	*f.at = text
	return nil
}

type textFlag struct {
	at   *string
	kind string
}

func (f textFlag) String() string        { return *f.at }
func (f textFlag) Type() string          { return f.kind }
func (f textFlag) Set(text string) error { *f.at = text; return nil }

// rulesFlag is a list of rules.
type rulesFlag struct{ at *[]string }

func (f rulesFlag) String() string { return strings.Join(*f.at, ",") }
func (f rulesFlag) Type() string   { return "rules" }
func (f rulesFlag) Set(text string) error {
	ids := ruleIDs()
	for id := range strings.SplitSeq(text, ",") {
		if id = strings.TrimSpace(id); id == "" {
			continue
		}
		if !slices.Contains(ids, id) {
			return fmt.Errorf("there is no rule %q%s; 'stopcard rules' lists them", id, words.DidYouMean(id, ids))
		}
		if !slices.Contains(*f.at, id) {
			*f.at = append(*f.at, id)
		}
	}
	return nil
}

func ruleIDs() []string {
	var ids []string
	for _, r := range rules.All() {
		ids = append(ids, r.ID)
	}
	return ids
}

// limitFlag adds NAME=VALUE to the limits.
type limitFlag struct{ in *inputFlags }

func (f limitFlag) String() string { return "" }
func (f limitFlag) Type() string   { return "name=value" }
func (f limitFlag) Set(text string) error {
	name, value, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("expected a rule's limit and its value, such as thin-cover=0.8, got %q", text)
	}
	if err := f.in.setLimit(name, value); err != nil {
		return err
	}
	f.in.from["limit "+name] = flagSource
	return nil
}

func (in *inputFlags) setLimit(name, value string) error {
	all := report.Limits()
	i := slices.IndexFunc(all, func(l report.Limit) bool { return l.Name == name })
	if i < 0 {
		names := make([]string, len(all))
		for i, l := range all {
			names[i] = l.Name
		}
		return fmt.Errorf("no rule has a limit %q%s; 'stopcard rules' lists them", name, words.DidYouMean(name, names))
	}
	most := 1e6
	if all[i].Unit == "share" {
		most = 1
	}
	var v float64
	if err := (numberFlag{&v, 0, most, all[i].Unit}).Set(value); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if in.settings.Limits == nil {
		in.settings.Limits = map[string]float64{}
	}
	in.settings.Limits[name] = v
	return nil
}

// fileFlag names the settings file.
type fileFlag struct{ in *inputFlags }

func (f *fileFlag) String() string        { return f.in.file }
func (f *fileFlag) Type() string          { return "file" }
func (f *fileFlag) Set(text string) error { f.in.file = text; return nil }
