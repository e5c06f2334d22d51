package words

import "github.com/stopcard/stopcard/analyse/report"

// Where names the stops of a finding: "stop 3", "stops 2 to 8, even"; "" where it is
// about the whole design.
func Where(f *report.Finding) string {
	switch {
	case len(f.Stops) > 0:
		return ListStops(f.Stops)
	case f.Stop > 0:
		return ListStops([]int{f.Stop})
	}
	return ""
}
