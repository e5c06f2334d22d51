package analyse_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// All that is told of designs of known truth that has to do with their applique, with
// its severity: CASES.md of the shared folder tells what is true of them.
func TestFindingsOfCases(t *testing.T) {
	type told struct {
		rule     string
		severity report.Severity
	}
	ofPieces := []string{"thin-cover", "edge-uncovered", "tack-down-in-sight", "tack-down-astray", "open-outline", "cover-missing", "no-pause-to-trim", "wrong-order", "narrow-satin"}
	for _, c := range []struct {
		file  string
		want  []told
		bare  float64 // mm of cut edge of all pieces, within an eighth
		parts int     // stretches of it
	}{
		{file: "openzig-banana.exp"},
		{file: "bean-tack.exp"},
		{file: "blanket-flower.dst"},
		{file: "capped-house.pes"},
		{file: "cover-pitch-1.0.dst", want: []told{{"thin-cover", report.Fault}}},
		{file: "cover-pitch-1.2.dst", want: []told{{"thin-cover", report.Fault}}},
		// 8 mm by geometry; the threads beside each corner hide a little of it.
		{file: "open-corners.dst", want: []told{{"edge-uncovered", report.Fault}}, bare: 8, parts: 4},
		{file: "shiftout23.dst", want: []told{{"tack-down-in-sight", report.Caution}}},
		{file: "blanketcover.dst", want: []told{{"edge-uncovered", report.Note}}},
		{file: "neck-15mm.dst", want: []told{{"narrow-satin", report.Caution}}},
	} {
		t.Run(c.file, func(t *testing.T) {
			r := shared(t, "cases/"+c.file)
			var got []told
			for _, f := range r.Findings {
				if slices.Contains(ofPieces, f.Rule) && !slices.Contains(got, told{f.Rule, f.Severity}) {
					got = append(got, told{f.Rule, f.Severity})
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("told %v, want %v", got, c.want)
			}
			bare, parts := 0.0, 0
			for _, p := range r.Pieces {
				for _, g := range p.Gaps {
					if !g.Open && g.LengthMM >= rules.KnownGap {
						bare, parts = bare+g.LengthMM, parts+1
					}
				}
			}
			near(t, "bare edge", bare, c.bare, c.bare/8)
			if parts != c.parts {
				t.Errorf("%d stretches are bare, want %d", parts, c.parts)
			}
		})
	}
	// The more open a cover, the worse.
	share := func(file string) float64 {
		for _, f := range shared(t, "cases/"+file).Findings {
			if f.Rule == "thin-cover" {
				return f.Measured
			}
		}
		return 1
	}
	if a, b := share("cover-pitch-1.0.dst"), share("cover-pitch-1.2.dst"); b >= a {
		t.Errorf("%.2f under thread at 1.2 mm, %.2f at 1.0 mm", b, a)
	}
}
