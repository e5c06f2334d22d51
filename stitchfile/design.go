package stitchfile

import "image/color"

// Kind is what a Move does.
type Kind uint8

const (
	Stitch     Kind = iota // needle goes down at X, Y
	Jump                   // frame moves to X, Y with the needle up
	Trim                   // thread is cut at X, Y
	ColourStop             // machine waits: thread change or plain halt
	End                    // design is over
)

var kindNames = [...]string{"stitch", "jump", "trim", "colour stop", "end"}

// String gives the kind in words: "stitch", "jump", "trim", "colour stop" or
// "end".
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "unknown kind"
}

// Mark holds what a format tells about a Move beyond its Kind.
type Mark uint8

const (
	// MarkHalt on a ColourStop: a plain halt, the same thread goes on.
	// Most formats cannot tell it from a thread change and never set it.
	MarkHalt Mark = 1 << iota
	// MarkDerived on a Trim: the file holds no such record; it was worked
	// out from a run of jumps.
	MarkDerived
	// MarkSequin on a Jump: a sequin is dropped here.
	MarkSequin
	// MarkLong on a Jump: the file does not say whether this long move is
	// sewn; it was taken as unsewn.
	MarkLong
	// MarkUnsure on a derived Trim: the way there takes so many jumps whether a
	// cut is meant or not, so it depends on the machine's setting.
	MarkUnsure
)

// Move is one step of the machine, in absolute coordinates of 0.1 mm, X to the
// right and Y up (away from the person at the machine).
type Move struct {
	X, Y int32
	Kind Kind
	Mark Mark
}

// Thread is the thread of one colour block. Its zero value is a thread of
// which the file says nothing.
type Thread struct {
	Colour      color.RGBA // opaque, or all zero where the file has no colour
	Index       int        // palette or needle number in the file; 0 if none
	Name        string     // description, as the file spells it
	Catalogue   string     // catalogue number, as the file spells it
	Maker       string     // maker or chart, as the file spells it
	WeightClass int        // weight number (40 for 40 wt); 0 if none
}

// HasColour reports whether the file gave this thread a colour.
func (t Thread) HasColour() bool { return t.Colour.A != 0 }

// Hoop is a hoop field that a file asks for, in millimetres.
type Hoop struct {
	Width, Height float64
}

// Field is one piece of text or one figure that a file carries beside its
// stitches, such as an author or a date, under a plain English name.
type Field struct {
	Name, Value string
}

// Claims are the figures that a file's header states about itself. They are
// kept to be compared, never relied on. A negative value means "not stated".
type Claims struct {
	Records     int // moves of every kind that the header counts, End apart
	Stitches    int // needle penetrations
	ColourStops int // changes between blocks, one fewer than the blocks
	Width       int // 0.1 mm
	Height      int // 0.1 mm
}

// NoClaims is the Claims of a format whose header states nothing.
var NoClaims = Claims{Records: -1, Stitches: -1, ColourStops: -1, Width: -1, Height: -1}

// Warning is something odd that did not prevent reading.
type Warning struct {
	Offset  int64  // byte offset in the file
	Message string // what was odd, and what was done about it
}

// Design is one embroidery design as a machine would sew it. The zero value
// is an empty design.
type Design struct {
	Format   string // name of the format, such as "DST"
	Name     string // name inside the file; not the file's own name
	Comments string // notes inside the file
	Fields   []Field
	Hoop     Hoop // zero where the file asks for none
	Threads  []Thread
	Moves    []Move
	Claims   Claims
	Records  int // read, of the kind that Claims.Records counts; 0 where those are the Moves
	Warnings []Warning

	// Damage is the error that came beside a design which could be read only in
	// part; nil where it was read whole.
	Damage error

	// Whole says whether the reader is sure that the design is all there, and
	// WholeReasons why.
	Whole        Wholeness
	WholeReasons []string
}

// Thread returns the thread of colour block i, counted from 0; every
// ColourStop move starts a new block. Blocks past the end of Threads have the
// zero Thread.
func (d *Design) Thread(i int) Thread {
	if i < 0 || i >= len(d.Threads) {
		return Thread{}
	}
	return d.Threads[i]
}

// Counts are the numbers of moves of each kind in a design.
type Counts struct {
	Stitches, Jumps, Trims, ColourStops int
}

// Counts counts the moves by kind, as they stand in Moves. A trim that stands
// beside a colour stop is counted here; package analyse tells which of them
// are cuts between two sewn parts.
func (d *Design) Counts() Counts {
	var n [End + 1]int
	for _, m := range d.Moves {
		if m.Kind <= End {
			n[m.Kind]++
		}
	}
	return Counts{Stitches: n[Stitch], Jumps: n[Jump], Trims: n[Trim], ColourStops: n[ColourStop]}
}

// Box is a rectangle in 0.1 mm, both corners inclusive.
type Box struct {
	MinX, MinY, MaxX, MaxY int32
}

// Width is the box's extent along X in 0.1 mm.
func (b Box) Width() int64 { return int64(b.MaxX) - int64(b.MinX) }

// Height is the box's extent along Y in 0.1 mm.
func (b Box) Height() int64 { return int64(b.MaxY) - int64(b.MinY) }

// Bounds is the box around all needle penetrations. Travel with the needle up
// does not count. It is the zero Box, and ok is false, when nothing is sewn.
func (d *Design) Bounds() (b Box, ok bool) {
	for _, m := range d.Moves {
		if m.Kind != Stitch {
			continue
		}
		if !ok {
			b, ok = Box{m.X, m.Y, m.X, m.Y}, true
			continue
		}
		b.MinX, b.MaxX = min(b.MinX, m.X), max(b.MaxX, m.X)
		b.MinY, b.MaxY = min(b.MinY, m.Y), max(b.MaxY, m.Y)
	}
	return b, ok
}
