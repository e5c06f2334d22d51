package rules

import (
	"math"

	"github.com/stopcard/stopcard/analyse/report"
)

// worstColumns gives one finding for each stop, for the worst of its columns.
func worstColumns(p *Pass, measure func(*report.SatinColumn) (value, limit float64, bad bool), make func(s *report.Stop, c *report.SatinColumn, n int, length, worst float64) report.Finding) []report.Finding {
	var out []report.Finding
	cols := p.Report.SatinColumns
	for i := 0; i < len(cols); {
		stop := cols[i].Stop
		n, worst, by := 0, i, 0.0
		var length float64
		for ; i < len(cols) && cols[i].Stop == stop; i++ {
			v, limit, bad := measure(&cols[i])
			if !bad {
				continue
			}
			n++
			length += cols[i].LengthMM
			if d := math.Abs(v - limit); d > by || n == 1 {
				worst, by = i, d
			}
		}
		if n > 0 {
			v, _, _ := measure(&cols[worst])
			f := make(&p.Report.Stops[stop-1], &cols[worst], n, length, v)
			f.Stop = stop
			out = append(out, f)
		}
	}
	return out
}
