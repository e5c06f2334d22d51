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
	mid := len(shares) / 2
	at := shares[mid] * float64(n-1)
	k := int(at) - first
	selectIn(v, k)
	left := v[:k+1]
	q := v[k]
	if k+1 < len(v) {
		next := k + 1
		for i := next + 1; i < len(v); i++ {
			if v[i] < v[next] {
				next = i
			}
		}
		v[k+1], v[next] = v[next], v[k+1]
		q += (at - float64(k+first)) * (v[k+1] - v[k])
		left = v[:k+2] // one of them may lie between these two, as well
	}
	quantilesIn(left, first, n, shares[:mid])
	quantilesIn(v[k:], first+k, n, shares[mid+1:])
	shares[mid] = q
}

// Nth is the value of unsorted values, of which it changes the order, that k others are
// before in rising order.
func Nth(v []float64, k int) float64 {
	selectIn(v, k)
	return v[k]
}

// selectIn puts the value of rank k in its place, with none greater before it and none
// less behind (Hoare, Algorithm 65: Find, 1961). Where it does not come on, it sorts.
func selectIn(v []float64, k int) {
	for tries := 2 * bits.Len(uint(len(v))); len(v) > 12; tries-- {
		if tries == 0 {
			break
		}
		a, b, c := v[0], v[len(v)/2], v[len(v)-1]
		pivot := max(min(a, b), min(max(a, b), c))
		i, j := 0, len(v)-1
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			v = v[:j+1]
		case k >= i:
			v, k = v[i:], k-i
		default:
			return
		}
	}
	slices.Sort(v)
}
