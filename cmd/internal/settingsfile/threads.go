package settingsfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"io"
	"maps"
	"slices"
	"strings"
)

// mostOwn bounds the threads of a box; nobody owns as many.
const mostOwn = 5000

// The columns of a thread box, as a table in the settings file or in a CSV.
var threadKeys = []string{"name", "colour", "weight", "left"}

// ownThread reads one thread of a box from its texts by key.
func ownThread(values map[string]string) (report.OwnThread, error) {
	var t report.OwnThread
	for _, key := range slices.Sorted(maps.Keys(values)) {
		if !slices.Contains(threadKeys, key) {
			return t, fmt.Errorf("there is no key %q for a thread%s; expected %s", Printable(key), words.DidYouMean(key, threadKeys), words.Or(threadKeys))
		}
	}
	t.Name = strings.TrimSpace(values["name"])
	if t.Name == "" {
		return t, errors.New(`a thread has no name; expected name = "pine", say`)
	}
	if strings.TrimSpace(values["colour"]) == "" {
		return t, fmt.Errorf(`%s has no colour; expected colour = "dark teal", say, or #rrggbb`, Printable(t.Name))
	}
	hex, err := colourOf(values["colour"])
	if err != nil {
		return t, fmt.Errorf("%s: %w", Printable(t.Name), err)
	}
	t.Colour = hex
	if v := strings.TrimSpace(values["weight"]); v != "" {
		if err := Number(&t.Weight, 1, 1000, "number").Set(v); err != nil {
			return t, fmt.Errorf("%s: weight: %w", Printable(t.Name), err)
		}
	}
	if v := strings.TrimSpace(values["left"]); v != "" {
		var left float64
		if err := Number(&left, 0, 1e6, "metres").Set(v); err != nil {
			return t, fmt.Errorf("%s: left: %w", Printable(t.Name), err)
		}
		t.LeftM = &left
	}
	return t, nil
}

// colourOf reads a colour given as #rrggbb or in the words that reports use.
func colourOf(text string) (string, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if c, ok := words.ParseHex(text); ok {
		return words.Hex(c), nil
	}
	if c, ok := words.ColourOf(text); ok {
		return words.Hex(c), nil
	}
	return "", fmt.Errorf("colour %q%s; expected #rrggbb, or words such as dark teal", Printable(text), words.DidYouMean(text, words.ColourWords()))
}

// ReadThreads reads a thread box from a CSV whose first line names the columns.
// Errors name the path.
func ReadThreads(path string, text []byte) ([]report.OwnThread, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.TrimLeadingSpace = true
	if first, _, _ := bytes.Cut(text, []byte("\n")); bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		r.Comma = ';' // as spreadsheets write it where the comma is in numbers
	}
	head, err := r.Read()
	if err == io.EOF {
		return nil, nil
	}
	for i := range head {
		head[i] = strings.ToLower(strings.TrimSpace(head[i]))
	}
	var out []report.OwnThread
	for err == nil {
		var row []string
		if row, err = r.Read(); err != nil {
			break
		}
		line, _ := r.FieldPos(0)
		values := map[string]string{}
		for i, v := range row {
			if r.Comma == ';' {
				v = strings.ReplaceAll(v, ",", ".")
			}
			values[head[i]] = v
		}
		t, wrong := ownThread(values)
		if wrong != nil {
			return nil, fmt.Errorf("%s:%d: %w", path, line, wrong)
		}
		if len(out) == mostOwn {
			return nil, fmt.Errorf("%s:%d: more than %d threads", path, line, mostOwn)
		}
		out = append(out, t)
	}
	if wrong := (*csv.ParseError)(nil); errors.As(err, &wrong) {
		return nil, fmt.Errorf("%s:%d: %v; expected a line such as pine,#114726,40,320 below name,colour,weight,left", path, wrong.Line, wrong.Err)
	}
	if err != io.EOF {
		return nil, fmt.Errorf("thread box %s: %w", path, err)
	}
	return out, nil
}

// FillBox puts the threads of the settings and those of a CSV, if any, into the box.
func (in *Values) FillBox(path string, more []report.OwnThread) error {
	in.Settings.Threads = append(slices.Clone(in.Threads), more...)
	if len(more) == 0 {
		return nil
	}
	seen := map[string]bool{}
	for _, t := range in.Settings.Threads {
		name := strings.ToLower(t.Name)
		if seen[name] {
			return fmt.Errorf("thread box %s: there are two threads called %q; give each its own name", path, Printable(t.Name))
		}
		seen[name] = true
	}
	return nil
}
