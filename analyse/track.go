package analyse

import "github.com/stopcard/stopcard/stitchfile"

// track is the needle points of a design in mm, cut into the pieces that are
// sewn without a break.
type track struct {
	pts  []Point
	move []int32 // index of each point in Design.Moves
	kind []Kind
	segs []segment
}

// segment is stitches sewn without a jump, trim or stop between. Its first point
// is where the needle comes down.
type segment struct {
	first, last int  // in track.pts, last excluded
	stop        int  // index in Report.Stops
	starts      bool // a thread starts here: it was cut before, or is new
	ends        bool // the thread is cut or changed after
}

// makeTrack gathers the needle points, at scale 1.
func makeTrack(p *Pass) track {
	n := p.Report.Stitches
	t := track{pts: make([]Point, 0, n), move: make([]int32, 0, n), kind: make([]Kind, n)}
	r := p.Report
	for si := range r.Stops {
		open, cut := false, true
		for i := r.Stops[si].First; i < r.Stops[si].Last; i++ {
			m := p.Design.Moves[i]
			switch m.Kind {
			case stitchfile.Stitch:
				if !open {
					t.segs = append(t.segs, segment{first: len(t.pts), last: len(t.pts), stop: si, starts: cut})
					open, cut = true, false
				}
				t.pts = append(t.pts, Point{(float64(m.X) - r.CentreX) / 10, (float64(m.Y) - r.CentreY) / 10})
				t.move = append(t.move, int32(i))
				t.segs[len(t.segs)-1].last = len(t.pts)
			case stitchfile.Jump:
				open = false
			case stitchfile.Trim:
				open, cut = false, true
				if n := len(t.segs); n > 0 && t.segs[n-1].stop == si {
					t.segs[n-1].ends = true
				}
			}
		}
		if n := len(t.segs); n > 0 && t.segs[n-1].stop == si {
			t.segs[n-1].ends = true
		}
	}
	return t
}

// eachSewn calls f for every stitch of a stop that thread joins to the needle
// point before it: from pts[i-1] to pts[i].
func (p *Pass) eachSewn(stop int, f func(i int, from, to Point)) {
	for _, s := range p.track.of(stop) {
		for i := s.first + 1; i < s.last; i++ {
			f(i, p.track.pts[i-1], p.track.pts[i])
		}
	}
}

// of gives the segments of a stop.
func (t *track) of(stop int) []segment {
	lo, hi := 0, len(t.segs)
	for lo < hi {
		mid := (lo + hi) / 2
		if t.segs[mid].stop < stop {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	end := lo
	for end < len(t.segs) && t.segs[end].stop == stop {
		end++
	}
	return t.segs[lo:end]
}
