package resize

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// coveredBy is a piece of applique under satin along another line than its own.
func coveredBy(outline, along st.Path, width float64) *stitchfile.Design {
	b := new(st.Builder).Run(outline, 2.5).TieOff().Stop().Run(outline, 2).TieOff().Stop()
	return b.Satin(along, st.SatinAlong{Width: width, Pitch: 0.4}).TieOff().Design()
}

// What is said of an edge that shows is true of it: why, and whether it becomes worse.
func TestWhatIsSaidOfBareEdges(t *testing.T) {
	const gaps, further = "gaps in the cover grow with the design", "the cover comes to lie further inside the cut edge"
	ring, spike := st.Circle(st.Point{}, 25), st.Path{{X: -20, Y: -15}, {X: 20, Y: -15}, {X: 60}, {X: 20, Y: 15}, {X: -20, Y: 15}, {X: -20, Y: -15}}
	for _, c := range []struct {
		name            string
		design          *stitchfile.Design
		larger, smaller string // "" where it is not said to become worse
	}{
		{"a gap of 6 mm in a cover 5 mm wide", coveredBy(ring, st.Arc(st.Point{}, 25, 0.12, 2*math.Pi-0.12), 5), gaps, ""},
		{"a gap of 6 mm in a cover 2.4 mm wide", coveredBy(ring, st.Arc(st.Point{}, 25, 0.12, 2*math.Pi-0.12), 2.4), gaps, noReach},
		{"a cover 1.6 mm wide", coveredBy(ring, ring, 1.6), "", noReach},
		{"a cover 0.5 mm inside", coveredBy(ring, ring.Offset(2.5), 4), further, ""},
		{"a tip that sticks out of a cover 3 mm wide", coveredBy(spike, spike, 3), further, noReach},
	} {
		rec := mustRecognise(c.design)
		said := map[report.Direction]string{}
		z := mustLimit(rec, report.DefaultSettings())
		for _, l := range z.Limits {
			if l.Rule == "edge-uncovered" && l.Already {
				said[l.Direction] = l.Reason
			}
		}
		if said[report.Growing] != c.larger || said[report.Shrinking] != c.smaller {
			t.Errorf("%s: larger %q, smaller %q", c.name, said[report.Growing], said[report.Shrinking])
		}
		// What shows of the edge, all of which is looked at.
		bare := func(scale float64) float64 {
			p, err := measure.NewPass(t.Context(), rec, report.DefaultSettings(), scale)
			if err != nil || p.Do(measure.Pieces) != nil {
				t.Fatal(err)
			}
			return rules.BareMM(p.Report.Piece(1))
		}
		if larger, now := bare(1.3), bare(1); (larger > now*1.01) != (c.larger != "") {
			t.Errorf("%s: %.1f mm show, and %.1f mm where it is larger", c.name, now, larger)
		}
	}
}

// Where the cover begins to leave the edge bare, it does not reach there, or is missing.
func TestWhyAnEdgeBeginsToShow(t *testing.T) {
	const noReachYet = "the cover no longer reaches past the cut edge; scissors do not cut any closer for it"
	ring := st.Circle(st.Point{}, 25)
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   string
	}{
		{"a cover 2.2 mm wide", coveredBy(ring, ring, 2.2), noReachYet},
		{"where it ends at another piece", endsAtAnother(15, 0, -1.75), noReachYet},
		{"a mitred cover whose threads lie along the blunt ends of the tips", coveredMitred(star(8, 30, 9), 4, 0.7), ""},
	} {
		got := ""
		for _, l := range mustLimit(mustRecognise(c.design), report.DefaultSettings()).Limits {
			if l.Rule == "edge-uncovered" && l.Direction == report.Shrinking && !l.Already {
				got = l.Reason
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What the longest gap is tells what becomes of an edge.
func TestWhatBecomesOfAnEdge(t *testing.T) {
	const allow = 1.0
	for _, c := range []struct {
		gaps []report.Gap
		want string
	}{
		{[]report.Gap{{LengthMM: 2, LeastMM: 0.4}}, ""},
		{[]report.Gap{{LengthMM: 2, LeastMM: 0.4}, {LengthMM: 3, LeastMM: -report.ReachMM}}, noCover},
		{[]report.Gap{{LengthMM: 3, LeastMM: 0.4}, {LengthMM: 2, LeastMM: -report.ReachMM}}, ""},
		{[]report.Gap{{LengthMM: 2, LeastMM: allow}}, noCover},
		{[]report.Gap{{LengthMM: 2, LeastMM: -report.ReachMM, Open: true}}, ""},
	} {
		p := &measure.Pass{Report: &report.Report{Pieces: []report.Piece{{Number: 1, Gaps: c.gaps}}}}
		p.Settings.TrimAllowanceMM = allow
		if got := edgeLimit(p, key{piece: 1}); got != c.want {
			t.Errorf("%+v: %q, want %q", c.gaps, got, c.want)
		}
	}
}

// coveredMitred is a piece of applique under satin that is mitred at its corners.
func coveredMitred(outline st.Path, width, pitch float64) *stitchfile.Design {
	b := new(st.Builder).Run(outline, 2.5).TieOff().Stop().Run(outline, 2).TieOff().Stop()
	return b.Mitred(outline, width, pitch).TieOff().Design()
}

// A cover that only touches its tack-down loses it on a smaller design; one that begins
// outside it comes nearer.
func TestTackDownInSightAlready(t *testing.T) {
	ring := st.Circle(st.Point{}, 25)
	for _, c := range []struct {
		out  float64 // mm from the tack-down to where the cover begins
		want bool
	}{{-0.08, true}, {0.3, false}} {
		already := 0
		for _, l := range mustLimit(mustRecognise(coveredBy(ring, ring.Offset(-2-c.out), 4)), report.DefaultSettings()).Limits {
			if l.Rule == "tack-down-in-sight" && l.Already {
				already++
			}
		}
		if (already > 0) != c.want {
			t.Errorf("a cover that begins %.2f mm outside the tack-down: worse where it is smaller: %v", c.out, already > 0)
		}
	}
}
