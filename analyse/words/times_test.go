package words

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

func TestTimeWords(t *testing.T) {
	for _, c := range []struct {
		minutes      float64
		plain, about string
	}{
		{0, "under 1 min", "under 1 min"},
		{0.49, "under 1 min", "under 1 min"},
		{0.5, "1 min", "about 1 min"},
		{59.4, "59 min", "about 59 min"},
		{59.5, "1 h 00 min", "about 1 h 00 min"},
		{65, "1 h 05 min", "about 1 h 05 min"},
	} {
		if got := TimeWords(c.minutes); got != c.plain {
			t.Errorf("%v: %q, want %q", c.minutes, got, c.plain)
		}
		if got := AboutTime(c.minutes); got != c.about {
			t.Errorf("%v: %q, want %q", c.minutes, got, c.about)
		}
	}
}

// The two parts of a time are told where each takes a minute.
func TestTimeOfBoth(t *testing.T) {
	for _, c := range []struct {
		machine, hands float64
		want           string
	}{
		{0.1, 0.1, "under 1 min"},
		{0.2, 1, "about 1 min, nearly all of it hand work"},
		{7, 0.4, "about 7 min, the machine alone"},
		{37, 24.2, "about 1 h 01 min: machine 37 min, hands 24 min"},
		{1.6, 0.7, "about 3 min: machine 2 min, hands 1 min"},
	} {
		r := report.Report{Minutes: c.machine + c.hands, MachineMin: c.machine, HandMin: c.hands}
		if got := TimeOfBoth(&r); got != c.want {
			t.Errorf("%v and %v: %q, want %q", c.machine, c.hands, got, c.want)
		}
	}
}

func TestPartedTime(t *testing.T) {
	for _, c := range []struct {
		minutes, machine float64
		want             string
	}{
		{0.3, 0.2, "under 1 min"}, {3.4, 1.6, "machine 2 min, hands 2 min"}, {1.73, 0.4, "machine under 1 min, hands 1 min"}, {125, 61, "machine 1 h 01 min, hands 1 h 04 min"}, {2, 0.2, "machine under 1 min, hands 2 min"},
	} {
		if got := PartedTime(c.minutes, c.machine); got != c.want {
			t.Errorf("%v of %v: %q, want %q", c.machine, c.minutes, got, c.want)
		}
	}
	if a, b := CellTime(0.4), CellTime(61); a != "<1 min" || b != "1 h 01 min" {
		t.Errorf("%q and %q", a, b)
	}
}
