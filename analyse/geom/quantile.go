package geom

import (
	"math/bits"
	"slices"
)

// Quantile is the value below which the share q of the sorted values lies, by
// linear interpolation between order statistics (Hyndman and Fan, American
// Statistician 50, 1996, definition 7).
func Quantile(sorted []float64, q float64) float64 {
	if len(sorted) == 0 {
		return 0
	}
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// QuantileOf is Quantile of unsorted values, of which it changes the order.
func QuantileOf(v []float64, q float64) float64 {
	n := len(v)
	if n == 0 {
		return 0
	}
	at := q * float64(n-1)
	i := int(at)
	if i >= n-1 {
		return slices.Max(v)
	}
	selectIn(v, i)
	return v[i] + (at-float64(i))*(slices.Min(v[i+1:])-v[i])
}

// QuantilesOf puts in place of each of the rising shares the QuantileOf it.
func QuantilesOf(v []float64, shares []float64) {
	if len(v) == 0 {
		clear(shares)
		return
	}
	quantilesIn(v, 0, len(v), shares)
}

// quantilesIn is QuantilesOf where v holds those of n values that have the ranks from
// first on: the middle share parts them for the others.
func quantilesIn(v []float64, first, n int, shares []float64) {
	if len(shares) == 0 {
		return
	}
	at := func(i int) float64 { return shares[i] * float64(n-1) }
	mid := len(shares) / 2
	k := int(at(mid)) - first
	selectIn(v, k)
	this, next := v[k], v[k]
	if k+1 < len(v) {
		next = v[k+1]
		for _, x := range v[k+2:] {
			if x < next {
				next = x
			}
		}
	}
	from, to := mid, mid+1 // of the shares that lie between these two
	for from > 0 && int(at(from-1))-first == k {
		from--
	}
	for to < len(shares) && int(at(to))-first == k {
		to++
	}
	for i := from; i < to; i++ {
		shares[i] = this + (at(i)-float64(k+first))*(next-this)
	}
	quantilesIn(v[:k+1], first, n, shares[:from])
	quantilesIn(v[k+1:], first+k+1, n, shares[to:])
}

// Nth is the value of unsorted values, of which it changes the order, that k others are
// before in rising order.
func Nth(v []float64, k int) float64 {
	selectIn(v, k)
	return v[k]
}

// selectIn puts the value of rank k in its place, with none greater before it and none
// less behind (Hoare, Algorithm 65: Find, 1961). Where it does not come on, it sorts. Values
// come in no order that a processor could guess, so they are parted without a branch.
func selectIn(v []float64, k int) {
	for tries := 2 * bits.Len(uint(len(v))); len(v) > 12 && tries > 0; tries-- {
		a, b, c := v[len(v)/4], v[len(v)/2], v[3*len(v)/4]
		pivot := max(min(a, b), min(max(a, b), c))
		less := 0
		for i, x := range v {
			v[i], v[less] = v[less], x
			step := 0
			if x < pivot {
				step = 1
			}
			less += step
		}
		switch {
		case k < less:
			v = v[:less]
			continue
		case less > 0:
			v, k = v[less:], k-less
			continue
		}
		same := 0 // none is less than the pivot
		for i, x := range v {
			v[i], v[same] = v[same], x
			step := 0
			if x <= pivot {
				step = 1
			}
			same += step
		}
		if k < same {
			return
		}
		v, k = v[same:], k-same
	}
	slices.Sort(v)
}
