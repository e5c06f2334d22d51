package render

import (
	"fmt"
	"io"

	"github.com/stopcard/stopcard/analyse/report"
)

// documentIndent stands before each line of a design in a document.
const documentIndent = "    "

// DocumentWriter writes a report.Document design by design, so that none need be
// kept. Errors of writing show at the end.
type DocumentWriter struct {
	w        io.Writer
	settings report.Settings
	designs  int
	err      error
}

// NewDocument begins a document of designs measured with the settings.
func NewDocument(w io.Writer, s report.Settings) *DocumentWriter {
	return &DocumentWriter{w: w, settings: s}
}

// EncodeReport is a report as JSON, as a document takes it. Several may be made at a
// time.
func EncodeReport(r *report.Report) ([]byte, error) {
	return report.EncodeJSON(r, documentIndent, "  ")
}

// Design adds a report that EncodeReport made.
func (d *DocumentWriter) Design(text []byte) {
	if d.designs == 0 {
		d.head()
	} else {
		d.printf(",")
	}
	d.designs++
	d.printf("\n%s%s", documentIndent, text)
}

func (d *DocumentWriter) head() {
	settings, err := report.EncodeJSON(d.settings, "  ", "  ")
	if err != nil {
		settings = []byte("null") // settings are finite numbers, checked when they were set
	}
	d.printf("{\n  \"schema\": %q,\n  \"settings\": %s,\n  \"designs\": [", report.Schema, settings)
}

// End closes the document: complete is false where it was stopped before every file
// was read. It gives the first error of writing.
func (d *DocumentWriter) End(unreadable []report.Unreadable, complete bool) error {
	if d.designs == 0 {
		d.head()
	} else {
		d.printf("\n  ")
	}
	list, err := report.EncodeJSON(append([]report.Unreadable{}, unreadable...), "  ", "  ")
	if err != nil {
		list = []byte("[]") // texts always encode
	}
	d.printf("],\n  \"unreadable\": %s,\n  \"complete\": %t\n}\n", list, complete)
	return d.err
}

func (d *DocumentWriter) printf(format string, args ...any) {
	if d.err == nil {
		_, d.err = fmt.Fprintf(d.w, format, args...)
	}
}
