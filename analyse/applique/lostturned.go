package applique

import (
	"math"
	"math/cmplx"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A cover may be turned, or of another size, as where it was put into the file from another
// drawing of the design. So do figures lie in and across one another for their looks; only where
// the machine stops between a line, a line sewn over it, and the satin, and nothing else is
// sewn in those stops, is it one that was meant to lie over them.
const (
	turnedMost   = 0.6  // radians that it may be turned by: about 34 degrees; figures that cross for their looks turn by 45 and 60
	sizeMost     = 1.3  // times as large, or as small: the next size of a design
	turnedAlike  = 0.99 // of the two lines, how alike they are at best, 1 for the same shape
	satinMostly  = 0.6  // of the thread of a stop that sews a cover and its underlay is satin
	turnedPlaces = 48   // of each line that are held against one another
	turnedSteps  = 2 * turnedPlaces * turnedPlaces
)

// similarity is how a line goes over into another: a place q, as a complex number, lies at
// by*(q-from)+to.
type similarity struct{ from, by, to complex128 }

func (s similarity) of(line []geom.Point) []geom.Point {
	out := make([]geom.Point, len(line))
	for i, q := range line {
		z := s.by*(complex(q.X, q.Y)-s.from) + s.to
		out[i] = geom.Point{X: real(z), Y: imag(z)}
	}
	return out
}

// turnedOver is the similarity that lays one closed line over another best, of those that
// turn it no more than a cover may be, and how alike they are then.
func turnedOver(a, b []geom.Point) (best similarity, alike float64) {
	za, ma := evenPlaces(a)
	zb, mb := evenPlaces(b)
	var na, nb float64
	for i := range za {
		na += real(za[i])*real(za[i]) + imag(za[i])*imag(za[i])
		nb += real(zb[i])*real(zb[i]) + imag(zb[i])*imag(zb[i])
	}
	if na == 0 || nb == 0 {
		return best, 0
	}
	for _, back := range [...]bool{false, true} {
		for shift := range turnedPlaces {
			var sum complex128
			for i := range za {
				k := (i + shift) % turnedPlaces
				if back {
					k = (turnedPlaces + shift - i) % turnedPlaces
				}
				sum += cmplx.Conj(za[i]) * zb[k]
			}
			if like := cmplx.Abs(sum) / math.Sqrt(na*nb); like > alike && math.Abs(cmplx.Phase(sum)) <= turnedMost {
				alike, best = like, similarity{from: ma, by: sum / complex(na, 0), to: mb}
			}
		}
	}
	return best, alike
}

// evenPlaces are places at even distances along a closed line, from their middle, which is
// given too.
func evenPlaces(line []geom.Point) (z [turnedPlaces]complex128, middle complex128) {
	total, at, next := geom.PathLength(line), 0.0, 0
	for i := 1; i < len(line) && next < turnedPlaces; i++ {
		d := geom.Distance(line[i-1], line[i])
		for next < turnedPlaces && float64(next)*total/turnedPlaces <= at+d {
			q := geom.Lerp(line[i-1], line[i], min(1, (float64(next)*total/turnedPlaces-at)/max(d, 1e-9)))
			z[next] = complex(q.X, q.Y)
			next++
		}
		at += d
	}
	for ; next > 0 && next < turnedPlaces; next++ {
		z[next] = z[next-1]
	}
	for _, v := range z {
		middle += v / turnedPlaces
	}
	for i := range z {
		z[i] -= middle
	}
	return z, middle
}

// lostTurned is how far in mm a satin lies off a line, most of it, that its middle goes along
// once it is turned or made as large.
func (p *finder) lostTurned(of *Trace, c *chain, tack *round) (by float64, ok bool) {
	t := c.line
	if p.mostlySatin(of.Stop) < satinMostly || !p.pairAlone(c, tack) || !p.mayCompare() {
		return 0, false
	}
	if of.Box.Width() < t.Box.Width() && encloses(t.Box, p.all, roundSlack) && !p.framed(t) {
		return 0, false // the line may be the block's outline
	}
	p.watch.Step(turnedSteps)
	s, alike := turnedOver(of.Line, t.Line)
	size := cmplx.Abs(s.by)
	off := cmplx.Abs(s.to - s.from)
	if alike < turnedAlike || size > sizeMost || size < 1/sizeMost || off > asideMost || off > asideShare*min(t.Box.Width(), t.Box.Height()) {
		return 0, false
	}
	back := *of
	back.Line, back.made = s.of(of.Line), nil
	back.Box = geom.BoxOf(back.Line)
	if !liesAlong(t.Line, geom.Point{}, &back) || !liesAlong(back.Line, geom.Point{}, t) {
		return 0, false
	}
	d, _ := distances(of.Line, t, math.Inf(1))
	return geom.QuantileOf(d, lostShare), true
}

// framed reports whether a line round a line was sewn in an earlier stop.
func (p *finder) framed(t *Trace) bool {
	for i := range p.traces {
		switch o := &p.traces[i]; {
		case o.Stop >= t.Stop:
			return false
		case o.Closed && isLine(o) && encloses(o.Box, t.Box, 0):
			return true
		}
	}
	return false
}

// mostlySatin is the share of a stop's thread that is satin.
func (p *finder) mostlySatin(stop int) float64 {
	var mm float64
	for i := p.firstOf[stop]; i < p.firstOf[stop+1]; i++ {
		if t := &p.traces[i]; t.Kind == report.KindSatin {
			mm += t.sewn
		}
	}
	return mm / max(1, p.sewnMM[stop])
}
