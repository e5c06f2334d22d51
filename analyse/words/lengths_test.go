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

// What scissors must keep within is told in inches by the marks of a ruler, and never more.
func TestWithin(t *testing.T) {
	for _, c := range []struct {
		units Units
		mm    float64
		want  string
	}{
		{Inches, 1, "1/32 in"}, {Inches, 1.58, "1/32 in"}, {Inches, 1.6, "1/16 in"}, {Inches, 2, "1/16 in"}, {Inches, 6.35, "1/4 in"}, {Inches, 0.7, "0.028 in"}, {Inches, 30, "1.181 in"},
		{Metric, 1, "1 mm"}, {Both, 1.5, "1.5 mm"},
	} {
		if got := c.units.Within(c.mm); got != c.want {
			t.Errorf("%g mm in %s: %q, want %q", c.mm, c.units, got, c.want)
		}
	}
}
