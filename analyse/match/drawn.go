package match

import (
	"fmt"
	"math"
	"math/cmplx"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
)

// Which of several sizes with the same stitches was drawn, and which are its copies, is
// judged by evidence that adds up as logarithms of odds, each kind bounded, so that none
// outvotes all others:
//
//   - spacing: how far satin pitch, fill spacing and run length lie from what is usual;
//   - siblings: how far they lie from the values of other sizes of the design that were
//     not copied from it, where these agree;
//   - rounding: files hold tenths of a millimetre, so in a copy the places of the needle
//     are those of the original, multiplied and rounded, and never the other way round.
const (
	usualApart   = 0.07 // log of satin pitch or fill spacing over the usual, one standard deviation
	usualRun     = 0.30 // the same of run length: short shapes have short runs
	usualMost    = 4.0  // most that one measure weighs
	usualRunMost = 0.8
	siblingApart = 0.04 // log of a measure over that of siblings drawn with it
	siblingRun   = 0.10
	siblingMost  = 4.0
	roundingIs   = 4.0 // weight of rounding that goes one way only
	agreeWithin  = 0.10
	clearLead    = 1.5 // lead, in log odds, from which it is told: about 4 to 1
)

// weigh adds up the evidence for one size having been drawn. rivals are the values of
// siblings, by measure.
func weigh(s *measure.Spacing, siblings [3][]float64) float64 {
	usual := measure.UsualSpacing.Sizes()
	var sum float64
	for k, v := range s.Sizes() {
		if v <= 0 {
			continue
		}
		apart, most, near := usualApart, usualMost, siblingApart
		if k == runMeasure {
			apart, most, near = usualRun, usualRunMost, siblingRun
		}
		sum -= bounded(math.Log(v/usual[k])/apart, most)
		if w := siblings[k]; len(w) > 0 {
			middle := geom.QuantileOf(append([]float64{}, w...), 0.5)
			agree := true
			for _, x := range w {
				agree = agree && math.Abs(math.Log(x/middle)) <= agreeWithin
			}
			if agree {
				sum -= bounded(math.Log(v/middle)/near, siblingMost)
			}
		}
	}
	return sum
}

// runMeasure is the place of run length in Spacing.Sizes.
const runMeasure = 1

func bounded(d, most float64) float64 { return min(d*d/2, most) }

// confidenceOf turns a lead in log odds into a share.
func confidenceOf(lead float64) float64 { return 1 / (1 + math.Exp(-lead)) }

const (
	roundsOff  = 0.53  // of the unit: how far rounding to it moves a place, with what the fit leaves
	oddPlaces  = 0.003 // share of places that may break a rule of rounding
	manyNext   = 40    // coordinates with one next to them, so that reducing would show
	clearlyOdd = 0.03  // and the share that shows that it does not hold
	fewRounded = 60    // places that must be compared before rounding tells anything
	quarterOff = 0.002 // radians by which a turn may miss a quarter
)

// roundedFrom tells which of two designs with the same stitches was multiplied and
// rounded to make the other: 1 for b from a, -1 for a from b, 0 where that cannot be
// told.
func roundedFrom(a, b *Signature, l *laidOver) int {
	if !l.pointed || len(a.points) < fewRounded || math.Abs(math.Log(l.factor)) < 0.02 {
		return 0
	}
	centred := *l
	centred.t += middleLeft(a, b, l)
	l = &centred
	turns := l.turn / (math.Pi / 2)
	if math.Abs(turns-math.Round(turns))*math.Pi/2 < quarterOff {
		return byPlaces(a, b, l, int(math.Round(turns))&1 == 1)
	}
	return byResidue(a, b, l)
}

// middleLeft is the middle, on each axis, between the furthest that places of b lie off
// those of a to either side. Rounding moves places by half a tenth at most, so this
// centres them even where more were rounded up than down.
func middleLeft(a, b *Signature, l *laidOver) complex128 {
	lo, hi := complex(math.Inf(1), math.Inf(1)), complex(math.Inf(-1), math.Inf(-1))
	for i, j := range l.order {
		p, q := a.pointsOf(i), b.pointsOf(j)
		for k := range p {
			d := q[k].complex() - l.on(p[k].complex())
			lo = complex(min(real(lo), real(d)), min(imag(lo), imag(d)))
			hi = complex(max(real(hi), real(d)), max(imag(hi), imag(d)))
		}
	}
	if w := hi - lo; max(real(w), imag(w)) > 2*roundsOff*max(1, l.factor) {
		return 0 // more than rounding
	}
	return (lo + hi) / 2
}

