package stitches

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Track is the needle points of a design in mm, cut into the pieces that are
// sewn without a break.
type Track struct {
	Pts   []geom.Point
	Kind  []report.Kind
	Marks []Mark // by point
	Segs  []Segment
	Knots bool // some stitches are spokes; see Spoke
}

// Mark is what is known of a needle point besides. That of a first one is zero.
type Mark uint8

const (
	joined Mark = 1 << iota // see Joined
	again                   // see Again
	alone                   // the stitch to it is a crossing of its own, and no step, amid others
	spoke                   // see Spoke
)

// Segment is stitches sewn without a jump, trim or stop between. Its first point
// is where the needle comes down.
type Segment struct {
	First, Last int  // in Track.Pts, last excluded
	Move        int  // index of its first point in Design.Moves; those of the others follow
	Stop        int  // index in Report.Stops
	Starts      bool // a thread starts here: it was cut before, or is new
	Ends        bool // the thread is cut or changed after
	Unsure      bool // whether it was cut before depends on the machine's setting
}

// makeTrack gathers the needle points, at scale 1, of so many segments.
func makeTrack(s *Sewn, segments int) Track {
	n := 0
	for i := range s.Stops {
		n += s.Stops[i].Stitches
	}
	t := Track{Pts: make([]geom.Point, n), Kind: make([]report.Kind, n), Marks: make([]Mark, n), Segs: make([]Segment, 0, segments)}
	moves := s.Design.Moves
	n = 0
	for si := range s.Stops {
		first := len(t.Segs)
		cut, unsure := true, false
		end := s.Stops[si].Last
		for i := s.Stops[si].First; i < end; {
			switch m := &moves[i]; m.Kind {
			case stitchfile.Stitch:
				seg := Segment{First: n, Move: i, Stop: si, Starts: cut, Unsure: unsure}
				for ; i < end && moves[i].Kind == stitchfile.Stitch; i++ {
					m := &moves[i]
					t.Pts[n] = geom.Point{X: (float64(m.X) - s.CentreX) / 10, Y: (float64(m.Y) - s.CentreY) / 10}
					t.Marks[n] = joined
					n++
				}
				t.Marks[seg.First], seg.Last = 0, n
				t.Segs = append(t.Segs, seg)
				cut, unsure = false, false
				continue
			case stitchfile.Trim:
				cut, unsure = true, m.Mark&stitchfile.MarkUnsure != 0
				if k := len(t.Segs); k > first {
					t.Segs[k-1].Ends = true
				}
			}
			i++
		}
		if k := len(t.Segs); k > first {
			t.Segs[k-1].Ends = true
		}
	}
	return t
}

// EachSewn calls f for every stitch of a stop that thread joins to the needle
// point before it: from pts[i-1] to pts[i].
func (t *Track) EachSewn(stop int, f func(i int, from, to geom.Point)) {
	for _, s := range t.Of(stop) {
		for i := s.First + 1; i < s.Last; i++ {
			f(i, t.Pts[i-1], t.Pts[i])
		}
	}
}

// Of gives the segments of a stop.
func (t *Track) Of(stop int) []Segment {
	lo, hi := 0, len(t.Segs)
	for lo < hi {
		mid := (lo + hi) / 2
		if t.Segs[mid].Stop < stop {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	end := lo
	for end < len(t.Segs) && t.Segs[end].Stop == stop {
		end++
	}
	return t.Segs[lo:end]
}

// Joined reports whether point i is sewn on from the one before it.
func (t *Track) Joined(i int) bool { return t.Marks[i]&joined != 0 }

// Again reports whether at point i the needle goes into a hole that is there already, at
// the same place of the file's own grid of 0.1 mm.
func (t *Track) Again(i int) bool { return t.Marks[i]&again != 0 }

// Spoke reports whether the stitch to point i is of a knot: one of the spokes that go out from
// one hole and back into it, all round.
func (t *Track) Spoke(i int) bool { return t.Marks[i]&spoke != 0 }

// SegmentOf is the index of the segment that has point i.
func (t *Track) SegmentOf(i int) int {
	after, _ := slices.BinarySearchFunc(t.Segs, i, func(s Segment, i int) int { return s.First - i - 1 })
	return after - 1
}

// MoveOf is the index of point i in Design.Moves.
func (t *Track) MoveOf(i int) int {
	s := &t.Segs[t.SegmentOf(i)]
	return s.Move + i - s.First
}

// PointAt is the first point whose index in Design.Moves is at least move.
func (t *Track) PointAt(move int) int {
	k, _ := slices.BinarySearchFunc(t.Segs, move, func(s Segment, move int) int { return s.Move + s.Last - s.First - 1 - move })
	if k == len(t.Segs) {
		return len(t.Pts)
	}
	return t.Segs[k].First + max(0, move-t.Segs[k].Move)
}
