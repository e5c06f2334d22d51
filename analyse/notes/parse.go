package notes

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

const (
	// MaxBytes bounds a notes file; a real one has a few thousand bytes.
	MaxBytes = 1 << 20

	maxText = 500 // letters of a title, a name or a remark
)

// The keys of a notes file, by table.
var keys = map[string][]string{
	"":       {"title", "stop", "piece", "design"},
	"stop":   {"number", "role", "thread", "note"},
	"piece":  {"number", "at_mm", "applique", "cloth", "note"},
	"design": {"sign", "read_as"},
}

// Parse reads a notes file. The path is for messages. Every error is an *Error.
func Parse(path string, text []byte) (*Notes, error) {
	p := parser{path: path, notes: &Notes{Path: path}}
	if len(text) > MaxBytes {
		return nil, p.wrong(0, fmt.Sprintf("%d bytes are too many for notes", len(text)), fmt.Sprintf("no more than %d", MaxBytes))
	}
	tables, err := p.tables(bytes.TrimPrefix(text, []byte("\ufeff")))
	if err != nil {
		return nil, err
	}
	for i := range tables {
		if err := p.table(&tables[i]); err != nil {
			return nil, err
		}
	}
	return p.notes, p.twice()
}

type parser struct {
	path  string
	notes *Notes
}

func (p *parser) wrong(line int, problem, expected string) error {
	return &Error{Path: p.path, Line: line, Problem: problem, Expected: expected}
}

// table is one table of the file, or what stands before the first.
type table struct {
	name   string
	line   int
	values map[string]any
	lines  map[string]int // of its keys
}

// tables cuts the file into tables with the lines of their keys.
func (p *parser) tables(text []byte) ([]table, error) {
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return nil, p.wrong(0, "this is saved as UTF-16", "UTF-8: choose it where your editor saves")
	}
	places, few := placesOf(text)
	if !few {
		return nil, p.wrong(0, "there are too many tables or keys for notes", fmt.Sprintf("no more than %d tables, with as many keys each", mostKeys))
	}
	var values map[string]any
	if err := toml.Unmarshal(text, &values); err != nil {
		return nil, p.unreadable(err)
	}
	top := table{values: values, lines: map[string]int{}}
	heads := map[string][]int{}
	inner := map[string][]placed{}
	for _, k := range places {
		if len(k.key) > 1 {
			inner[k.key[0]] = append(inner[k.key[0]], k)
		}
		if len(k.key) == 1 || len(heads[k.key[0]]) == 0 {
			top.lines[k.key[0]] = k.line
			heads[k.key[0]] = append(heads[k.key[0]], k.line)
		}
	}
	out := []table{top}
	for _, name := range []string{"design", "stop", "piece"} {
		v, ok := values[name]
		if !ok {
			continue
		}
		delete(values, name)
		var all []any
		if name == "design" {
			all = []any{v}
		} else if all, ok = v.([]any); !ok {
			return nil, p.wrong(top.lines[name], fmt.Sprintf("%s is no list of tables", name), fmt.Sprintf("[[%s]] in double brackets, once for each", name))
		}
		first := len(out)
		for i, v := range all {
			line := heads[name][min(i, len(heads[name])-1)]
			m, ok := v.(map[string]any)
			if !ok {
				return nil, p.wrong(line, fmt.Sprintf("%s is no table", name), "[design], [[stop]] and [[piece]] with their keys below")
			}
			out = append(out, table{name: name, line: line, values: m, lines: map[string]int{}})
		}
		for _, k := range inner[name] {
			if k.of < len(all) {
				out[first+k.of].lines[k.key[1]] = k.line
			}
		}
	}
	return out, nil
}

// unreadable tells of text that is no TOML.
func (p *parser) unreadable(err error) error {
	line := 0
	var at *toml.DecodeError
	if errors.As(err, &at) {
		line, _ = at.Position()
	}
	return p.wrong(line, words.TOMLWords(err), `lines such as number = 3 and note = "a remark" (TOML)`)
}

// table takes what one table says.
func (p *parser) table(t *table) error {
	known := keys[t.name]
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if !slices.Contains(known, key) {
			return p.wrong(t.at(key), fmt.Sprintf("there is no key %q %s%s", printable(key), where(t.name), words.DidYouMean(key, known)), words.Or(known))
		}
	}
	r := reading{parser: p, table: t}
	switch t.name {
	case "":
		p.notes.Title = r.text("title")
	case "stop":
		s := Stop{Line: t.line, Number: r.number(), Role: r.role("role"), Thread: r.text("thread"), Note: r.text("note")}
		if s.Number == 0 && r.err == nil {
			r.wrong("", "this stop has no number", "number = 3, say")
		}
		p.notes.Stops = append(p.notes.Stops, s)
	case "piece":
		k := Piece{Line: t.line, Number: r.number(), AtMM: r.place("at_mm"), Applique: r.yes("applique"), Cloth: r.text("cloth"), Note: r.text("note")}
		if k.Number == 0 && k.AtMM == nil && r.err == nil {
			r.wrong("", "this piece has no number", "number = 2, say")
		}
		p.notes.Pieces = append(p.notes.Pieces, k)
	case "design":
		d := &Design{Line: t.line}
		sign, err := ParseSign(r.text("sign"))
		if err != nil && r.err == nil {
			r.wrong("sign", err.Error(), "the line as 'stopcard notes' wrote it")
		}
		d.Sign, d.ReadAs = sign, r.roles("read_as")
		if n := len(d.ReadAs); n > 0 && n != len(sign.Stops) && r.err == nil {
			r.wrong("read_as", fmt.Sprintf("read_as has %d roles", n), fmt.Sprintf("%d, one for each stop", len(sign.Stops)))
		}
		p.notes.Design = d
	}
	return r.err
}

