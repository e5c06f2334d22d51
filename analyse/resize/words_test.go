package resize

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

func TestLimitWords(t *testing.T) {
	layers := func(now, then float64) report.ResizeLimit {
		return report.ResizeLimit{Direction: report.Shrinking, Rule: "stacked-layers", Name: "stacked-layers", Scale: 0.9, Stop: 4,
			Now: now, Measured: then, Limit: 4.4, Unit: "layers", Reason: "thread piles up"}
	}
	already := layers(5, 5)
	already.Already = true
	settings := report.DefaultSettings()
	for _, c := range []struct {
		limit report.ResizeLimit
		want  string
	}{
		{layers(3.4, 4.5), "stop 4: thread piles up (thread 3.4 layers -> 4.5 layers, limit 4.4 layers)"},
		{layers(4.4, 4.5), "stop 4: thread piles up (thread 4.4 layers -> 4.5 layers, limit 4.4 layers)"},
		{layers(4.43, 4.43), "stop 4: thread piles up (thread 4.4 layers as it is, on a spot so small that it sews well; limit 4.4 layers)"},
		{layers(6, 6.2), "stop 4: thread piles up (thread 6.0 layers as it is, on a spot so small that it sews well; limit 4.4 layers)"},
		{already, "stop 4: already so, smaller makes it worse: thread piles up (thread 5.0 layers, limit 4.4 layers)"},
		{report.ResizeLimit{Direction: report.Growing, Rule: "edge-uncovered", Name: "edge-uncovered", Stop: 5, Piece: 2, Measured: 1.29, Limit: 1, Unit: "mm", Reason: "gaps grow"},
			"stop 5, piece 2: gaps grow (edge that shows 0.00 mm -> 1.29 mm, limit 1.00 mm)"},
		{report.ResizeLimit{Direction: report.Growing, Rule: "outside-hoop", Name: "outside-hoop", Now: 180.01, Measured: 180.04, Limit: 180, Unit: "mm", Reason: "it no longer fits"},
			"whole design: it no longer fits (side just within -> 180.0 mm, limit 180.0 mm)"},
	} {
		if got := LimitWords(&c.limit, words.UnitsOf(&settings)); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
