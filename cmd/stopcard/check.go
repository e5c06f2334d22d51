package main

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/rivo/uniseg"
	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
)

var checkVerb = verb{
	name:    "check",
	args:    "FILE...",
	doc:     "findings and key figures",
	example: "stopcard check --hoop 130x180 block.dst",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var c checker
		c.in.add(f)
		c.in.addSetting(f, "fail-on")
		f.BoolVar(&c.brief, "brief", false, "one row for each design")
		f.BoolVar(&c.json, "json", false, "print one JSON document instead of text")
		f.BoolVar(&c.lines, "lines", false, "print a JSON document a line for each design, as soon as it is read")
		return c.run
	},
}

// checker is one run of check.
type checker struct {
	in                 inputFlags
	brief, json, lines bool
}

// checked is what a worker hands over: the text to print and the exit status.
type checked struct {
	text   []byte
	row    *hooped // of a brief table with a hoop, which is written when all are read
	err    error
	status int
}

func (c *checker) run(s *session, paths []string) int {
	if err := c.usage(); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	collectSeldom()
	var doc *render.DocumentWriter
	if c.json && len(paths) > 0 {
		doc = render.NewDocument(s.stdout, c.in.Settings)
	}
	shown := 0
	var rows []*hooped
	take := func(got *input, out checked) int {
		switch {
		case out.err != nil:
			s.complain("%s: the report cannot be written: %v", got.path, out.err)
			return exitUnreadable
		case doc != nil:
			doc.Design(out.text)
		default:
			if out.row != nil {
				rows = append(rows, out.row)
				break
			}
			if c.brief && shown == 0 {
				s.layout(&c.in).briefHead(s.stdout, s.width(), false)
			}
			s.stdout.Write(out.text)
		}
		shown++
		return out.status
	}
	miss := func(u report.Unreadable) {
		if c.lines {
			writeJSON(s.stdout, c.document(nil, []report.Unreadable{u}), "")
		}
	}
	status, t := batch(&c.in, s, paths, func(got *input) checked { return c.look(s, got) }, take, miss)
	writeHooped(s, s.layout(&c.in), rows)
	switch {
	case status == exitUsage:
	case doc != nil:
		doc.End(t.unreadable, !t.stopped)
	case !c.lines && t.designs+len(t.unreadable) > 1:
		t.print(s.stdout)
	}
	return status
}

func (c *checker) usage() error {
	forms := 0
	for _, f := range []bool{c.brief, c.json, c.lines} {
		if f {
			forms++
		}
	}
	if forms > 1 {
		return fmt.Errorf("check: --brief, --json and --lines exclude one another")
	}
	return nil
}

// document is the JSON of one design of a run. It is complete if the design is.
func (c *checker) document(designs []*report.Report, unreadable []report.Unreadable) report.Document {
	complete := len(unreadable) == 0
	for _, r := range designs {
		complete = complete && r.Damage == nil && r.Whole != string(stitchfile.NotWhole)
	}
	return report.Document{Schema: report.Schema, Settings: c.in.Settings, Complete: complete,
		Designs: append([]*report.Report{}, designs...), Unreadable: append([]report.Unreadable{}, unreadable...)}
}

// look runs in the worker.
func (c *checker) look(s *session, got *input) (out checked) {
	r := got.report
	for _, f := range r.Findings {
		if f.Severity.AtLeast(report.Severity(c.in.FailOn)) {
			out.status = exitFindings
		}
	}
	var text bytes.Buffer
	switch {
	case c.json:
		out.text, out.err = render.EncodeReport(r)
		got.slim(len(out.text))
		return out
	case c.lines:
		out.err = writeJSON(&text, c.document([]*report.Report{r}, nil), "")
	case c.brief:
		if hoop := (words.Hoop{WidthMM: c.in.Settings.HoopWidthMM, HeightMM: c.in.Settings.HoopHeightMM}); hoop.Given() {
			out.row = &hooped{report: slimRow(r), sign: match.Sign(got.known, r), hoop: hoop}
			return out
		}
		s.layout(&c.in).briefRow(&text, s.width(), s.columns > 0, r, "")
	default:
		l := s.layout(&c.in)
		l.chosen = len(c.in.Settings.Only)+len(c.in.Settings.Skip) > 0
		l.report(&text, r)
	}
	out.text = text.Bytes()
	got.slim(len(out.text))
	return out
}

// briefHead and briefRow write a table with a row for each design. Paths are cut
// to fit a screen, but never for another program.
func (l layout) briefHead(w io.Writer, width int, hoop bool) {
	column := ""
	if hoop {
		column = pad("hoop", hoopColumn)
		width -= hoopColumn + 1
	}
	fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("%s %13s %8s %5s %9s  %s", pad("design", width-briefRest), l.sizeHead(), "stitches", "stops", "sew+hands", strings.TrimLeft(column+" findings", " ")), " "))
}

// briefRest is the width of all columns but that of the design.
const briefRest = 50

// hoopColumn is the width of the column that says what fits.
const hoopColumn = 13

func (l layout) briefRow(w io.Writer, width int, screen bool, r *report.Report, hoop string) {
	var n [3]int
	for _, f := range r.Findings {
		n[slices.Index(severities, f.Severity)]++
	}
	var found []string
	for i, s := range severities {
		if n[i] > 0 {
			found = append(found, fmt.Sprintf("%d%c", n[i], s[0]))
		}
	}
	if found == nil {
		found = []string{"none"}
	}
	if hoop != "" {
		found = append([]string{pad(hoop, hoopColumn)}, found...)
		width -= hoopColumn + 1
	}
	path := printable(r.Path)
	if screen {
		path = padEnd(path, width-briefRest)
	}
	size := fmt.Sprintf("%5.1f x %5.1f", r.WidthMM, r.HeightMM)
	if l.units == words.Inches {
		size = l.sizeCell(r.WidthMM, r.HeightMM)
	}
	times := fmt.Sprintf("%.0f+%.0f min", r.MachineMin, r.Minutes-r.MachineMin)
	fmt.Fprintf(w, "%s %13s %8d %5d %9s  %s\n", pad(path, max(width-briefRest, uniseg.StringWidth(path))), size, r.Stitches, r.ColourStops, times, strings.Join(found, " "))
}

var severities = []report.Severity{report.Fault, report.Caution, report.Note}
