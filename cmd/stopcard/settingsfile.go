package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse/words"
)

// flagSource is the source of a setting given on the command line.
const flagSource = "flag"

// maxSettingsBytes bounds the settings file; a real one has a few hundred bytes.
const maxSettingsBytes = 1 << 20

// defaultSettingsFile is where the settings file lies when none is named, empty
// where there is no configuration folder.
func defaultSettingsFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "stopcard", "settings.toml")
}

// load notes which flags were given, and takes the rest from the settings file.
func (in *inputFlags) load(flags *pflag.FlagSet) error {
	flags.Visit(func(f *pflag.Flag) {
		if f.Name != "limit" && f.Name != "settings" {
			in.from[f.Name] = flagSource
		}
	})
	path, named := in.file, flags.Changed("settings")
	if !named {
		path = defaultSettingsFile()
	}
	if path == "" || named && path == "none" {
		return nil
	}
	text, err := readSmall(path, maxSettingsBytes, "a settings file")
	if !named && errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("settings file %s: %w", path, err)
	}
	return in.apply(flags, path, text)
}

// readSmall reads a file that a person wrote, of so many bytes at most.
func readSmall(path string, most int64, what string) ([]byte, error) {
	info, err := os.Stat(path)
	var text []byte
	if err == nil && info.Size() > most {
		err = fmt.Errorf("%d bytes are too many for %s", info.Size(), what)
	}
	if err == nil {
		text, err = os.ReadFile(path)
	}
	if at := (*fs.PathError)(nil); errors.As(err, &at) {
		err = at.Err
	}
	return text, err
}

// entry is one value in the settings file.
type entry struct {
	table, key string
	value      string
	line       int
	thread     map[string]string // of one thread of the box
}

// apply sets from the file's text what no flag has set.
func (in *inputFlags) apply(flags *pflag.FlagSet, path string, text []byte) error {
	entries, err := parseSettings(text)
	if err != nil {
		return fmt.Errorf("%s:%w", path, err)
	}
	for _, e := range entries {
		from := fmt.Sprintf("%s:%d", path, e.line)
		if err := in.applyOne(flags, e, from); err != nil {
			return fmt.Errorf("%s: %w", from, err)
		}
	}
	return nil
}

func (in *inputFlags) applyOne(flags *pflag.FlagSet, e entry, from string) error {
	switch e.table {
	case "hoops":
		if _, _, err := parseSize(e.value); err != nil {
			return fmt.Errorf("hoop %s: %w", e.key, err)
		}
		in.hoops[e.key], in.from["hoops "+e.key] = e.value, from
		return nil
	case "thread":
		t, err := ownThread(e.thread)
		if err == nil && len(in.ownThreads) == mostOwn {
			err = fmt.Errorf("more than %d threads", mostOwn)
		}
		in.ownThreads = append(in.ownThreads, t)
		return err
	case "limits":
		if in.from["limit "+e.key] == flagSource {
			return newInputFlags().setLimit(e.key, e.value) // judged all the same
		}
		in.from["limit "+e.key] = from
		return in.setLimit(e.key, e.value)
	}
	s := findSetting(e.key)
	if s == nil {
		names := []string{"limits", "hoops", "thread"}
		for _, s := range settingList {
			names = append(names, s.name)
		}
		return fmt.Errorf("there is no setting %q%s; 'stopcard settings' lists them", e.key, words.DidYouMean(e.key, names))
	}
	// Judged before it is set, also where a flag takes its place.
	if err := s.value(newInputFlags()).Set(e.value); err != nil {
		return fmt.Errorf("%s: %w", e.key, err)
	}
	if in.from[e.key] == flagSource {
		return nil
	}
	in.from[e.key] = from
	// A verb may keep a flag of this name of its own.
	if f := flags.Lookup(e.key); f != nil {
		if err := f.Value.Set(e.value); err != nil {
			return fmt.Errorf("%s: %w", e.key, err)
		}
	}
	return s.value(in).Set(e.value)
}

// parseSettings reads the file into entries in their order. Errors begin with
// the line.
func parseSettings(text []byte) ([]entry, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	var values map[string]any
	if err := toml.Unmarshal(text, &values); err != nil {
		return nil, atLine(err)
	}
	for _, name := range []string{"limits", "hoops"} {
		if v, ok := values[name]; ok {
			if _, ok := v.(map[string]any); !ok {
				return nil, fmt.Errorf("%d: %s: expected [%[2]s] on a line of its own and what belongs to it below, such as %s",
					keyLine(text, name), name, map[string]string{"limits": "thin-cover = 0.8", "hoops": `"small" = "4x4in"`}[name])
			}
		}
	}
	// Strict decoding into tables that know no key tells where each key stands.
	var tables struct {
		Limits struct{} `toml:"limits"`
		Hoops  struct{} `toml:"hoops"`
	}
	var keys *toml.StrictMissingError
	err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&tables)
	if err == nil {
		return nil, nil
	}
	if !errors.As(err, &keys) {
		return nil, atLine(err)
	}
	var out []entry
	threads, _ := values["thread"].([]any)
	for i := range keys.Errors {
		key := keys.Errors[i].Key()
		line, _ := keys.Errors[i].Position()
		if len(key) == 1 && key[0] == "thread" && len(threads) > 0 {
			one, _ := threads[0].(map[string]any)
			threads = threads[1:]
			e := entry{table: "thread", key: "thread", line: line, thread: map[string]string{}}
			for k, v := range one {
				e.thread[k] = fmt.Sprint(v)
			}
			out = append(out, e)
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
		list, isList := value.([]any)
		switch value.(type) {
		case string, int64, float64:
			e.value = fmt.Sprint(value)
		default:
			if isList && takesList(e) {
				e.value = joined(list)
				break
			}
			if e.table != "" || findSetting(e.key) != nil {
				return nil, fmt.Errorf("%d: %s: expected a number or a text in quotes", line, e.key)
			}
		}
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(a, b entry) int { return a.line - b.line })
	return out, nil
}

// keyLine is the line on which a key of the top stands.
func keyLine(text []byte, name string) int {
	var none struct{}
	var keys *toml.StrictMissingError
	if errors.As(toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&none), &keys) {
		for i := range keys.Errors {
			if key := keys.Errors[i].Key(); len(key) > 0 && key[0] == name {
				line, _ := keys.Errors[i].Position()
				return line
			}
		}
	}
	return 1
}

// takesList reports whether a key's value may be a list.
func takesList(e entry) bool {
	s := findSetting(e.key)
	if e.table != "" || s == nil {
		return false
	}
	_, ok := s.value(newInputFlags()).(rulesFlag)
	return ok
}

// joined writes a list as its flag takes it.
func joined(list []any) string {
	var parts []string
	for _, v := range list {
		parts = append(parts, fmt.Sprint(v))
	}
	return strings.Join(parts, ",")
}

// atLine puts the line of a reading error before it.
func atLine(err error) error {
	text := strings.TrimPrefix(err.Error(), "toml: ")
	var at *toml.DecodeError
	if errors.As(err, &at) {
		line, _ := at.Position()
		return fmt.Errorf("%d: %s", line, text)
	}
	return errors.New(" " + text)
}
