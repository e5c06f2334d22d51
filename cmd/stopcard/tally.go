package main

import (
	"fmt"
	"io"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// tally counts what a run over many designs came to.
type tally struct {
	designs    int
	findings   map[report.Severity]int
	touched    int // designs with a finding
	unreadable []report.Unreadable
	partly     int
	passed     int // other files, in folders and packs
	stopped    bool
	total      int // designs there would have been; 0: not known
}

func (t *tally) count(r *report.Report) {
	t.designs++
	for _, f := range r.Findings {
		t.findings[f.Severity]++
	}
	if len(r.Findings) > 0 {
		t.touched++
	}
}

// print sums up.
func (t *tally) print(w io.Writer) {
	switch {
	case t.designs > 0 && t.touched == 0:
		fmt.Fprintf(w, "%s: nothing found\n", words.Count(t.designs, "design"))
	case t.designs > 0:
		fmt.Fprintf(w, "%s: %s, %s and %s, in %d of them\n", words.Count(t.designs, "design"), words.Count(t.findings[report.Fault], "fault"),
			words.Count(t.findings[report.Caution], "warning"), words.Count(t.findings[report.Note], "note"), t.touched)
	}
	if t.partly > 0 {
		fmt.Fprintf(w, "%s could be read only in part\n", words.Count(t.partly, "design"))
	}
	if t.passed > 0 {
		fmt.Fprintf(w, "%s passed over: no stitch files\n", words.Count(t.passed, "other file"))
	}
	if n := len(t.unreadable); n > 0 {
		fmt.Fprintf(w, "%s could not be read:\n", words.Count(n, "file"))
		for _, u := range t.unreadable {
			fmt.Fprintf(w, "  %s\n", printable(u.Path))
		}
	}
}
