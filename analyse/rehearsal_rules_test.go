package analyse_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func offset(d float64) stitchtest.Path { return ring.Offset(d) }

// Pauses that are missing, for each thing that is laid: a fault only where it cannot be
// laid before the stop and the thread gives no time to stop the machine.
func TestMissingPause(t *testing.T) {
	tackedAtOnce := func(cut bool) *stitchfile.Design {
		h := new(hooped).ground()
		h.next().Run(ring, 2.5)
		if cut {
			h.TieOff().Trim()
		}
		h.DoubleRun(offset(0.5), 2).TieOff()
		h.next().Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
		return h.Design()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   []string
	}{
		{"nothing is missing", new(hooped).ground().patch(nil).line(square(103)).line(square(104)).Design(), nil},
		{"block cloth", func() *stitchfile.Design {
			h := new(hooped)
			h.next().Run(square(100), 2.5).TieOff().Trim().Run(square(102), 2.5).TieOff()
			return h.patch(nil).Design()
		}(), []string{"missing-pause warning 1"}},
		{"an outline sewn twice is one line", func() *stitchfile.Design {
			h := new(hooped)
			h.next().Run(square(100), 2.5).TieOff().Trim().Run(square(100.3), 2.5).TieOff()
			return h.line(square(102)).patch(nil).Design()
		}(), nil},
		{"an outline and another line beside it", func() *stitchfile.Design {
			h := new(hooped)
			h.next().Run(square(100), 2.5).TieOff().Trim().Run(square(100.6), 2.5).TieOff()
			return h.line(square(102)).patch(nil).Design()
		}(), []string{"missing-pause warning 1"}},
		{"batting under the block cloth", func() *stitchfile.Design {
			h := new(hooped)
			h.next().Run(square(100), 2.5).TieOff().Trim().Run(square(99.2), 2.5).TieOff()
			return h.line(square(100)).patch(nil).Design()
		}(), []string{"missing-pause warning 1"}},
		{"backing", func() *stitchfile.Design {
			h := new(hooped).ground().patch(nil)
			h.next().Run(square(103), 2.5).TieOff().Trim().Run(square(104), 2.5).TieOff()
			return h.Design()
		}(), []string{"missing-pause warning 6"}},
		{"applique cloth, with time to stop the machine", tackedAtOnce(true), []string{"missing-pause warning 3"}},
		{"tack-down and cover", func() *stitchfile.Design {
			h := new(hooped).line(ring)
			h.next().DoubleRun(offset(0.5), 2).TieOff().Trim().Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
			return h.Design()
		}(), []string{"no-pause-to-trim warning 2"}},
		{"an underlay under the cover", func() *stitchfile.Design {
			h := new(hooped).line(ring)
			h.next().Run(offset(0.5), 2).Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
			return h.Design()
		}(), nil},
	} {
		if diff := cmp.Diff(c.want, alarms(run(t, c.design))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// A line sewn right on the satin after it is a tack-down that comes too late; a line
// beside the satin is an edge run.
func TestTackDownAfterCover(t *testing.T) {
	for inside, want := range map[float64][]string{0.5: {"wrong-order fault 2"}, 1.5: {"wrong-order fault 2"}, 2: nil, 2.4: nil} {
		h := new(hooped).line(ring)
		h.next().Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
		h.next().DoubleRun(offset(inside), 2).TieOff()
		if diff := cmp.Diff(want, alarms(run(t, h.Design()))); diff != "" {
			t.Errorf("%.2f mm inside (-want +got):\n%s", inside, diff)
		}
	}
}

// The limit is the time that a cut gives.
func TestMissingPauseLimit(t *testing.T) {
	h := new(hooped).ground()
	h.next().Run(ring, 2.5).TieOff().Trim().DoubleRun(offset(0.5), 2).TieOff()
	h.next().Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
	for seconds, want := range map[float64]string{1.9: "missing-pause fault 3", 2.1: "missing-pause warning 3"} {
		s := report.DefaultSettings()
		s.TrimSeconds = seconds
		r, err := analyse.Run(t.Context(), h.Design(), analyse.Options{Settings: &s})
		if err != nil {
			t.Fatal(err)
		}
		if got := alarms(r); !slices.Contains(got, want) {
			t.Errorf("trims of %.1f s: %v, want %s", seconds, got, want)
		}
	}
}

// Cloth is drawn in by satin and fills that were sewn between two lines, and only then.
func TestDrawnIn(t *testing.T) {
	block := func(first, last stitchtest.Path, more ...stitchtest.Path) *stitchfile.Design {
		h := new(hooped).line(first).line(square(102)).patch(nil).line(last)
		for _, p := range more {
			h.line(p)
		}
		return h.Design()
	}
	aside := func(d float64) stitchtest.Path { return stitchtest.Rect(stitchtest.Point{X: d}, 104, 104) }
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   bool
	}{
		{"outside all round", block(square(100), aside(0), square(105)), false},
		{"aside, and still outside", block(square(100), aside(1.9), square(105)), false},
		{"aside, and inside on the left", block(square(100), aside(2.4), square(105)), true},
		{"batting well inside all round", block(square(100), square(95.6), square(105)), false},
		{"batting a little inside all round", block(square(100), square(96.6), square(105)), true},
		{"batting inside, further on one side", block(square(100), stitchtest.Rect(stitchtest.Point{X: 0.7}, 94, 94), square(105)), true},
		{"a last seam a little inside all round", block(square(100), square(98)), false},
		{"a last seam inside, 0.8 mm further on one side", block(square(100), stitchtest.Rect(stitchtest.Point{X: 0.4}, 98, 98)), false},
		{"a last seam inside, 1.2 mm further on one side", block(square(100), stitchtest.Rect(stitchtest.Point{X: 0.6}, 98, 98)), true},
		{"nothing sewn between that draws in", new(hooped).line(square(100)).line(square(97)).patch(nil).Design(), false},
	} {
		r := run(t, c.design)
		if got := strings.Contains(strings.Join(alarms(r), " "), "drawn-in"); got != c.want {
			t.Errorf("%s: drawn-in %t, want %t; %v", c.name, got, c.want, handWorkOf(r))
		}
	}
}

// A last seam that closes inside the lines before it may hold an envelope back.
func TestLastSeamInside(t *testing.T) {
	const envelope = "two folded halves face down on the front"
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   bool
	}{
		{"0.5 mm inside", new(hooped).ground().patch(nil).line(square(99)).Design(), true},
		{"0.2 mm inside", new(hooped).ground().patch(nil).line(square(99.6)).Design(), false},
		{"outside", new(hooped).ground().patch(nil).line(square(104)).Design(), false},
		{"quilted after it", new(hooped).ground().patch(nil).line(square(99)).line(square(60)).Design(), false},
	} {
		if got := strings.Contains(strings.Join(run(t, c.design).Stops[5].Before, " "), envelope); got != c.want {
			t.Errorf("a last seam %s: an envelope back is told of %t", c.name, got)
		}
	}
}

// A zigzag is measured by its middle, and where a seam leaves its gap it is not looked at.
func TestDrawnInByZigzagsAndGaps(t *testing.T) {
	for _, c := range []struct {
		side float64 // of the last line; the first is 100 mm wide along its middle
		want bool
	}{{101, false}, {100.2, false}, {99, true}} {
		for _, width := range []float64{1, 2, 3} {
			h := new(hooped).next()
			h.OpenZigzag(square(100), width, 2.5).TieOff()
			hh := h.line(square(102)).patch(nil).line(square(c.side)).line(square(103))
			if got := slices.ContainsFunc(alarms(run(t, hh.Design())), func(a string) bool { return strings.HasPrefix(a, "drawn-in") }); got != c.want {
				t.Errorf("a line of %.1f mm after a zigzag %.0f mm wide: drawn-in %t, want %t", c.side, width, got, c.want)
			}
		}
	}
	// A round mug rug, and its last seam with a gap at the right.
	round := func(r float64) stitchtest.Path { return stitchtest.Circle(centre, r) }
	var seam stitchtest.Path
	for k := range 181 {
		sin, cos := math.Sincos(0.4 + float64(k)/180*(2*math.Pi-0.8))
		seam = append(seam, stitchtest.Point{X: 65.3 * cos, Y: 65.3 * sin})
	}
	h := new(hooped).line(round(65)).line(round(64.5)).line(round(65)).patch(nil)
	h.next().DoubleRun(seam, 2.5).TieOff()
	if got := strings.Join(alarms(run(t, h.Design())), " "); strings.Contains(got, "drawn-in") {
		t.Errorf("a seam with a gap: %s", got)
	}
}

// A piece that fills much of its block, as ground does, is no batting, and the seam
// sewn there and back round a gap holds a backing.
func TestGroundPieceAndSeam(t *testing.T) {
	ground := func(top float64) stitchtest.Path {
		return stitchtest.Polygon(stitchtest.Point{X: -50, Y: -50}, stitchtest.Point{X: 50, Y: -50}, stitchtest.Point{X: 50, Y: top}, stitchtest.Point{X: -50, Y: top})
	}
	h := new(hooped).ground()
	for _, top := range []float64{20, -5} { // the sides lie in the seam, and have no cover
		h.line(ground(top)).line(ground(top - 0.4))
		h.next().Satin(stitchtest.Line(stitchtest.Point{X: -50, Y: top}, stitchtest.Point{X: 50, Y: top}), stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
	}
	h.patch(nil)
	if got := strings.Join(handWorkOf(run(t, h.Design())), "; "); !strings.Contains(got, "2: lay block cloth") || !strings.Contains(got, "4: lay applique cloth") || strings.Contains(got, "batting") {
		t.Errorf("a piece on the lower part of the block: %s", got)
	}
	for _, f := range run(t, h.Design()).Findings {
		if f.Rule == "edge-uncovered" && f.Severity.AtLeast(report.Caution) {
			t.Errorf("its edge lies in the seam: %s", f.Message)
		}
	}
	last := seam(101, 70)
	h = new(hooped).ground().patch(nil).line(square(102))
	h.next().Run(last, 2.2).Run(last.Reverse(), 2.2).TieOff()
	if got := strings.Join(run(t, h.Design()).Stops[6].Before, "; "); !strings.Contains(got, "face down on the front") {
		t.Errorf("a seam sewn there and back round a gap: %s", got)
	}
}

// A side of a piece that has no cover is in the seam where it lies on the outline, and
// bare where it does not reach so far.
func TestEdgeInTheSeam(t *testing.T) {
	for inside, want := range map[float64]bool{0: false, 2.6: false, 4.2: true} { // the cut edge lies 0.6 mm outside the line
		h := new(hooped).ground()
		x, top := -50+inside, 20.0
		p := stitchtest.Path{{X: x, Y: -30}, {X: 20, Y: -30}, {X: 20, Y: top}, {X: x, Y: top}, {X: x, Y: -30}}
		h.line(p)
		h.next().Run(p.Offset(0.4), 2.5).TieOff()
		h.next().Satin(p[:4], stitchtest.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		h.patch(nil)
		got := slices.ContainsFunc(run(t, h.Design()).Findings, func(f report.Finding) bool {
			return f.Rule == "edge-uncovered" && f.Measured > 20
		})
		if got != want {
			t.Errorf("a side %.1f mm inside the outline is bare: %t", inside, got)
		}
	}
}

// The advice names what a person can do.
func TestAdviceOnPauses(t *testing.T) {
	h := new(hooped).ground().patch(nil)
	h.next().Run(square(103), 2.5).TieOff().Trim().Run(square(104), 2.5).TieOff()
	for _, f := range run(t, h.Design()).Findings {
		if f.Rule == "missing-pause" {
			if !strings.Contains(f.Advice, "Fix batting and backing to the underside together before this stop") {
				t.Errorf("%s", f.Advice)
			}
			return
		}
	}
	t.Error("no finding")
}
