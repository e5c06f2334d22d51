package settingsfile

import (
	"fmt"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/words"
	"slices"
	"strconv"
	"strings"
)

func number(least, most float64, unit string, at func(*Values) *float64) func(*Values) Value {
	return func(in *Values) Value { return numberValue{at(in), least, most, unit} }
}

// Number is a number in a range; one in mm may be given in inches.
func Number(at *float64, least, most float64, unit string) Value {
	return numberValue{at, least, most, unit}
}

// Count is a whole number in a range.
func Count(at *int, least, most int) Value { return countValue{at, least, most} }

// numberValue is a number in a range. One in mm may be given in inches.
type numberValue struct {
	at          *float64
	least, most float64
	unit        string
}

func (f numberValue) String() string { return Plain(*f.at) }
func (f numberValue) Type() string   { return f.unit }
func (f numberValue) Set(text string) error {
	parse := ParseNumber
	if f.unit == "mm" {
		parse = ParseLength
	}
	v, err := parse(text)
	if err != nil {
		return err
	}
	if !(v >= f.least && v <= f.most) {
		return fmt.Errorf("expected %s to %s, got %s", Plain(f.least), Plain(f.most), text)
	}
	*f.at = v
	return nil
}

type countValue struct {
	at          *int
	least, most int
}

func (f countValue) String() string { return strconv.Itoa(*f.at) }
func (f countValue) Type() string   { return "count" }
func (f countValue) Set(text string) error {
	v, err := strconv.Atoi(text)
	if err != nil || v < f.least || v > f.most {
		return fmt.Errorf("expected a whole number from %d to %d, got %q", f.least, f.most, text)
	}
	*f.at = v
	return nil
}

type choiceValue struct {
	at *string
	of []string
}

func (f choiceValue) String() string { return *f.at }
func (f choiceValue) Type() string   { return strings.Join(f.of, "|") }
func (f choiceValue) Set(text string) error {
	text = strings.ToLower(text)
	if !slices.Contains(f.of, text) {
		last := len(f.of) - 1
		return fmt.Errorf("expected %s or %s, got %q", strings.Join(f.of[:last], ", "), f.of[last], text)
	}
	*f.at = text
	return nil
}

type textValue struct {
	at   *string
	kind string
}

func (f textValue) String() string        { return *f.at }
func (f textValue) Type() string          { return f.kind }
func (f textValue) Set(text string) error { *f.at = text; return nil }

// rulesValue is a list of rules.
type rulesValue struct{ at *[]string }

func (f rulesValue) String() string { return strings.Join(*f.at, ",") }
func (f rulesValue) Type() string   { return "rules" }
func (f rulesValue) Set(text string) error {
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

// SetLimit sets the limit of a rule by its name.
func (in *Values) SetLimit(name, value string) error {
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
	if err := (numberValue{&v, 0, most, all[i].Unit}).Set(value); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if in.Settings.Limits == nil {
		in.Settings.Limits = map[string]float64{}
	}
	in.Settings.Limits[name] = v
	return nil
}
