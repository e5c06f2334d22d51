package resize

import (
	"maps"
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// openCover is the share of an edge's ground under thread, over the barest stretch, below
// which its cover is open: the limit of thin-cover-stretch as it is when nobody sets it.
//
// In an open cover a slot between threads is a gap at one percent and none at the next,
// as the cover beside it counts for closed or for open; and where the outline turns it
// may be wider on a smaller design. No law leads to where that fails, so every percent is
// looked at where it may: such a design is faulty as it is, and to be right matters more
// than to be quick. In a closed cover slots go evenly.
var openCover = func() float64 { s := report.DefaultSettings(); return s.Limit("thin-cover-stretch") }()

// ajar lists the spots of which it is not known that their cover is closed at a percent.
func (s *search) ajar(percent int) []spot {
	var out []spot
	for _, at := range s.spots {
		if at.piece > 0 && !s.closed(at, percent) {
			out = append(out, at)
		}
	}
	return out
}

// closed reports whether the cover of a piece is known to be closed at a percent: what is
// closed on a design is so on a smaller one, unless nearly as much of it is bare as may be,
// which closes as stitches come together but opens where they turn. What is open on the
// design as it is stays in doubt at all sizes.
func (s *search) closed(at spot, percent int) bool {
	if s.thin(at) || s.parts(at) {
		return false
	}
	if s.c.way == report.Shrinking {
		return s.c.columns || len(s.known[at]) == 0 || sureFor(&s.settings, s.known[at][0].bare, 100) == mostPercents
	}
	scale := float64(percent) / 100
	for i := range s.known[at] {
		f := &s.known[at][i]
		if f.least >= openCover && (f.scale >= scale || scale <= f.scale*thinnestHolds(f.least, openCover)) {
			return true
		}
	}
	return false
}

// thin reports whether the cover of a piece is open on the design as it is, or is
// already told to be.
func (s *search) thin(at spot) bool {
	c := s.base.Report.Piece(at.piece)
	if c == nil {
		return false
	}
	was := s.now(&thinNow)
	_, stop := was[key{stop: c.CoverStop}]
	_, piece := was[key{c.CoverStop, c.Number}]
	return stop || piece || c.CoverShare.Median > 0 && c.CoverShare.Min < openCover
}

// jointLeast is the least in mm of an edge that its own cover and what hides the edge further
// on must hide together for it not to show between them at another size. The trim allowance
// does not grow with the design, so that the edge comes to lie otherwise between them, by a
// millimetre at most and more along it where the two meet aslant. Of 240 covers that end
// at another circle none with so much parted, from half their size to twice.
const jointLeast = 1.0

// parts reports whether an edge may come to show where its cover ends at other cloth. What
// is between the two is bare at one percent and hidden at the next, as it goes by how they
// cross there.
func (s *search) parts(at spot) bool {
	if s.c.columns {
		return false
	}
	if _, known := s.joint[at.piece]; !known {
		s.joint[at.piece] = math.Inf(1)
		if c := s.base.Report.Piece(at.piece); c != nil {
			s.joint[at.piece] = s.base.Joint(c)
		}
	}
	return s.joint[at.piece] < jointLeast
}

// thinNow asks for what is told to be thin on the design as it is.
var thinNow = check{rule: &rules.ThinCoverRule}

const (
	// bareGrows is how many times as fast the longest bare stretch of an edge may grow as
	// threads move apart that stay as wide as they are: where the cut edge comes to lie
	// otherwise in the cover, a turn or the end of a column adds to it. Of 70 open covers
	// measured at every percent none grew faster but where the cover misses the edge.
	bareGrows = 3

	// besideGrain is how much of the edge beside a bare stretch may come to be hidden, from
	// one look to the next, as the edge moves among its threads, besides what threads
	// coming or going at the ends of what is looked at make. Of 700 open covers measured at
	// every percent, both ways, one failed before it was found with this, and 25 when only
	// the length of the longest stretch was asked.
	besideGrain = 0.02

	mostPercents = 16 // that are passed over at a time
)

// sureFor is how many whole percents away from where the bare stretches of an edge were
// measured no more of them shows than may; 1 at least, for the next. For that one of them
// must become as long as all may be that shows, or two become gaps that are told of; and
// the cover beside them must not be so open that they are none.
//
// What is looked at beside a stretch is as long at any scale. On a design r times as large
// threads hide r times as much of it at most, where they lay over one another; on a smaller
// one they hide no more than they did, and all that comes in at its ends.
func sureFor(s *report.Settings, bare []measure.BareStretch, percent int) int {
	most := float64(mostPercents) / float64(percent) // by which the scale may change
	all := max(s.Limit("edge-uncovered"), rules.KnownGap)
	gap, second := most, most // as far as the first of them becomes a gap, and the next
	for _, b := range bare {
		tooOpen := measure.SoundShare - besideGrain - b.Beside
		until := func(length float64) float64 {
			return max((slotLaw(b.LengthMM, length, s.LaidWidth())-1)/bareGrows, tooOpen)
		}
		most = min(most, until(all))
		if one := until(rules.KnownGap); one < gap {
			gap, second = one, gap
		} else {
			second = min(second, one)
		}
	}
	return max(int(min(most, second)*float64(percent)), 1)
}

// sureOf is sureFor of what was measured of an edge. On a smaller design it may also come
// to show because the cover no longer reaches it.
func (s *search) sureOf(f *figures, percent int) int {
	n := sureFor(&s.settings, f.bare, percent)
	if s.c.way == report.Growing {
		return n
	}
	down := s.c.outlook(&s.settings, f).sure
	if down == 0 {
		return min(n, closeStride) // once it shows for that it goes on to: the first percent is found
	}
	return max(min(n, int((1-down)*float64(percent))), 1)
}

// eachPercent looks at the spots whose cover may be open at the percents up to one, and
// gives the first at which one of them fails; 0 for none. Edges are passed over where
// nothing bare is long enough to become a gap before the next look; where one fails all
// the same, the first percent is looked for between. The percents from the nearest limit
// on are looked at only for what is open on the design as it is.
func (s *search) eachPercent(to int, l line) int {
	near := percentOf(s.nearest(s.c.way))
	last, due := map[spot]int{}, map[spot]int{} // percents looked at, and to be looked at next
	swept := map[spot]int{}
	for q := 100 + l.step; !l.beyond(q, to); q += l.step {
		var look []spot
		for _, at := range s.ajar(q) {
			if before, ok := swept[at]; (ok && before == q-l.step || q == 100+l.step) && (!l.beyond(q, near) || s.thin(at)) {
				swept[at] = q
			}
			if next, ok := due[at]; (!ok || !l.beyond(next, q)) && (!l.beyond(q, near) || s.thin(at)) {
				look = append(look, at)
			}
		}
		if len(look) == 0 {
			continue
		}
		if s.look(q, look) {
			return s.firstOf(look, last, q, l)
		}
		for _, at := range look {
			last[at], due[at] = q, q+l.step
			if f := s.known[at]; !s.c.columns && len(f) > 0 {
				if !s.parts(at) {
					due[at] = q + l.step*s.sureOf(&f[len(f)-1], q)
				}
				for _, end := range []int{near, to} { // what begins before either is seen too
					if l.beyond(end, q) {
						due[at] = l.nearer(due[at], end)
					}
				}
			}
		}
	}
	maps.Copy(s.swept, swept)
	return 0
}

// firstOf is the first percent at which one of the spots fails of which one fails at q,
// looked for between the percents at which each passed last.
func (s *search) firstOf(spots []spot, last map[spot]int, q int, l line) int {
	for _, at := range spots {
		in, ok := last[at]
		if !ok {
			in = q - l.step
		}
		for l.beyond(q-l.step, in) {
			if mid := (in + q) / 2; s.look(mid, []spot{at}) {
				q = mid
			} else {
				in = mid
			}
		}
	}
	return q
}
