package report

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
)

// Resizing is looked at between these scales. Machines offer less, mostly 80 to
// 120 % (common practice, no single source).
const (
	ResizeFrom = 0.5
	ResizeTo   = 2.0
)

// Direction is which way a design is resized.
type Direction string

const (
	Growing   Direction = "growing"   // made larger
	Shrinking Direction = "shrinking" // made smaller
)

// End is the last scale looked at.
func (d Direction) End() float64 {
	if d == Growing {
		return ResizeTo
	}
	return ResizeFrom
}

// Beyond reports whether scale a lies further from 1 than b.
func (d Direction) Beyond(a, b float64) bool {
	if d == Growing {
		return a > b
	}
	return a < b
}

// Resize is how far a design may be scaled with its stitch count kept: between
// these scales every check that passes on the design as it is still passes. A check
// that fails already closes nothing; it is among the limits with Already set. Where
// nothing limits a direction they are ResizeFrom and ResizeTo, the ends of what was
// searched.
type Resize struct {
	Smallest float64       `json:"smallest"` // scale; 1 is the design as it is
	Largest  float64       `json:"largest"`
	Limits   []ResizeLimit `json:"limits"` // growing first; in each direction what is so already, then the nearest to 1

	// Recalculated says in words what a machine needs that makes stitches anew for a
	// size; empty where no spacing could be measured.
	Recalculated string `json:"recalculated"`
}

// ResizeLimit is one reason not to scale any further. Now, Measured and Limit are
// one figure: as the design is, just past the scale, and what it is held against.
type ResizeLimit struct {
	Direction Direction   `json:"direction"`
	Scale     float64     `json:"scale"` // the last at which the check passes
	Rule      string      `json:"rule"`
	Name      string      `json:"name"`  // of the limit, see Limits; the rule's id where it has only one
	Stop      int         `json:"stop"`  // 0 for the whole design
	Piece     int         `json:"piece"` // number of the applique piece; 0 where it is of none
	Now       float64     `json:"now"`
	Measured  float64     `json:"measured"`
	Limit     float64     `json:"limit"`
	Unit      string      `json:"unit"`
	AtMM      *geom.Place `json:"at_mm"`   // on the design as it is
	Already   bool        `json:"already"` // fails as it is, and worse further on; Scale is 1 and closes nothing
	Reason    string      `json:"reason"`  // in plain words
}

// Percents are the smallest and the largest scale in whole percents, as machines
// take them: rounded towards 100, so that what is written passes when it is tried.
func (z *Resize) Percents() (smallest, largest int) {
	return WholePercent(z.Smallest, Shrinking), WholePercent(z.Largest, Growing)
}

// WholePercent rounds a scale to whole percents, towards 100, so that what is written
// does not lie past a limit.
func WholePercent(scale float64, d Direction) int {
	const exact = 1e-9 // what arithmetic leaves of a whole percent
	if d == Shrinking {
		return int(math.Ceil(100*scale - exact))
	}
	return int(math.Floor(100*scale + exact))
}

// ResizeEffect is what becomes of a design at another size with its stitch count
// kept.
type ResizeEffect struct {
	Scale    float64 `json:"scale"`
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
	Stitches int     `json:"stitches"`      // kept
	Anew     int     `json:"stitches_anew"` // about what it would have if it were digitised anew for this size

	Changes []FindingChange `json:"changes"` // what becomes worse first
	Nearer  *OtherSize      `json:"nearer"`  // size among the files read that is nearer to this one; nil for none
}

// Change says what becomes of a finding.
type Change string

const (
	Appears  Change = "appears"   // there is no such finding as it is
	Worsens  Change = "worsens"   // its measure lies further past the limit
	Eases    Change = "eases"     // its measure lies less far past the limit
	GoesAway Change = "goes away" // there is no such finding at the new size
)

// FindingChange is a finding before and after resizing.
type FindingChange struct {
	Change Change   `json:"change"`
	Rule   string   `json:"rule"`
	Stop   int      `json:"stop"`
	Piece  int      `json:"piece"`  // number of the applique piece; 0 where it is of none
	Before *Finding `json:"before"` // nil where it appears
	After  *Finding `json:"after"`  // nil where it goes away
}

// OtherSize is a size of the same design that another file holds.
type OtherSize struct {
	Path     string  `json:"path"`
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
	Verdict  Verdict `json:"verdict"`
	Scale    float64 `json:"scale"` // by which it would still have to be resized; 1 where it is the size wanted
	Holds    bool    `json:"holds"` // that is within what holds of it today
}

// Verdict says how a size of a design was made.
type Verdict string

const (
	OnlySize      Verdict = "only size"      // there is nothing to compare it to
	Reference     Verdict = "reference"      // the others are compared to it
	DigitisedAnew Verdict = "digitised anew" // spacing as in the reference, stitches for its size
	StretchedCopy Verdict = "stretched copy" // spacing goes with the size
	Unclear       Verdict = "unclear"        // some spacing kept, some not, or none to measure
)
