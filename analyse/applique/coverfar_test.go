package applique

import "testing"

// Satin may lie further outside a line where it goes round it evenly: it is the line set out.
func TestSatinFarOutside(t *testing.T) {
	even := func(out, width, uneven, share float64) *round {
		lo, hi := -out-width, -out
		return &round{made: satinMade, lo: lo - uneven, hi: hi, q1: lo, q3: hi, share: share}
	}
	for _, c := range []struct {
		name string
		r    *round
		want bool
	}{
		{"3.3 mm outside", even(3.3, 3, 0.2, 1), true},
		{"3.7 mm outside", even(3.7, 3, 0.2, 1), false},
		{"3 mm outside, its holes 1.1 mm uneven", even(3, 3, 1.1, 1), true},
		{"3 mm outside, its holes 1.3 mm uneven", even(3, 3, 1.3, 1), false},
		{"3 mm outside, along 92 % of the line", even(3, 3, 0.2, 0.92), true},
		{"3 mm outside, along 88 % of the line", even(3, 3, 0.2, 0.88), false},
	} {
		if got := c.r.mayCover(0); got != c.want {
			t.Errorf("satin %s may cover its edge: %v", c.name, got)
		}
	}
	open := even(3, 3, 0.2, 1)
	open.made = zigzag
	if open.mayCover(0) {
		t.Error("a zigzag so far outside may cover the edge")
	}
}

// What is sewn once more on the very line, in a stop of its own, tells that satin far outside
// is its cover; what lies aside of it does not.
func TestSatinFarOutsideWeighs(t *testing.T) {
	weigh := func(middle float64, stop int) evidence {
		tack := &round{made: double, stop: stop, share: 1, middle: middle, lo: middle - 0.1, hi: middle + 0.1}
		cover := &round{made: satinMade, stop: 3, share: 1, lo: -5.3, hi: -2.3, q1: -5.3, q3: -2.3}
		c := &chain{line: &Trace{Stop: 1}, samples: 1, rounds: []*round{tack, cover}}
		return c.coverEvidence(&option{tack: tack, cover: []*round{cover}})
	}
	on := weigh(0.45, 2)
	if off := weigh(0.55, 2); on-off < 1 {
		t.Errorf("on the line %.1f, aside of it %.1f", on, off)
	}
	if one := weigh(0.45, 1); on-one < 1 {
		t.Errorf("in a stop of its own %.1f, in the line's %.1f", on, one)
	}
}
