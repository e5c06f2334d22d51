package analyse_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// figures are the numbers of a message that measure something.
var figures = regexp.MustCompile(`(\d+(?:\.\d+)?)( mm\b| in\b| %| needle holes| layers| is too many)`)

// saysItsLimit reports whether a message tells the number twice that is its limit as
// written: that which comes nearest.
func saysItsLimit(f *report.Finding) bool {
	nearest, n := math.Inf(1), 0
	var written float64
	for _, m := range figures.FindAllStringSubmatch(f.Message, -1) {
		limit := f.Limit
		switch m[2] {
		case " in":
			limit /= 25.4
		case " %":
			limit *= 100
		}
		v, _ := strconv.ParseFloat(m[1], 64)
		switch off := math.Abs(v - limit); {
		case n > 0 && v == written:
			n++
		case off < nearest && off < 0.05*limit:
			nearest, written, n = off, v, 1
		}
	}
	return n > 1
}

// What a measure says is never its own limit in the same digits: "shorter than 0.5 mm,
// the shortest 0.5 mm" tells nobody what is wrong. On real designs, the known cases and
// the truth sets, with each limit as it is, and with one a hair's breadth from the figure.
func TestMeasureIsNotItsLimitInTheSameDigits(t *testing.T) {
	for message, want := range map[string]bool{
		"3 stitches are shorter than 0.5 mm, the shortest 0.5 mm (stop 2)":           true,
		"3 stitches are shorter than 0.5 mm, the shortest 0.50 mm, 0.5 mm apart":     true,
		"3 stitches are shorter than 0.5 mm, the shortest 0.49 mm, 0.53 mm the next": false,
	} {
		if got := saysItsLimit(&report.Finding{Limit: 0.5, Unit: "mm", Message: message}); got != want {
			t.Fatalf("%s: %v, want %v", message, got, want)
		}
	}
	messages := 0
	look := func(name string, d *stitchfile.Design) {
		for _, units := range []string{"mm", "inch", "both"} {
			s := report.DefaultSettings()
			s.Units = units
			r := mustRun(d, s)
			near := map[string]float64{}
			check := func(r *report.Report) {
				for i := range r.Findings {
					f := &r.Findings[i]
					messages++
					if saysItsLimit(f) && f.Rule != "edge-uncovered" { // that tells the trim allowance, not its limit
						t.Errorf("%s, in %s: %s: %s (measured %v, limit %v)", name, units, f.Rule, f.Message, f.Measured, f.Limit)
					}
					if _, named := report.LimitNamed(f.Rule); named && f.Rule != "no-tie" && f.Limit > 0 {
						// So near to the figure that two digits would not tell them apart.
						near[f.Rule] = f.Measured + map[bool]float64{true: 0.004, false: -0.004}[f.Measured < f.Limit]
					}
				}
			}
			check(r)
			if len(near) > 0 {
				s.Limits = near
				check(mustRun(d, s))
			}
		}
	}
	for _, pattern := range []string{"designs/*/*", "cases/*"} {
		paths, _ := filepath.Glob(filepath.Join("..", "..", "shared", pattern))
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				continue // a folder
			}
			if d, _ := stitchfile.Decode(bytes.NewReader(data)); d != nil {
				look(filepath.Base(path), d)
			}
		}
	}
	for i, w := range toldOfWays() {
		if i%12 == 0 {
			look(w.Way.Name, w.Way.Design)
		}
	}
	t.Logf("%d messages", messages)
}
