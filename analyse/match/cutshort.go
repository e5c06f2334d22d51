package match

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
)

const (
	leastCommon = 100 // needle points that two files must begin with alike: any two lines may share a few
	lastOdd     = 1   // needle point at the very end of a file cut short, half of which is missing
	goesOn      = 12  // needle points by which the stop goes on at least: lock stitches at an end may be left out
)

// cutFrom is the file that one breaks off from, and in which of its colour stops: that
// file begins with the same needle points and goes on in the middle of a stop. One that
// ends where a stop does is meant to: a block without its quilting; and one whose file
// tells that it is whole is another edition. nil for none.
func cutFrom(s *Signature, all []*Signature) (whole *Signature, stop int) {
	n := len(s.points) - lastOdd
	if n < leastCommon || s.allThere {
		return nil, 0
	}
	for _, o := range all {
		if o == s || len(o.points) <= len(s.points) || thinning(o.Stitches) != 1 || len(o.stops) < len(s.stops) || whole != nil && len(o.points) <= len(whole.points) {
			continue
		}
		last := len(s.stops) - 1
		if len(o.pointsOf(last))-len(s.pointsOf(last)) < goesOn {
			continue
		}
		dx, dy := o.points[0].x-s.points[0].x, o.points[0].y-s.points[0].y
		k := 0
		for k < n && math.Abs(float64(o.points[k].x-s.points[k].x-dx)) <= roundsTo && math.Abs(float64(o.points[k].y-s.points[k].y-dy)) <= roundsTo {
			k++
		}
		if k == n && o.stops[last].first == s.stops[last].first {
			whole, stop = o, last+1
		}
	}
	return whole, stop
}

// cutShort tells that a file is the beginning of another.
func cutShort(s, whole *Signature, stop int) report.Finding {
	f := report.Finding{Rule: "set-disagrees", Severity: report.Fault, Stop: stop, Unit: "stitches", Measured: float64(s.Stitches), Limit: float64(whole.Stitches),
		Message: fmt.Sprintf("%s is cut short: it has the first %d of the %d stitches of %s and breaks off in its stop %d", s.file(), s.Stitches, whole.Stitches, whole.file(), stop),
		Advice:  "Do not sew it. Copy it again from where it came from, or take the other file."}
	f.Alone()
	return f
}
