package words

import (
	"testing"
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