// byPlaces looks whether the coordinates of one follow from those of the other: each of
// a source goes to one of its copy. An enlarged copy leaves places out, a reduced one
// lays places together. A coordinate that falls half way between two tenths may be
// rounded to either, so such ones are counted apart; a copy that shows nothing else
// tells nothing.
func byPlaces(a, b *Signature, l *laidOver, swapped bool) int {
	var ab, ba places
	for i, j := range l.order {
		p, q := a.pointsOf(i), b.pointsOf(j)
		for k := range p {
			to := l.on(p[k].complex())
			from := l.side((q[k].complex() - l.t) / l.c)
			ax, ay, bx, by := p[k].x, p[k].y, q[k].x, q[k].y
			if swapped {
				ab.add(0, ay, bx, real(to))
				ab.add(1, ax, by, imag(to))
				ba.add(0, bx, ay, imag(from))
				ba.add(1, by, ax, real(from))
				continue
			}
			ab.add(0, ax, bx, real(to))
			ab.add(1, ay, by, imag(to))
			ba.add(0, bx, ax, real(from))
			ba.add(1, by, ay, imag(from))
		}
	}
	oddAB, halvesAB, againAB := ab.sum()
	oddBA, halvesBA, againBA := ba.sum()
	if min(againAB, againBA) < fewRounded {
		return 0 // no place comes twice, so none can contradict itself
	}
	follows := func(odd, again int) bool { return float64(odd) <= oddPlaces*float64(again) }
	fromA, fromB := follows(oddAB, againAB), follows(oddBA, againBA)
	switch {
	case fromA && fromB && !follows(halvesAB, againAB) || fromA && fromB && !follows(halvesBA, againBA):
		return 0
	case fromA && fromB: // one to one: the larger has places to spare and was made of the smaller
		if l.factor > 1 && ab.neighbours() >= manyNext {
			return 1
		}
		if l.factor < 1 && ba.neighbours() >= manyNext {
			return -1
		}
		return 0
	case fromA && float64(oddBA) >= clearlyOdd*float64(againBA):
		return 1
	case fromB && float64(oddAB) >= clearlyOdd*float64(againAB):
		return -1
	}
	return 0
}

// places counts where coordinates of one design come to lie on another, by axis; those
// that fall half way between two tenths apart.
type places struct {
	seen, halves [2]map[int32]map[int32]int
}

// halfWay is how near to the middle between two tenths a coordinate is in doubt.
const halfWay = 0.08

func (p *places) add(axis int, from, to int32, foretold float64) {
	into := &p.seen[axis]
	if math.Abs(foretold-math.Floor(foretold)-0.5) < halfWay {
		into = &p.halves[axis]
	}
	if *into == nil {
		*into = map[int32]map[int32]int{}
	}
	m := (*into)[from]
	if m == nil {
		m = map[int32]int{}
		(*into)[from] = m
	}
	m[to]++
}

// neighbours counts the coordinates, of those that lead elsewhere, whose next tenth is
// used too. Without them nothing could have been laid together by reducing.
func (p *places) neighbours() int {
	n := 0
	for axis := range p.seen {
		for v := range p.seen[axis] {
			if _, next := p.seen[axis][v+1]; next {
				n++
			}
		}
	}
	return n
}

// sum counts the places that contradict what the same coordinate does most, those in
// doubt apart, and all that come again.
func (p *places) sum() (odd, halves, again int) {
	count := func(all map[int32]map[int32]int) (odd int) {
		for _, m := range all {
			most, n := 0, 0
			for _, c := range m {
				most, n = max(most, c), n+c
			}
			odd, again = odd+n-most, again+n-1
		}
		return odd
	}
	for axis := range p.seen {
		odd, halves = odd+count(p.seen[axis]), halves+count(p.halves[axis])
	}
	return odd, halves, again
}

// byResidue looks how far the places of one lie from those of the other, multiplied:
// no further than rounding moves them in the copy.
func byResidue(a, b *Signature, l *laidOver) int {
	n, inB, inA := 0, 0, 0
	for i, j := range l.order {
		p, q := a.pointsOf(i), b.pointsOf(j)
		for k := range p {
			d := q[k].complex() - l.on(p[k].complex())
			n++
			if max(math.Abs(real(d)), math.Abs(imag(d))) > roundsOff {
				inB++
			}
			// In a's own axes and units.
			if e := l.side(d / l.c); max(math.Abs(real(e)), math.Abs(imag(e))) > roundsOff {
				inA++
			}
		}
	}
	ok := func(odd int) bool { return float64(odd) <= oddPlaces*float64(n) }
	fromA, fromB := ok(inB), ok(inA)
	switch {
	case fromA && fromB: // the looser bound holds with the tighter one
		if l.factor > 1 {
			return 1
		}
		return -1
	case fromA:
		return 1
	case fromB:
		return -1
	}
	return 0
}

// degreesWords names a turn.
func degreesWords(degrees float64) string {
	switch q := int(math.Round(degrees)); {
	case q == 90 || q == -270:
		return "turned by a quarter to the left"
	case q == -90 || q == 270:
		return "turned by a quarter to the right"
	case q == 180 || q == -180:
		return "turned upside down"
	case degrees < 0:
		return fmt.Sprintf("turned by %.0f degrees to the right", -degrees)
	}
	return fmt.Sprintf("turned by %.0f degrees to the left", degrees)
}

// turnWords says how one design lies over another, in words; empty where it lies
// straight.
func (l *laidOver) turnWords() string {
	degrees := cmplx.Phase(l.c) * 180 / math.Pi
	text := ""
	if l.mirrored {
		text = "mirrored"
		// A mirror at another axis is one at the upright axis with a turn.
		degrees -= 180
		if degrees <= -180 {
			degrees += 360
		}
	}
	if math.Abs(degrees) > 0.5 {
		if text != "" {
			text += " and "
		}
		text += degreesWords(degrees)
	}
	return text
}