// at is the line of a key, or of the table where that is not known.
func (t *table) at(key string) int {
	if l, ok := t.lines[key]; ok {
		return l
	}
	return t.line
}

func where(table string) string {
	switch table {
	case "":
		return "in notes"
	case "design":
		return "in [design]"
	}
	return "in [[" + table + "]]"
}

// reading takes values out of a table, and keeps the first error.
type reading struct {
	*parser
	*table
	err error
}

func (r *reading) wrong(key, problem, expected string) {
	if r.err == nil {
		r.err = r.parser.wrong(r.at(key), problem, expected)
	}
}

func (r *reading) text(key string) string {
	v, ok := r.values[key]
	if !ok {
		return ""
	}
	s, ok := v.(string)
	switch {
	case !ok:
		r.wrong(key, fmt.Sprintf("%s = %v is no text", key, printable(spelled(v))), key+` = "..." in quotes`)
	case key == "sign":
		return s
	case strings.IndexFunc(s, func(c rune) bool { return c == unicode.ReplacementChar || !unicode.IsPrint(c) }) >= 0:
		r.wrong(key, key+" has characters that do not show", "one line of plain text")
	case len([]rune(s)) > maxText:
		r.wrong(key, fmt.Sprintf("%s has %d characters", key, len([]rune(s))), fmt.Sprintf("no more than %d", maxText))
	}
	return strings.TrimSpace(s)
}

func (r *reading) role(key string) string { return r.checkRole(key, r.text(key)) }

func (r *reading) checkRole(key, role string) string {
	if all := report.Roles(); role != "" && !slices.Contains(all, role) {
		r.wrong(key, fmt.Sprintf("there is no role %q%s", printable(role), words.DidYouMean(role, all)), words.Or(all))
	}
	return role
}

func (r *reading) roles(key string) []string {
	v, ok := r.values[key]
	if !ok {
		return nil
	}
	list, ok := v.([]any)
	if !ok {
		r.wrong(key, key+" is no list", "the line as 'stopcard notes' wrote it, or none")
	}
	var out []string
	for _, v := range list {
		s, ok := v.(string)
		if !ok {
			r.wrong(key, fmt.Sprintf("%v is no role", printable(spelled(v))), words.Or(report.Roles()))
		}
		out = append(out, r.checkRole(key, s))
	}
	return out
}

func (r *reading) number() int {
	v, ok := r.values["number"]
	if !ok {
		return 0
	}
	n, ok := v.(int64)
	if !ok || n < 1 || n > math.MaxInt32 {
		r.wrong("number", fmt.Sprintf("number = %s", printable(spelled(v))), "a whole number from 1")
		return 1
	}
	return int(n)
}

func (r *reading) yes(key string) bool {
	v, ok := r.values[key]
	if !ok {
		return true
	}
	b, ok := v.(bool)
	if !ok {
		r.wrong(key, fmt.Sprintf("%s = %s", key, printable(spelled(v))), "true or false, without quotes")
	}
	return b
}

// place reads a place as two numbers in mm.
func (r *reading) place(key string) *[2]float64 {
	v, ok := r.values[key]
	if !ok {
		return nil
	}
	const most = 1e5
	list, ok := v.([]any)
	var at [2]float64
	if ok = ok && len(list) == 2; ok {
		for i, v := range list {
			switch v := v.(type) {
			case int64:
				at[i] = float64(v)
			case float64:
				at[i] = v
			default:
				ok = false
			}
			ok = ok && math.Abs(at[i]) <= most
		}
	}
	if !ok {
		r.wrong(key, fmt.Sprintf("%s = %s", key, printable(spelled(v))), key+" = [x, y] in mm")
		return nil
	}
	return &at
}

// twice finds a stop or a piece that stands in the file twice.
func (p *parser) twice() error {
	stops, pieces := map[int]int{}, map[int]int{}
	for _, s := range p.notes.Stops {
		if l, ok := stops[s.Number]; ok {
			return p.wrong(s.Line, fmt.Sprintf("stop %d stands here and in line %d", s.Number, l), "each stop once")
		}
		stops[s.Number] = s.Line
	}
	for _, k := range p.notes.Pieces {
		if l, ok := pieces[k.Number]; ok && k.Number > 0 {
			return p.wrong(k.Line, fmt.Sprintf("piece %d stands here and in line %d", k.Number, l), "each piece once")
		}
		pieces[k.Number] = k.Line
	}
	return nil
}

// spelled is a value as the file spells it, so that a number in quotes shows that it is.
func spelled(v any) string {
	text := words.TOMLValue(v)
	switch v.(type) {
	case string:
		return `"` + text + `"`
	case float64:
		if !strings.ContainsAny(text, ".eIN") {
			return text + ".0"
		}
	}
	return text
}

// printable is text from a file without what a terminal would obey, cut to a length
// that fits a message.
func printable(s string) string { return plainText(s, 60) }

func plainText(s string, most int) string {
	s = strings.Map(func(r rune) rune {
		if r == unicode.ReplacementChar || !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, s)
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return s
}
