package report

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
