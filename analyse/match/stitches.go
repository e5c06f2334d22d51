package match

import (
	"math"
	"math/cmplx"
	"slices"
	"sort"

	"github.com/stopcard/stopcard/analyse/geom"
)

// laidOver is how the stitches of one design lie when they are laid over those of
// another that has the same ones: blown up by a factor, turned, perhaps mirrored,
// its stops in an order of their own.
type laidOver struct {
	factor   float64
	turn     float64 // radians, anticlockwise
	mirrored bool
	order    []int // for each stop of the first, the stop of the second
	pointed  bool  // needle point for needle point, not only by counts and spacing
	c, t     complex128
}

const (
	countNoise  = 0.035 // share by which the stitches of a copy may have been thinned or filled up
	countFew    = 2     // stitches by which a short stop may differ besides
	stretches   = 24    // stretches of each stop that are compared where counts differ
	sampleMost  = 3000  // needle points compared; more tell nothing new
	strayShare  = 0.35  // of the median stitch: how far needle points of a copy may stray, root mean square
	strideAlike = 0.90  // correlation of the stitches, as vectors, of a copy
	lineStray   = 0.02  // of the size: how far lines of unequal count may stray
	clearFactor = 0.07  // log of the factor from which equal counts tell a copy from one made anew
	goesAlike   = 0.06  // share by which spacing may miss the factor of a copy that was roughened
)

// point is a needle point of stop i as a complex number, in 0.1 mm.
func (p needlePoint) complex() complex128 { return complex(float64(p.x), float64(p.y)) }

// sameStitches reports whether b has the stitches of a, however it was blown up, turned,
// mirrored, recoloured, put in another order or roughened a little since, and how it
// lies. Sizes digitised anew do not have them: their stitches grow in number with their
// size.
func sameStitches(a, b *Signature) (laidOver, bool) {
	n := len(a.points)
	if n < 2 || len(a.stops) == 0 || len(a.stops) != len(b.stops) || !countsNear(n, len(b.points)) {
		return laidOver{}, false
	}
	inOrder := make([]int, len(a.stops))
	for i := range inOrder {
		inOrder[i] = i
	}
	if possible(a, b, inOrder) {
		if l, ok := layOver(a, b, inOrder); ok {
			return l, true
		}
	}
	order := byShape(a, b)
	if order == nil || slices.Equal(order, inOrder) {
		return laidOver{}, false
	}
	return layOver(a, b, order)
}

// countsNear reports whether two counts differ by no more than chance leaves out, at the
// rate of countNoise: three standard deviations of it are allowed for.
func countsNear(a, b int) bool {
	lost := countNoise * float64(max(a, b))
	return math.Abs(float64(a-b)) <= countFew+lost+3*math.Sqrt(lost)
}

func possible(a, b *Signature, order []int) bool {
	for i, j := range order {
		if !countsNear(len(a.pointsOf(i)), len(b.pointsOf(j))) {
			return false
		}
	}
	return true
}

// byShape pairs the stops by what no turning or scaling changes: their stitch counts,
// how long they are sewn, how they spread and how far from the middle they lie. It is
// nil where they cannot all be paired.
func byShape(a, b *Signature) []int {
	if len(a.stops) > mostStops {
		return nil
	}
	da, db := a.shapes(), b.shapes()
	type pair struct {
		i, j int
		d    float64
	}
	var pairs []pair
	for i := range da {
		for j := range db {
			if !countsNear(len(a.pointsOf(i)), len(b.pointsOf(j))) {
				continue
			}
			var d float64
			for k := range da[i] {
				d += math.Abs(da[i][k] - db[j][k])
			}
			pairs = append(pairs, pair{i, j, d})
		}
	}
	sort.SliceStable(pairs, func(i, j int) bool { return pairs[i].d < pairs[j].d })
	order := make([]int, len(a.stops))
	for i := range order {
		order[i] = -1
	}
	taken := make([]bool, len(b.stops))
	left := len(order)
	for _, p := range pairs {
		if order[p.i] < 0 && !taken[p.j] {
			order[p.i], taken[p.j] = p.j, true
			left--
		}
	}
	if left > 0 {
		return nil
	}
	return order
}

// shapes describes each stop, as shares of the whole design.
func (s *Signature) shapes() [][4]float64 {
	middle, spread := spreadOf(s.points)
	out := make([][4]float64, len(s.stops))
	var all float64
	for i := range out {
		p := s.pointsOf(i)
		m, r := spreadOf(p)
		var l float64
		for k := 1; k < len(p); k++ {
			l += cmplx.Abs(p[k].complex() - p[k-1].complex())
		}
		all += l
		out[i] = [4]float64{float64(len(p)) / float64(len(s.points)), r / max(spread, 1), cmplx.Abs(m-middle) / max(spread, 1), l}
	}
	for i := range out {
		out[i][3] /= max(all, 1)
	}
	return out
}

// spreadOf is the middle of needle points and their radius of gyration.
func spreadOf(p []needlePoint) (middle complex128, spread float64) {
	if len(p) == 0 {
		return 0, 0
	}
	for _, q := range p {
		middle += q.complex()
	}
	middle /= complex(float64(len(p)), 0)
	for _, q := range p {
		d := cmplx.Abs(q.complex() - middle)
		spread += d * d
	}
	return middle, math.Sqrt(spread / float64(len(p)))
}

