package words

import "testing"

// A yard is 914.4 mm exactly (international yard, 1959).
func TestEighths(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		n    int
		text string
	}{
		{0, 0, "0 yd"}, {1, 1, "1/8 yd"}, {114.3, 1, "1/8 yd"}, {114.4, 2, "1/4 yd"}, {457.2, 4, "1/2 yd"},
		{600, 6, "3/4 yd"}, {914.4, 8, "1 yd"}, {915, 9, "1 1/8 yd"}, {1371.6, 12, "1 1/2 yd"}, {2286, 20, "2 1/2 yd"},
	} {
		if n := Eighths(c.mm); n != c.n || Yards(n) != c.text {
			t.Errorf("%g mm: %d eighths, %q; want %d, %q", c.mm, n, Yards(n), c.n, c.text)
		}
	}
}
