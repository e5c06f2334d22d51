package stitchfile

import (
	"errors"
	"fmt"
)

// tellRead adds to the error beside a partly read design how much was read, and
// of how much where the header says so. What a format's reader knows stays first.
func tellRead(d *Design, err error) {
	var fe *FormatError
	if !errors.As(err, &fe) {
		return
	}
	n, c := d.Counts(), d.Claims
	said := fmt.Sprintf("%d stitches were read", n.Stitches)
	switch {
	case c.Stitches >= 0:
		said = fmt.Sprintf("%d of the %d stitches that the header counts were read", n.Stitches, c.Stitches)
	case c.Records >= 0:
		said += fmt.Sprintf(", %d of the %d records that the header counts", records(d), c.Records)
	}
	if c.ColourStops > n.ColourStops {
		said += fmt.Sprintf(", in %d of %d colour blocks", n.ColourStops+1, c.ColourStops+1)
	}
	if fe.Detail != "" {
		said = fe.Detail + "; " + said
	}
	fe.Detail = said
}

// records is how many moves of d stand in its file, End apart.
func records(d *Design) int {
	n := 0
	for _, m := range d.Moves {
		if m.Kind != End && m.Mark&MarkDerived == 0 {
			n++
		}
	}
	return n
}
