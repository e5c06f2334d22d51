package notes

import (
	"fmt"
	"strings"
)

// Notes is one notes file. The zero value says nothing.
type Notes struct {
	Path   string // where it was read from, for messages
	Title  string // what to call the design; empty: nothing said
	Stops  []Stop
	Pieces []Piece
	Design *Design // what it was written for; nil: for any design it is laid beside
}

// Stop is what is said of one colour stop.
type Stop struct {
	Number int    // as in the design that the file was written for, from 1
	Role   string // one of report.Roles; empty: nothing said
	Thread string // a name out of the thread box, or free text
	Note   string // a remark
	Line   int    // of the file
}

// Piece is what is said of one applique piece.
type Piece struct {
	Number   int         // as in a report made with the stops' roles as noted, from 1; 0 where AtMM tells
	AtMM     *[2]float64 // middle of the box round it, as in reports; nil where Number tells
	Applique bool        // false: it is only a line, no cloth is laid
	Cloth    string      // what to cut it from
	Note     string      // a remark
	Line     int
}

// Design is what a notes file was written for.
type Design struct {
	Sign   Sign
	ReadAs []string // roles that were inferred for its stops: what still says so is not the person's
	Line   int
}

// Extension is the end of a notes file's name: NAME.notes.toml lies beside NAME.dst.
const Extension = ".notes.toml"

// Error is something wrong in a notes file.
type Error struct {
	Path     string
	Line     int    // 0 for none
	Problem  string // what stands there
	Expected string // what was expected
}

// Error gives file, line, what is wrong and what was expected.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.Path)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	b.WriteString(e.Problem)
	if e.Expected != "" {
		b.WriteString("; expected ")
		b.WriteString(e.Expected)
	}
	return b.String()
}
