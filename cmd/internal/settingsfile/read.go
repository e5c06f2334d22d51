package settingsfile

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"github.com/stopcard/stopcard/analyse/words"
)

// entry is one value in the settings file.
type entry struct {
	table, key string
	value      string
	line       int
	thread     map[string]string // of one thread of the box
}

// Read sets from the text of a settings file what no flag has set. Errors name the path
// and the line. Own, if not nil, gives further places where a setting stands by its
// name, nil for none.
func (in *Values) Read(path string, text []byte, own func(name string) Value) error {
	entries, err := parseSettings(text)
	if err != nil {
		return fmt.Errorf("%s:%w", path, err)
	}
	for _, e := range entries {
		from := fmt.Sprintf("%s:%d", path, e.line)
		if err := in.readOne(e, from, own); err != nil {
			return fmt.Errorf("%s: %w", from, err)
		}
	}
	return nil
}

func (in *Values) readOne(e entry, from string, own func(name string) Value) error {
	switch e.table {
	case "hoops":
		if _, _, err := ParseSize(e.value); err != nil {
			return fmt.Errorf("hoop %s: %w", e.key, err)
		}
		in.Hoops[e.key], in.From["hoops "+e.key] = e.value, from
		return nil
	case "thread":
		t, err := ownThread(e.thread)
		if err == nil && len(in.Threads) == mostOwn {
			err = fmt.Errorf("more than %d threads", mostOwn)
		}
		in.Threads = append(in.Threads, t)
		return err
	case "limits":
		if in.From["limit "+e.key] == FromFlag {
			return New().SetLimit(e.key, e.value) // judged all the same
		}
		in.From["limit "+e.key] = from
		return in.SetLimit(e.key, e.value)
	}
	s := Find(e.key)
	if s == nil {
		names := []string{"limits", "hoops", "thread"}
		for _, s := range List {
			names = append(names, s.Name)
		}
		return fmt.Errorf("there is no setting %q%s; 'stopcard settings' lists them", e.key, words.DidYouMean(e.key, names))
	}
	// Judged before it is set, also where a flag takes its place.
	if err := s.Value(New()).Set(e.value); err != nil {
		return fmt.Errorf("%s: %w", e.key, err)
	}
	if in.From[e.key] == FromFlag {
		return nil
	}
	in.From[e.key] = from
	if own != nil {
		if v := own(e.key); v != nil {
			if err := v.Set(e.value); err != nil {
				return fmt.Errorf("%s: %w", e.key, err)
			}
		}
	}
	return s.Value(in).Set(e.value)
}

// parseSettings reads the file into entries in their order. Errors begin with
// the line.
func parseSettings(text []byte) ([]entry, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if tooMany(text) {
		return nil, fmt.Errorf(" more than %d settings, hoops or tables are too many", mostKeys)
	}
	var values map[string]any
	if err := toml.Unmarshal(text, &values); err != nil {
		return nil, AtLine(err)
	}
	for _, name := range slices.Sorted(maps.Keys(tableForms)) {
		form, ok := tableForms[name], false
		switch v := values[name].(type) {
		case nil, map[string]any:
			ok = name != "thread" || v == nil
		case []any:
			ok = name == "thread" && !slices.ContainsFunc(v, func(one any) bool { _, table := one.(map[string]any); return !table })
		}
		if !ok {
			return nil, fmt.Errorf("%d: %s: expected %s on a line of its own and what belongs to it below, such as %s",
				keyLine(text, name), name, form.head, form.such)
		}
	}
	var out []entry
	threads, _ := values["thread"].([]any)
	keys := keysOf(text, "limits", "hoops")
	isThread := func(k keyAt) bool { return len(k.key) == 1 && k.key[0] == "thread" }
	for i, k := range keys {
		key, line := k.key, k.line
		if isThread(k) {
			// One for each [[thread]], or all in one list.
			n := min(1, len(threads))
			if !slices.ContainsFunc(keys[i+1:], isThread) {
				n = len(threads)
			}
			for _, one := range threads[:n] {
				e := entry{table: "thread", key: "thread", line: line, thread: map[string]string{}}
				for k, v := range one.(map[string]any) {
					if !plain(v) {
						return nil, fmt.Errorf("%d: thread: %s: %s", line, Printable(k), wantPlain)
					}
					e.thread[k] = fmt.Sprint(v)
				}
				out = append(out, e)
			}
			threads = threads[n:]
			continue
		}
		e := entry{key: strings.Join(key, "."), line: line}
		var value any = values
		for _, part := range key {
			table, _ := value.(map[string]any)
			value = table[part]
		}
		if len(key) == 2 && slices.Contains([]string{"limits", "hoops"}, key[0]) {
			e.table, e.key = key[0], key[1]
		}
		switch list, isList := value.([]any); {
		case plain(value):
			e.value = fmt.Sprint(value)
		case isList && takesList(e):
			e.value = joined(list)
		case e.table != "" || Find(e.key) != nil:
			return nil, fmt.Errorf("%d: %s: %s", line, e.key, wantPlain)
		}
		out = append(out, e)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].line < out[j].line })
	return out, nil
}

// wantPlain is said of a value that is not plain.
const wantPlain = "expected a number or a text in quotes"

// plain reports whether a value is a number or a text.
func plain(v any) bool {
	switch v.(type) {
	case string, int64, float64:
		return true
	}
	return false
}

// tableForms is how the parts of the file that hold more than one value begin, and what
// may stand in them.
var tableForms = map[string]struct{ head, such string }{
	"limits": {"[limits]", "thin-cover = 0.8"},
	"hoops":  {"[hoops]", `"small" = "4x4in"`},
	"thread": {"[[thread]]", `name = "pine" and colour = "dark teal"`},
}

// keyLine is the line on which a key of the top stands.
func keyLine(text []byte, name string) int {
	for _, k := range keysOf(text) {
		if k.key[0] == name {
			return k.line
		}
	}
	return 1
}

// takesList reports whether a key's value may be a list.
func takesList(e entry) bool {
	s := Find(e.key)
	if e.table != "" || s == nil {
		return false
	}
	_, ok := s.Value(New()).(rulesValue)
	return ok
}

// joined writes a list as its flag takes it.
func joined(list []any) string {
	var parts []string
	for _, v := range list {
		parts = append(parts, words.TOMLValue(v))
	}
	return strings.Join(parts, ",")
}

// AtLine puts the line of a reading error before it.
func AtLine(err error) error {
	text := words.TOMLWords(err)
	var at *toml.DecodeError
	if errors.As(err, &at) {
		line, _ := at.Position()
		return fmt.Errorf("%d: %s", line, text)
	}
	return errors.New(" " + text)
}
