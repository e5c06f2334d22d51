package geom

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// What is selected must be what stands there when all is sorted, of values in any
// order, with many alike.
func TestQuantileOf(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	fill := map[string]func(i, n int) float64{
		"any":       func(int, int) float64 { return rnd.NormFloat64() },
		"few":       func(int, int) float64 { return float64(rnd.IntN(3)) },
		"rising":    func(i, _ int) float64 { return float64(i) },
		"falling":   func(i, _ int) float64 { return float64(-i) },
		"one":       func(int, int) float64 { return 0.4 },
		"organ":     func(i, n int) float64 { return float64(min(i, n-i)) },
		"two heaps": func(i, _ int) float64 { return float64(i%2) + 1e-9*float64(i) },
	}
	for name, f := range fill {
		for _, n := range []int{1, 2, 3, 12, 13, 100, 5000} {
			v := make([]float64, n)
			for i := range v {
				v[i] = f(i, n)
			}
			sorted := slices.Sorted(slices.Values(v))
			for _, q := range []float64{0, 0.05, 0.5, 0.95, 0.999, 1} {
				if got, want := QuantileOf(slices.Clone(v), q), Quantile(sorted, q); got != want {
					t.Errorf("%s, %d values, %v: %v, want %v", name, n, q, got, want)
				}
			}
			for _, shares := range [][]float64{{0.05, 0.5, 0.95}, {0, 0.01, 0.5, 0.51, 1}, {0.5}, {}} {
				got := slices.Clone(shares)
				QuantilesOf(slices.Clone(v), got)
				for i, q := range shares {
					if want := Quantile(sorted, q); got[i] != want {
						t.Errorf("%s, %d values, %v of %v: %v, want %v", name, n, q, shares, got[i], want)
					}
				}
			}
		}
	}
	none := []float64{0.5}
	if QuantilesOf(nil, none); QuantileOf(nil, 0.5) != 0 || none[0] != 0 {
		t.Error("no values have a quantile")
	}
}
