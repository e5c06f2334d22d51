package resize

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/report"
)

// Percent writes a scale in percent, as machines show it.
func Percent(scale float64) string { return fmt.Sprintf("%.0f %%", 100*scale) }

// RoundWithin rounds a scale to a whole percent, towards 100 %, so that what is
// written does not lie past a limit.
func RoundWithin(scale float64, d report.Direction) float64 {
	return float64(report.WholePercent(scale, d)) / 100
}

// PercentWithin is Percent of RoundWithin.
func PercentWithin(scale float64, d report.Direction) string { return Percent(RoundWithin(scale, d)) }
