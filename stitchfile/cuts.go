package stitchfile

import "slices"

// cuts works out where thread is cut in a format without a record for it: by custom a
// machine cuts at so many jumps in a row. Some machines sew across such a run all the
// same, and a long way takes so many jumps whether a cut is meant or not. So where the
// owner did not say what the machine does, the file itself is asked:
//
//   - a run of more jumps than its way needs was made longer to be a cut;
//   - jumps and a stitch that share one way evenly, and are no more than it needs, are
//     one long move, too long for a record. A file without any cut was made for a machine
//     that cuts at none, and this is none; in one with cuts it depends on the machine;
//   - other runs as long as their ways need are cuts where the file makes short runs
//     longer. Where it does not, or marks its cuts by jumps to and fro, they may be.
type cuts struct {
	after  int   // jumps in a row that stand for a cut; 0: the format has a record of its own
	reach  int32 // the longest step of a record; 0: no step is too long
	stated bool  // the owner said what the machine cuts at
}

// deriveCuts has cuts worked out from runs of jumps: for formats without a record of
// their own, whose records reach so far along each axis.
func (a *assembler) deriveCuts(dec *Decoder, reach int32) {
	a.cuts = cuts{max(dec.trimJumps(), 0), reach, dec.TrimJumps != 0}
}

// jumpRun is jumps in a row, and what the file shows them to be.
type jumpRun struct {
	first, n int
	made     runMake
}

type runMake uint8

const (
	longEnough runMake = iota // no longer than its way needs
	madeLonger                // a cut
	oneMove                   // one long move
)

// cutEvidence is how a file writes its cuts.
type cutEvidence struct {
	longer bool // by making runs longer
	shared bool // by sharing their ways with the stitch that ends them
	toFro  bool // by jumps that go to and fro
}

// sure reports whether a run so made is a cut beyond doubt.
func (e cutEvidence) sure(made runMake) bool {
	switch made {
	case madeLonger:
		return true
	case oneMove:
		return e.shared
	}
	return e.longer && !e.toFro
}

// find gives the runs of jumps that may stand for cuts, between two sewn parts of a
// colour stop, and what the file's runs tell of its ways.
func (c cuts) find(moves []Move) ([]jumpRun, cutEvidence) {
	var runs []jumpRun
	var e cutEvidence
	sewn, n := false, 0
	for i := range moves {
		m := &moves[i]
		if m.Kind == Jump && m.Mark&MarkSequin == 0 {
			n++
			continue
		}
		if n >= c.after {
			e.toFro = e.toFro || toAndFro(moves, i-n)
			if m.Kind == Stitch && sewn {
				r := jumpRun{first: i - n, n: n, made: c.judge(moves, i-n, n, &e)}
				runs = append(runs, r)
			}
		}
		n = 0
		sewn = m.Kind == Stitch || sewn && m.Kind != ColourStop
	}
	return runs, e
}

// judge tells how a run was made, which is followed by a stitch.
func (c cuts) judge(moves []Move, first, n int, e *cutEvidence) runMake {
	from := Move{}
	if first > 0 {
		from = moves[first-1]
	}
	even := evenSteps(from, moves[first:first+n+1])
	if n > c.needs(from, moves[first+n-1]) {
		e.longer = e.longer || !toAndFro(moves, first)
		e.shared = e.shared || even
		return madeLonger
	}
	if even && n < c.needs(from, moves[first+n]) {
		return oneMove
	}
	return longEnough
}

// needs is how many records a way takes.
func (c cuts) needs(from, to Move) int {
	far := max(to.X-from.X, from.X-to.X, to.Y-from.Y, from.Y-to.Y)
	if c.reach == 0 {
		return int(min(far, 1))
	}
	return int((far + c.reach - 1) / c.reach)
}

// evenSteps reports whether moves share their way evenly, but for rounding.
func evenSteps(from Move, moves []Move) bool {
	n, last := int64(len(moves)), moves[len(moves)-1]
	wayX, wayY := int64(last.X)-int64(from.X), int64(last.Y)-int64(from.Y)
	if wayX == 0 && wayY == 0 {
		return false
	}
	for _, m := range moves {
		dx, dy := n*(int64(m.X)-int64(from.X))-wayX, n*(int64(m.Y)-int64(from.Y))-wayY
		if max(dx, -dx, dy, -dy) > 2*n { // 0.2 mm
			return false
		}
		from = m
	}
	return true
}

// toAndFro reports whether three jumps from the given one on go somewhere and come back:
// one way to write a cut.
func toAndFro(moves []Move, first int) bool {
	if first == 0 || first+3 > len(moves) || moves[first+2].Kind != Jump {
		return false
	}
	from, a, b := moves[first-1], moves[first], moves[first+2]
	return from.X == b.X && from.Y == b.Y && (a.X != b.X || a.Y != b.Y)
}

// insert puts a cut before each run of jumps that stands for one.
func (c cuts) insert(d *Design) {
	if c.after <= 0 {
		return
	}
	runs, e := c.find(d.Moves)
	if !c.stated {
		runs = slices.DeleteFunc(runs, func(r jumpRun) bool { return r.made == oneMove && !e.longer && !e.toFro })
	}
	// From the last to the first, so that each move is shifted once.
	to := len(d.Moves) + len(runs)
	from := len(d.Moves)
	d.Moves = append(d.Moves, make([]Move, len(runs))...)
	for k := len(runs) - 1; k >= 0; k-- {
		r := runs[k]
		copy(d.Moves[r.first+k+1:to], d.Moves[r.first:from])
		mark := MarkDerived
		if !c.stated && !e.sure(r.made) {
			mark |= MarkUnsure
		}
		before := d.Moves[r.first-1]
		d.Moves[r.first+k] = Move{X: before.X, Y: before.Y, Kind: Trim, Mark: mark}
		from, to = r.first, r.first+k
	}
}
