package stitchfile

import (
	"fmt"
	"sort"
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

	cuts cuts
}

// newAssembler starts a design of at most records moves; the capacity must
// come from the bytes at hand, not from a header. There is room for derived cuts besides,
// of which few designs have more than one in thirty-two records.
func newAssembler(records int) assembler {
	return assembler{d: &Design{Claims: NoClaims, Moves: make([]Move, 0, records+records/32+8)}}
}

// move appends a move of the given kind by dx, dy. It reports false, and adds
// nothing, when the position would leave the range a design can have.
func (a *assembler) move(k Kind, m Mark, dx, dy int32) bool {
	x, y := a.x+dx, a.y+dy
	if x > maxCoord || x < -maxCoord || y > maxCoord || y < -maxCoord {
		return false
	}
	a.x, a.y = x, y
	a.d.Moves = append(a.d.Moves, Move{X: x, Y: y, Kind: k, Mark: m})
	return true
}

// here appends a move of the given kind at the present position.
func (a *assembler) here(k Kind, m Mark) {
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

// finish closes the design with an End move, puts in the cuts that are derived, orders
// the warnings by offset and hands the design over.
func (a *assembler) finish() *Design {
	if n := len(a.d.Moves); n == 0 || a.d.Moves[n-1].Kind != End {
		a.here(End, 0)
	}
	a.cuts.insert(a.d)
	sort.SliceStable(a.d.Warnings, func(i, j int) bool { return a.d.Warnings[i].Offset < a.d.Warnings[j].Offset })
	if a.unsaid > 0 {
		last := a.d.Warnings[len(a.d.Warnings)-1].Offset
		a.d.Warnings = append(a.d.Warnings, Warning{Offset: last, Message: fmt.Sprintf("%d more warnings of this file are left out", a.unsaid)})
	}
	return a.d
}
