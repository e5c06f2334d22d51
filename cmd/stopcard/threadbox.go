package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
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
			return t, fmt.Errorf("there is no key %q for a thread%s; expected %s", printable(key), words.DidYouMean(key, threadKeys), words.Or(threadKeys))
		}
	}
	t.Name = strings.TrimSpace(values["name"])
	if t.Name == "" {
		return t, errors.New(`a thread has no name; expected name = "pine", say`)
	}
	hex, err := colourOf(values["colour"])
	if err != nil {
		return t, fmt.Errorf("%s: %w", printable(t.Name), err)
	}
	t.Colour = hex
	if v := strings.TrimSpace(values["weight"]); v != "" {
		if err := (numberFlag{&t.Weight, 1, 1000, "number"}).Set(v); err != nil {
			return t, fmt.Errorf("%s: weight: %w", printable(t.Name), err)
		}
	}
	if v := strings.TrimSpace(values["left"]); v != "" {
		var left float64
		if err := (numberFlag{&left, 0, 1e6, "metres"}).Set(v); err != nil {
			return t, fmt.Errorf("%s: left: %w", printable(t.Name), err)
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
	return "", fmt.Errorf("colour %q%s; expected #rrggbb, or words such as dark teal", printable(text), words.DidYouMean(text, words.ColourWords()))
}

// readThreads reads a thread box from a CSV whose first line names the columns.
func readThreads(path string) ([]report.OwnThread, error) {
	text, err := readSmall(path, maxSettingsBytes, "a thread box")
	if err != nil {
		return nil, fmt.Errorf("thread box %s: %w", path, err)
	}
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

// openBox fills in the threads of the box: those of the settings file and those of
// the CSV that it, or a flag, names.
func (in *inputFlags) openBox() error {
	in.settings.Threads = slices.Clone(in.ownThreads)
	path := in.threadBox
	if path == "" || path == "none" {
		return nil
	}
	if from := in.from["thread-box"]; from != flagSource && from != "" && !filepath.IsAbs(path) {
		file, _, _ := cutLast(from, ":")
		path = filepath.Join(filepath.Dir(file), path)
	}
	all, err := readThreads(path)
	in.settings.Threads = append(in.settings.Threads, all...)
	seen := map[string]bool{}
	for _, t := range in.settings.Threads {
		if name := strings.ToLower(t.Name); err == nil && seen[name] {
			err = fmt.Errorf("thread box %s: there are two threads called %q; give each its own name", path, printable(t.Name))
		} else {
			seen[name] = true
		}
	}
	return err
}

func cutLast(s, sep string) (before, after string, ok bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// printBox writes the threads of the settings file as tables of one.
func (in *inputFlags) printBox(w io.Writer) {
	for _, t := range in.ownThreads {
		fmt.Fprintf(w, "\n[[thread]]\nname = %s\ncolour = %q\n", quoted(t.Name), t.Colour)
		if t.Weight > 0 {
			fmt.Fprintf(w, "weight = %s\n", plain(t.Weight))
		}
		if t.LeftM != nil {
			fmt.Fprintf(w, "left = %s # metres\n", strconv.FormatFloat(*t.LeftM, 'f', -1, 64))
		}
	}
}
