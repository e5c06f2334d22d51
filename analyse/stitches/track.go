package stitches

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Track is the needle points of a design in mm, cut into the pieces that are
// sewn without a break.
type Track struct {
	Pts  []geom.Point
	Move []int32 // index of each point in Design.Moves
	Kind []report.Kind
	Segs []Segment

	// Again tells for each point whether the needle goes into a hole that is there
	// already, at the same place of the file's own grid of 0.1 mm.
	Again []bool
}

// Segment is stitches sewn without a jump, trim or stop between. Its first point
// is where the needle comes down.
type Segment struct {
	First, Last int  // in Track.Pts, last excluded
	Stop        int  // index in Report.Stops
	Starts      bool // a thread starts here: it was cut before, or is new
	Ends        bool // the thread is cut or changed after
	Unsure      bool // whether it was cut before depends on the machine's setting
}

// makeTrack gathers the needle points, at scale 1.
func makeTrack(s *Sewn) Track {
	n := 0
	for i := range s.Stops {
		n += s.Stops[i].Stitches
	}
	t := Track{Pts: make([]geom.Point, n), Move: make([]int32, n), Kind: make([]report.Kind, n)}
	n = 0
	for si := range s.Stops {
		first := len(t.Segs)
		open, cut, unsure := false, true, false
		for i := s.Stops[si].First; i < s.Stops[si].Last; i++ {
			m := &s.Design.Moves[i]
			switch m.Kind {
			case stitchfile.Stitch:
				if !open {
					t.end(n)
					t.Segs = append(t.Segs, Segment{First: n, Stop: si, Starts: cut, Unsure: unsure})
					open, cut, unsure = true, false, false
				}
				t.Pts[n] = geom.Point{X: (float64(m.X) - s.CentreX) / 10, Y: (float64(m.Y) - s.CentreY) / 10}
				t.Move[n] = int32(i)
				n++
			case stitchfile.Jump:
				open = false
			case stitchfile.Trim:
				open, cut, unsure = false, true, m.Mark&stitchfile.MarkUnsure != 0
				if k := len(t.Segs); k > first {
					t.Segs[k-1].Ends = true
				}
			}
		}
		if k := len(t.Segs); k > first {
			t.Segs[k-1].Ends = true
		}
	}
	t.end(n)
	return t
}

// end ends the segment that was begun last before point n.
func (t *Track) end(n int) {
	if k := len(t.Segs); k > 0 {
		t.Segs[k-1].Last = n
	}
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
func (t *Track) Joined(i int) bool { return t.Move[i]-t.Move[i-1] == 1 }
