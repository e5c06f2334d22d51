package settingsfile

import (
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"slices"
	"strings"
)

// Setting is one thing that a person may set, by a flag and under the same name
// in the settings file.
type Setting struct {
	Name   string
	Doc    string
	Shared bool // a flag of every verb that reads designs

	// Value is where the setting stands among values, to read and to set by its text.
	Value func(*Values) Value
}

// Value is one setting as text.
type Value interface {
	String() string
	Set(text string) error // judges the text first, and sets nothing where it is wrong
	Type() string          // a unit, or what is expected
}

// List has every setting, in the order in which help and 'stopcard
// settings' show them.
var List = []Setting{
	{"hoop", "hoop field, such as 130x180 (mm) or 5x7in, or the name of a hoop in the settings file", true,
		func(in *Values) Value { return textValue{&in.Hoop, "size"} }},
	{"units", "how lengths are shown: mm, inch or both", true,
		func(in *Values) Value {
			return choiceValue{&in.Settings.Units, []string{"mm", "inch", "both"}}
		}},
	{"speed", "stitches a minute", true,
		number(1, 1e4, "number", func(in *Values) *float64 { return &in.Settings.SpeedPerMinute })},
	{"stop-seconds", "time to change the thread at a colour stop", true,
		number(0, 3600, "seconds", func(in *Values) *float64 { return &in.Settings.StopSeconds })},
	{"trim-seconds", "time the machine takes for one trim", true,
		number(0, 3600, "seconds", func(in *Values) *float64 { return &in.Settings.TrimSeconds })},
	{"lay-seconds", "time to lay one cloth", true,
		number(0, 3600, "seconds", func(in *Values) *float64 { return &in.Settings.LaySeconds })},
	{"cut-seconds", "time to trim one applique piece, hoop off and on", true,
		number(0, 3600, "seconds", func(in *Values) *float64 { return &in.Settings.CutSeconds })},
	{"thread-weight", "weight number of the needle thread", true,
		number(1, 1000, "number", func(in *Values) *float64 { return &in.Settings.ThreadWeight })},
	{"flattening", "width of the laid thread over its diameter", true,
		number(0.5, 5, "number", func(in *Values) *float64 { return &in.Settings.Flattening })},
	{"stack", "thickness of the cloth sewn through", true,
		number(0, 20, "mm", func(in *Values) *float64 { return &in.Settings.StackMM })},
	{"needle-share", "share of the thread that is needle thread, 0 to 1", true,
		number(0, 1, "number", func(in *Values) *float64 { return &in.Settings.NeedleShare })},
	{"tail", "thread lost at each cut, of each thread", true,
		number(0, 1000, "mm", func(in *Values) *float64 { return &in.Settings.TailMM })},
	{"bobbin-m", "thread on one bobbin", true,
		number(1, 1e5, "metres", func(in *Values) *float64 { return &in.Settings.BobbinM })},
	{"trim-allowance", "how far outside the tack-down scissors may leave the cloth", true,
		number(0, 10, "mm", func(in *Values) *float64 { return &in.Settings.TrimAllowanceMM })},
	{"corners", "how scissors turn the corners of a piece: sharp, each cut straight on, or round", true,
		func(in *Values) Value {
			return choiceValue{&in.Settings.Corners, []string{report.SharpCorners, report.RoundCorners}}
		}},
	{"cloth-margin", "how far cloth reaches past the line it is laid over", true,
		number(0, 200, "mm", func(in *Values) *float64 { return &in.Settings.ClothMarginMM })},
	{"batting-margin", "the same for batting and backing", true,
		number(0, 200, "mm", func(in *Values) *float64 { return &in.Settings.BattingMarginMM })},
	{"trim-jumps", "jumps in a row that stand for a trim, in formats without one; 3: the usual, where the file does not show otherwise; 0: never", true,
		func(in *Values) Value { return countValue{&in.TrimJumps, 0, 1000} }},
	{"jobs", "designs read at a time; 0: one for each processor", true,
		func(in *Values) Value { return countValue{&in.Jobs, 0, 1024} }},
	{"only", "rules to look at, with commas between; all others are left out", true,
		func(in *Values) Value { return rulesValue{&in.Settings.Only} }},
	{"skip", "rules to leave out", true,
		func(in *Values) Value { return rulesValue{&in.Settings.Skip} }},
	{"thread-box", "CSV of your own threads: name,colour,weight,left; or none", true,
		func(in *Values) Value { return textValue{&in.ThreadBox, "file"} }},
	{"fail-on", "least finding that gives exit status 1: note, warning or fault", false,
		func(in *Values) Value {
			return choiceValue{&in.FailOn, []string{"note", "warning", "fault"}}
		}},
	{"paper", "paper of cards and templates: " + strings.Join(PaperNames(), ", "), false,
		func(in *Values) Value { return choiceValue{&in.Paper, PaperNames()} }},
	{"spool-m", "thread on one spool", false,
		number(1, 1e5, "metres", func(in *Values) *float64 { return &in.SpoolM })},
	{"cloth-width", "width of the applique cloth that pieces are cut from", false,
		number(10, 1e4, "mm", func(in *Values) *float64 { return &in.ClothMM })},
	{"sitting-minutes", "how long you sit at the machine at a time", false,
		number(1, 1440, "minutes", func(in *Values) *float64 { return &in.SittingMinutes })},
}

// PaperNames are the papers that a setting may name.
func PaperNames() []string {
	var names []string
	for _, p := range render.Papers() {
		names = append(names, strings.ToLower(p.Name))
	}
	return names
}

// Find is the setting of a name, nil where there is none.
func Find(name string) *Setting {
	i := slices.IndexFunc(List, func(s Setting) bool { return s.Name == name })
	if i < 0 {
		return nil
	}
	return &List[i]
}
