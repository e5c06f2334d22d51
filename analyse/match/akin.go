package match

import (
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
)

// A file of a set that lacks a stop, lies turned or mirrored, or sews its stops in
// another order does not look like the others as a whole. Left to itself it would pass
// for another design, of which there is nothing to say; so where the names say that it
// is one of the set, it is laid over the others in each of these ways.

const (
	akinWhole   = 0.92 // how alike two designs must look when laid so
	akinStops   = 0.92 // and their stops, on the mean
	akinStop    = 0.80 // and each of them
	akinBetter  = 0.03 // by how much more than laid straight and in order
	akinLacking = 2    // stops that one may lack of the other's
	akinLeast   = 2    // stops that must be left then
	akinAspect  = 0.08 // share by which the shapes of the boxes may differ: cover satin keeps its width
	akinFiles   = 3    // files that make a set
	akinTries   = 100  // sets of stops that are left out for trial
)

// variant is how a design differs from another that it is meant to be.
type variant struct {
	quarters int   // it lies turned by so many quarters, anticlockwise
	mirrored bool  // left for right, before it is turned
	order    []int // for each stop of the other, that of this one; nil in the same order
	lacking  []int // stops of the fuller one that the other has not; nil for none
	fuller   bool  // this one has them
	joined   []int // for each stop of the one with fewer, the first of the other's that it sews in one; nil for none
}

// straight reports whether a design differs in none of these ways.
func (v *variant) straight() bool {
	return v.quarters == 0 && !v.mirrored && v.order == nil && len(v.lacking) == 0 && v.joined == nil
}

// turnWords says how a size lies that is not mirrored.
func (v *variant) turnWords() string {
	return (&laidOver{c: [4]complex128{1, 1i, -1, -1i}[v.quarters]}).turnWords()
}

// turnedToo says of a mirror image how it lies besides, left for right being its plain
// way.
func (v *variant) turnedToo() string {
	if v.quarters == 0 {
		return ""
	}
	return ", " + v.turnWords()
}

// joinAkin puts the odd files of a set with the set.
func joinAkin(groups [][]*Signature) [][]*Signature {
	few := make([]int, len(groups))
	for i := range few {
		few[i] = i
	}
	sort.SliceStable(few, func(i, j int) bool { return len(groups[few[i]]) < len(groups[few[j]]) })
	gone := make([]bool, len(groups))
	for k, odd := range few {
		for _, set := range slices.Backward(few[k+1:]) {
			if ofOneSet(groups[set], groups[odd]) {
				groups[set] = append(slices.Clone(groups[set]), groups[odd]...)
				gone[odd] = true
				break
			}
		}
	}
	var out [][]*Signature
	for i, g := range groups {
		if !gone[i] {
			out = append(out, g)
		}
	}
	return out
}

// ofOneSet reports whether the names say that files are of a set, and the stitches how
// they differ from it.
func ofOneSet(set, odd []*Signature) bool {
	first := func(k int, of []*Signature) bool { // of its size: the others need not be asked
		return !slices.ContainsFunc(of[:k], func(e *Signature) bool { return e.Stitches == of[k].Stitches && sameSize(e, of[k]) })
	}
	for k, other := range set {
		if !first(k, set) {
			continue
		}
		for i, s := range odd {
			if !first(i, odd) || !namedAlike(other, s) || len(set) < akinFiles && !strings.EqualFold(other.title(), s.title()) {
				continue
			}
			if _, ok := varies(other, s); ok {
				return true
			}
		}
	}
	return false
}

// varies tells how b differs from a, of which it is meant to be another size or format;
// not ok where it is none as far as can be seen.
func varies(a, b *Signature) (variant, bool) {
	switch n := len(a.stops) - len(b.stops); {
	case thinning(max(a.Stitches, b.Stitches)) != 1 || min(len(a.stops), len(b.stops)) == 0 || max(len(a.stops), len(b.stops)) > mostStops:
		return variant{}, false
	case n == 0 && (sharesStops(a, b) || unevenlyOver(a, b)):
		return variant{}, true
	case n == 0 && !sameKinds(a, b):
		return variant{}, false
	case n == 0:
		return laidAnyhow(a, b)
	case n > 0:
		return lessStops(a, b)
	}
	v, ok := lessStops(b, a)
	v.fuller = ok
	return v, ok
}

// lessStops tells how b, which has fewer stops, differs from a.
func lessStops(a, b *Signature) (variant, bool) {
	if len(a.stops)-len(b.stops) <= akinLacking {
		if out, ok := lacks(a, b); ok {
			return variant{lacking: out}, true
		}
	}
	first := joins(a, b)
	return variant{joined: first}, first != nil
}

// sameKinds reports whether as many stops of each kind are in both.
func sameKinds(a, b *Signature) bool {
	var n [report.KindCount]int
	for i := range a.stops {
		n[a.stops[i].mainKind()]++
		n[b.stops[i].mainKind()]--
	}
	return n == [report.KindCount]int{}
}

