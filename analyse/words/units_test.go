package words

import "testing"

func TestUnits(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Both.Size(100, 50.8), "100.0 x 50.8 mm (3.94 x 2.00 in)"},
		{Metric.Size(100, 50.8), "100.0 x 50.8 mm"},
		{Inches.Size(101.6, 50.8), "4.00 x 2.00 in"},
		{Both.Length(12.7), "12.7 mm (0.50 in)"},
		{Inches.Metres(9.144), "10.0 yd"},
		{Both.Stretch(41.3), "41 mm (1 5/8 in)"},
		{Inches.Stretch(41.3), "1 5/8 in"},
		{Metric.Stretch(2.54), "2.5 mm"},
		{Both.Stitch(0.589), "0.59 mm"},
		{Both.Stitch(27.64), "27.6 mm"},
		{Inches.Stitch(2.54), "0.10 in"},
		{Both.Field(130, 180), "130 x 180 mm (5.12 x 7.09 in)"},
		{Inches.Field(127, 177.8), "5 x 7 in"},
		{Both.Cut(100.2, 50.8), "101 x 51 mm (4 x 2 in)"},
		{Both.Cut(101.7, 50.8), "102 x 51 mm (4 1/8 x 2 in)"},
		{Both.Small(1.5), "1.5 mm"},
		{Inches.Small(1.5), "0.059 in"},
		{Both.One().Stretch(50.8), "51 mm"},
		{Inches.One().Stretch(50.8), "2 in"},
		{Metric.Holes(4.5), "4.5 holes/mm2"},
		{Inches.Holes(4.5), "45 holes to a square of 1/8 in"}, // 4.5 x 3.175 x 3.175 = 45.4
		{Inches.HoopFor(127, 177), "hoop of 5.12 x 7.09 in, or larger"},
		{Count(2, "stitch"), "2 stitches"},
		{Count(1, "stop"), "1 stop"},
		{UpToEighth(25.5), "1 1/8"},
		{UpToEighth(50.8), "2"},
		{NearestEighth(6.4), "1/4"},
		{Figure(4.50, 2), "4.5"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// A figure past its limit never reads as the limit itself.
func TestPast(t *testing.T) {
	for _, c := range []struct {
		value, limit float64
		v, l         string
	}{
		{0.499, 0.5, "0.499 mm", "0.5 mm"}, {0.4, 0.5, "0.40 mm", "0.5 mm"}, {9.04, 9, "9.04 mm", "9 mm"}, {9.3, 9, "9.3 mm", "9 mm"},
	} {
		if v, l := Both.StitchPast(c.value, c.limit); v != c.v || l != c.l {
			t.Errorf("%v past %v: %q and %q, want %q and %q", c.value, c.limit, v, l, c.v, c.l)
		}
	}
	if v, l := PercentPast(0.8496, 0.85); v != "84.96 %" && v != "85.0 %" || l != "85 %" || v == l {
		t.Errorf("%q and %q", v, l)
	}
	if v, l := Past(4.53, 4.5, 1); v != "4.53" && v != "4.5" || l != "4.5" || v == l {
		t.Errorf("%q and %q", v, l)
	}
}

// A figure and its limit as written stand to one another as they do.
func TestPastAsWritten(t *testing.T) {
	for _, c := range []struct {
		value, limit float64
		v, l         string
	}{
		{11.3, 9, "11.3", "9"},
		{9.01, 9, "9.01", "9"},
		{9.00004, 9, "9.00004", "9"},
		{0.496, 0.5, "0.496", "0.5"},
		{46.3001, 46.2961, "46.3", "46.296"},
		{8.96, 8.9549, "9.0", "8.955"},
		{5, 5, "5.0", "5"},
	} {
		if v, l := Past(c.value, c.limit, 1); v != c.v || l != c.l {
			t.Errorf("%v past %v: %s and %s, want %s and %s", c.value, c.limit, v, l, c.v, c.l)
		}
	}
}
