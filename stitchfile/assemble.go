package stitchfile

import (
	"fmt"
	"slices"
)

const (
	// maxCoord bounds every coordinate, in 0.1 mm. A hundred metres is past
	// any frame, and leaves room to add deltas without overflow.
	maxCoord = 1_000_000
	// maxWarnings bounds what a hostile file can make us say.
	maxWarnings = 64
)

// assembler gathers moves into a Design while a format is read. Deltas come
// with Y up; formats that count down negate theirs.
type assembler struct {
	d      *Design
	x, y   int32
	unsaid int // warnings past maxWarnings

	cutAfter int  // jumps in a row that stand for a cut; 0: the format has a record of its own
	run      int  // jumps since the last move of another kind
	sewn     bool // since the last colour stop
}

// deriveCuts has cuts worked out from runs of jumps: for formats without a record of
// their own. Some machines sew across such a run all the same.
func (a *assembler) deriveCuts(dec *Decoder) { a.cutAfter = max(dec.trimJumps(), 0) }

// follow keeps count of jumps in a row, and inserts the cut before a run of them that
// leads from one sewn part to another. It is told each move before it is appended.
func (a *assembler) follow(k Kind, m Mark) {
	switch {
	case k == Stitch:
		if a.cutAfter > 0 && a.run >= a.cutAfter && a.sewn {
			a.cutBefore(a.run)
		}
		a.run, a.sewn = 0, true
	case k == Jump && m&MarkSequin == 0:
		a.run++
	case k == ColourStop:
		a.run, a.sewn = 0, false
	default:
		a.run = 0
	}
}

// newAssembler starts a design of at most records moves; the capacity must
// come from the bytes at hand, not from a header.
func newAssembler(records int) assembler {
	return assembler{d: &Design{Claims: NoClaims, Moves: make([]Move, 0, records+1)}}
}

// move appends a move of the given kind by dx, dy. It reports false, and adds
// nothing, when the position would leave the range a design can have.
func (a *assembler) move(k Kind, m Mark, dx, dy int32) bool {
	x, y := a.x+dx, a.y+dy
	if x > maxCoord || x < -maxCoord || y > maxCoord || y < -maxCoord {
		return false
	}
	a.x, a.y = x, y
	a.follow(k, m)
	a.d.Moves = append(a.d.Moves, Move{X: x, Y: y, Kind: k, Mark: m})
	return true
}

// here appends a move of the given kind at the present position.
func (a *assembler) here(k Kind, m Mark) {
	a.follow(k, m)
	a.d.Moves = append(a.d.Moves, Move{X: a.x, Y: a.y, Kind: k, Mark: m})
}

// warn keeps a warning, up to maxWarnings of them.
func (a *assembler) warn(offset int, format string, args ...any) {
	if len(a.d.Warnings) >= maxWarnings {
		a.unsaid++
		return
	}
	a.d.Warnings = append(a.d.Warnings, Warning{Offset: int64(offset), Message: fmt.Sprintf(format, args...)})
}

// finish closes the design with an End move, orders the warnings by offset and
// hands the design over.
func (a *assembler) finish() *Design {
	if n := len(a.d.Moves); n == 0 || a.d.Moves[n-1].Kind != End {
		a.here(End, 0)
	}
	slices.SortStableFunc(a.d.Warnings, func(p, q Warning) int { return int(p.Offset - q.Offset) })
	if a.unsaid > 0 {
		last := a.d.Warnings[len(a.d.Warnings)-1].Offset
		a.d.Warnings = append(a.d.Warnings, Warning{Offset: last, Message: fmt.Sprintf("%d more warnings of this file are left out", a.unsaid)})
	}
	return a.d
}

// cutBefore inserts a derived Trim before the last n moves, which are the jumps
// of one travel. Each move shifts at most once, so the work stays linear.
func (a *assembler) cutBefore(n int) {
	at := len(a.d.Moves) - n
	from := a.d.Moves[at-1]
	a.d.Moves = slices.Insert(a.d.Moves, at, Move{X: from.X, Y: from.Y, Kind: Trim, Mark: MarkDerived})
}
