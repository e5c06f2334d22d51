package main

import (
	"fmt"
	"io"

	"github.com/stopcard/stopcard/analyse/report"
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
	fmt.Fprintf(w, "%s: %s, %s and %s, in %s\n", plural(t.designs, "design"), plural(t.findings[report.Fault], "fault"),
		plural(t.findings[report.Caution], "warning"), plural(t.findings[report.Note], "note"), plural(t.touched, "design"))
	if t.partly > 0 {
		fmt.Fprintf(w, "%s could be read only in part\n", plural(t.partly, "design"))
	}
	if t.passed > 0 {
		fmt.Fprintf(w, "%s passed over: no stitch files\n", plural(t.passed, "other file"))
	}
	if n := len(t.unreadable); n > 0 {
		fmt.Fprintf(w, "%s could not be read:\n", plural(n, "file"))
		for _, u := range t.unreadable {
			fmt.Fprintf(w, "  %s\n", printable(u.Path))
		}
	}
}
