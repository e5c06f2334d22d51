package geom

import "math"

// Clip gives the t for which lo <= m t + k <= hi; to lies before from where there are none.
func Clip(m, k, lo, hi float64) (from, to float64) {
	if math.Abs(m) < 1e-9 {
		if k < lo || k > hi {
			return 1, 0
		}
		return math.Inf(-1), math.Inf(1)
	}
	from, to = (lo-k)/m, (hi-k)/m
	if m < 0 {
		from, to = to, from
	}
	return from, to
}