// layOver lays b over a with the stops paired as given.
func layOver(a, b *Signature, order []int) (laidOver, bool) {
	equal := true
	for i, j := range order {
		equal = equal && len(a.pointsOf(i)) == len(b.pointsOf(j))
	}
	var z, w []complex128
	for i, j := range order {
		p, q := a.pointsOf(i), b.pointsOf(j)
		if equal {
			step := max(1, len(a.points)/sampleMost)
			for k := 0; k < len(p); k += step {
				z, w = append(z, p[k].complex()), append(w, q[k].complex())
			}
			continue
		}
		z, w = append(z, alongPoints(p, stretches)...), append(w, alongPoints(q, stretches)...)
	}
	l, stray, ok := fitted(z, w)
	l.order = order
	if !ok || l.factor < 0.1 || l.factor > 10 {
		return l, false
	}
	if equal {
		stitch := b.medianStitch()
		rounding := 0.5 * (1 + l.factor)
		l.pointed = stray <= max(strayShare*stitch, rounding) && stridesAlike(a, b, &l)
		return l, l.pointed
	}
	// The counts differ by a few: lines agree only as lines. A size made anew would have
	// stitches more, and keep its spacing.
	_, spread := spreadOf(b.points)
	if stray > lineStray*2*spread || math.Abs(math.Log(l.factor)) < clearFactor {
		return l, false
	}
	n, ratio, apart := b.Spacing.Over(&a.Spacing)
	return l, n > 0 && apart <= goesAlike && math.Abs(math.Log(ratio/l.factor)) <= goesAlike
}

// fitted is the similarity that lays z over w with the least squares, mirrored or not,
// and the root of their mean.
func fitted(z, w []complex128) (l laidOver, stray float64, ok bool) {
	n := complex(float64(len(z)), 0)
	if len(z) < 2 {
		return l, 0, false
	}
	var mz, mw complex128
	for i := range z {
		mz, mw = mz+z[i]/n, mw+w[i]/n
	}
	var straight, mirrored complex128
	var zz, ww float64
	for i := range z {
		u, v := z[i]-mz, w[i]-mw
		straight += cmplx.Conj(u) * v
		mirrored += u * v
		zz += real(u)*real(u) + imag(u)*imag(u)
		ww += real(v)*real(v) + imag(v)*imag(v)
	}
	if zz == 0 || ww == 0 {
		return l, 0, false
	}
	c := straight
	if cmplx.Abs(mirrored) > cmplx.Abs(straight)*(1+1e-9) {
		c, l.mirrored = mirrored, true
	}
	c /= complex(zz, 0)
	l.c, l.factor, l.turn = c, cmplx.Abs(c), cmplx.Phase(c)
	if l.factor == 0 {
		return l, 0, false
	}
	if f := asScaled(l.factor); f != l.factor {
		c *= complex(f/l.factor, 0)
		l.c, l.factor = c, f
	}
	if q := math.Round(l.turn/(math.Pi/2)) * math.Pi / 2; l.turn != q && math.Abs(l.turn-q) < quarterOff {
		l.turn = q
		c = cmplx.Rect(l.factor, q)
		l.c = c
	}
	l.t = mw - c*l.side(mz)
	fit := max(cmplx.Abs(straight), cmplx.Abs(mirrored)) / zz
	left := ww - zz*fit*fit
	return l, math.Sqrt(max(0, left) / float64(len(z))), true
}

// asScaled takes a factor for the whole percent that it is near to, since people and
// machines scale by those: half tenths that are all rounded up shift what fits best.
func asScaled(f float64) float64 {
	const near = 0.0008
	for _, g := range []float64{math.Round(100*f) / 100, 100 / math.Round(100/f)} {
		if math.Abs(f/g-1) < near {
			return g
		}
	}
	return f
}

func (l *laidOver) side(z complex128) complex128 {
	if l.mirrored {
		return cmplx.Conj(z)
	}
	return z
}

// on is where a needle point of the first lies on the second.
func (l *laidOver) on(z complex128) complex128 { return l.c*l.side(z) + l.t }

// alongPoints gives the middles of n stretches of a line of stitches, by number: a
// stitch left out here and there hardly moves them.
func alongPoints(p []needlePoint, n int) []complex128 {
	out := make([]complex128, n)
	if len(p) == 0 {
		return out
	}
	for i := range out {
		from := min(i*len(p)/n, len(p)-1)
		to := max(from+1, (i+1)*len(p)/n)
		var sum complex128
		for _, q := range p[from:to] {
			sum += q.complex()
		}
		out[i] = sum / complex(float64(to-from), 0)
	}
	return out
}

// medianStitch is the median length from needle point to needle point, in 0.1 mm.
func (s *Signature) medianStitch() float64 {
	var all []float64
	step := max(1, len(s.points)/sampleMost)
	for i := range s.stops {
		p := s.pointsOf(i)
		for k := 1; k < len(p); k += step {
			all = append(all, cmplx.Abs(p[k].complex()-p[k-1].complex()))
		}
	}
	if len(all) == 0 {
		return 0
	}
	return geom.QuantileOf(all, 0.5)
}

// stridesAlike reports whether the stitches of both, as vectors, go alike. Lines that
// were digitised anew fall out of step.
func stridesAlike(a, b *Signature, l *laidOver) bool {
	var dot, zz, ww float64
	for i, j := range l.order {
		p, q := a.pointsOf(i), b.pointsOf(j)
		for k := 1; k < len(p); k++ {
			u := l.c * l.side(p[k].complex()-p[k-1].complex())
			v := q[k].complex() - q[k-1].complex()
			dot += real(u)*real(v) + imag(u)*imag(v)
			zz += real(u)*real(u) + imag(u)*imag(u)
			ww += real(v)*real(v) + imag(v)*imag(v)
		}
	}
	if zz == 0 || ww == 0 {
		return true // nothing but single points
	}
	return dot >= strideAlike*math.Sqrt(zz*ww)
}
