package stitchfile

import "fmt"

// Wholeness tells whether a reader is sure that it saw a whole design.
type Wholeness string

// What a reader can say. The zero Wholeness says that nobody asked.
const (
	Whole      Wholeness = "yes"         // what must stand there does: a count, an end where it must be
	NotWhole   Wholeness = "no"          // something is missing, or too much
	CannotTell Wholeness = "cannot tell" // the format has nothing to go by
)

// speaks keeps a reason to believe that the design is whole, unless something tells that
// it is not.
func (a *assembler) speaks(format string, args ...any) {
	if a.d.Whole == NotWhole {
		return
	}
	a.d.WholeReasons = append(a.d.WholeReasons, fmt.Sprintf(format, args...))
	if a.d.Whole == "" {
		a.d.Whole = Whole
	}
}

// speaksAtLast is speaks where nothing better has spoken.
func (a *assembler) speaksAtLast(reason string) {
	if a.d.Whole == "" {
		a.speaks("%s", reason)
	}
}

// doubts keeps a reason to believe that it is not, and warns of it.
func (a *assembler) doubts(offset int, format string, args ...any) {
	a.warn(offset, format, args...)
	if a.d.Whole != NotWhole {
		a.d.WholeReasons = nil // what speaks for it does not count any more
	}
	a.d.Whole = NotWhole
	a.d.WholeReasons = append(a.d.WholeReasons, fmt.Sprintf(format, args...))
}

// settleWhole closes the question: err is what came beside the design.
func (d *Design) settleWhole(err error) {
	switch {
	case err != nil:
		d.Whole, d.WholeReasons = NotWhole, []string{err.Error()}
	case d.Whole == "":
		d.Whole, d.WholeReasons = CannotTell, []string{d.Format + " files tell neither how many stitches they hold nor where they must end"}
	}
}