// laidAnyhow looks whether b is a as it lies, with its stops in another order, or turned
// or mirrored.
func laidAnyhow(a, b *Signature) (variant, bool) {
	plain := akinAs(a, b, variant{})
	if plain >= akinWhole {
		return variant{}, true
	}
	var best variant
	most := 0.0
	if order := byLook(a, b); order != nil {
		best.order = order
		most = akinAs(a, b, best)
	}
	for q := range 4 {
		for _, m := range []bool{false, true} {
			if v := (variant{quarters: q, mirrored: m}); !v.straight() {
				if like := akinAs(a, b, v); like > most {
					best, most = v, like
				}
			}
		}
	}
	return best, most >= akinWhole && most >= plain+akinBetter
}

// akinAs tells how alike a is to b when b is laid back as the variant says: 0 where the
// stops do not agree.
func akinAs(a, b *Signature, v variant) float64 {
	if !shapedAlike(a, b, v.quarters) {
		return 0
	}
	sum := 0.0
	for i := range a.stops {
		j := i
		if v.order != nil {
			j = v.order[i]
		}
		like := a.stops[i].sketch.laid(stopSketch, v.quarters, v.mirrored).like(b.stops[j].sketch)
		if like < akinStop || a.stops[i].mainKind() != b.stops[j].mainKind() {
			return 0
		}
		sum += like
	}
	if sum < akinStops*float64(len(a.stops)) {
		return 0
	}
	return a.whole.laid(wholeSketch, v.quarters, v.mirrored).like(b.whole)
}

// shapedAlike reports whether the boxes of two designs have one shape, when one is turned
// by quarters.
func shapedAlike(a, b *Signature, quarters int) bool {
	w, h := b.WidthMM, b.HeightMM
	if quarters%2 == 1 {
		w, h = h, w
	}
	return math.Abs(math.Log((a.WidthMM+1)/(a.HeightMM+1)/((w+1)/(h+1)))) <= akinAspect
}

// laid is a sketch mirrored and then turned by quarters, anticlockwise.
func (g sketch) laid(n, quarters int, mirrored bool) sketch {
	if quarters == 0 && !mirrored {
		return g
	}
	out := make(sketch, len(g))
	for y := range n {
		for x := range n {
			u, v := x, y
			if mirrored {
				u = n - 1 - u
			}
			for range quarters {
				u, v = n-1-v, u
			}
			out[v*n+u] = g[y*n+x]
		}
	}
	return out
}

// byLook pairs the stops of two designs that look most alike, whatever their order: nil
// where not all can be paired, or they come in the same order.
func byLook(a, b *Signature) []int {
	type pair struct {
		i, j int
		like float64
	}
	var pairs []pair
	for i := range a.stops {
		for j := range b.stops {
			if like := a.stops[i].sketch.like(b.stops[j].sketch); like >= akinStop && a.stops[i].mainKind() == b.stops[j].mainKind() {
				if i == j {
					like += akinBetter // stops that look alike are not told apart by their order
				}
				pairs = append(pairs, pair{i, j, like})
			}
		}
	}
	sort.SliceStable(pairs, func(i, j int) bool { return pairs[j].like < pairs[i].like })
	order, taken, left := make([]int, len(a.stops)), make([]bool, len(b.stops)), len(a.stops)
	for i := range order {
		order[i] = -1
	}
	for _, p := range pairs {
		if order[p.i] < 0 && !taken[p.j] {
			order[p.i], taken[p.j] = p.j, true
			left--
		}
	}
	if left > 0 || slices.IsSorted(order) {
		return nil
	}
	return order
}

// draw draws the stitches of a stop.
func (s *Signature) draw(i int, pen *sketching, stop, whole sketch) {
	p, first := s.pointsOf(i), s.stops[i].first
	at, _ := slices.BinarySearch(s.lifts, first+1)
	lifts := s.lifts[at:]
	for k := 1; k < len(p); k++ {
		if len(lifts) > 0 && lifts[0] == first+k {
			lifts = lifts[1:]
			continue
		}
		pen.line(stop, whole, p[k-1], p[k])
	}
}

// sharesStops reports whether two files are of one size though their boxes differ: one
// lacks a stop or has a piece elsewhere, and all stops that both have are sewn alike to
// the needle point.
func sharesStops(a, b *Signature) bool {
	if len(a.stops) < len(b.stops) {
		a, b = b, a
	}
	_, ok := lacksOf(a, b)
	return ok
}

// lacksOf lists the stops of a that b has not, where all stops of b are those of a to the
// needle point.
func lacksOf(a, b *Signature) ([]int, bool) {
	var out []int
	i := 0
	for j := range b.stops {
		for ; i < len(a.stops) && !samePath(a.pointsOf(i), b.pointsOf(j)); i++ {
			out = append(out, i)
		}
		if i++; i > len(a.stops) {
			return nil, false
		}
	}
	for ; i < len(a.stops); i++ {
		out = append(out, i)
	}
	return out, len(out) <= akinLacking && (len(b.stops) >= akinLeast || len(b.points) >= leastCommon)
}

// samePath reports whether the needle goes the same way in both, wherever that lies.
func samePath(p, q []needlePoint) bool {
	if len(p) != len(q) || len(p) == 0 {
		return false
	}
	dx, dy := float64(q[0].x)-float64(p[0].x), float64(q[0].y)-float64(p[0].y)
	for k := range p {
		if math.Abs(float64(q[k].x)-float64(p[k].x)-dx) > 2*roundsTo || math.Abs(float64(q[k].y)-float64(p[k].y)-dy) > 2*roundsTo {
			return false
		}
	}
	return true
}
