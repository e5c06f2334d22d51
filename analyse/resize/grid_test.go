package resize

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// How far a grid passes by its peak on a smaller design: as far as its law and the grain
// of its cells say, and no further than what was looked at.
func TestHowFarGridsPassByTheirPeak(t *testing.T) {
	s := &search{
		resizer: &resizer{settings: report.DefaultSettings()},
		c: &check{way: report.Shrinking, grain: measure.GridGrain, law: layersLaw, peak: func(*measure.Pass) float64 { return 0 },
			bound: func(*measure.Pass) float64 { return 4 }},
		asked: map[float64]*tried{},
	}
	for _, c := range []struct {
		peak float64
		want int
	}{
		{4, 90},    // 80 % and 12 % more: not even the next
		{3.58, 81}, // 80.2 %
		{3.57, 80}, // 79.97 %: just the one measured
		{3.4, 77},  // 76.2 %
		{3.3, 74},  // 73.9 %
		{3.2, 72},  // 71.7 %, where it was looked at to 72 %
		{1, 72},
	} {
		s.asked[0.8] = &tried{peak: c.peak}
		if got, ok := s.gridLead(80); !ok || got != c.want {
			t.Errorf("a peak of %.2f of 4 at 80 %%: passes down to %d %%, want %d %%", c.peak, got, c.want)
		}
	}
	if _, ok := s.gridLead(70); ok {
		t.Error("a scale that was not measured tells how far it passes")
	}
}
