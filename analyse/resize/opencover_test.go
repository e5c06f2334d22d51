package resize

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// openlyCovered is a piece of applique under satin of a width and a pitch, in mm.
func openlyCovered(outline st.Path, width, pitch float64) *stitchfile.Design {
	b := &st.Builder{}
	b.Run(outline, 2.5).TieOff().Stop()
	b.Run(outline, 2).TieOff().Stop()
	b.Satin(outline, st.SatinAlong{Width: width, Pitch: pitch}).TieOff()
	return b.Design()
}

// star is a closed outline with points at a distance from its middle and notches nearer to it.
func star(points int, far, near float64) st.Path {
	p := make(st.Path, 2*points+1)
	for i := range p {
		r := far
		if i%2 == 1 {
			r = near
		}
		sin, cos := math.Sincos(math.Pi * float64(i%(2*points)) / float64(points))
		p[i] = st.Point{X: r * cos, Y: r * sin}
	}
	return p
}

// Between the stitches of an open cover the edge is in a gap at one percent and in none
// at the next, and where the outline turns the gap is wider on a smaller design.
func TestLimitsOfOpenCoversAgreeWithBruteForce(t *testing.T) {
	wholeOnly(t)
	rectangle := st.Rect(st.Point{}, 27, 19)
	type cover struct {
		outline      st.Path
		width, pitch float64
		limit        float64 // of thin-cover; 0 for the usual ones
	}
	covers := map[string]cover{
		"star":                    {star(6, 17, 10), 4, 1.1, 0},
		"edge under a low limit":  {rectangle, 4, 1.1, 0.3},
		"cover under a low limit": {st.Rect(st.Point{}, 37.996, 26.597), 3.702, 1.088, 0.3},
		// On a smaller design these no longer reach the edge, here and there at first.
		"narrow round a star":      {star(5, 18, 11), 2.7, 0.9, 0},
		"narrow round a rectangle": {rectangle, 2.6, 1.3, 0},
	}
	for tenths := 7; tenths <= 15; tenths++ {
		pitch := float64(tenths) / 10
		covers[fmt.Sprintf("rectangle, %.1f mm between stitches", pitch)] = cover{rectangle, 4, pitch, 0}
	}
	n := 0
	for name, c := range covers {
		s := report.DefaultSettings()
		if c.limit > 0 {
			s.Limits = map[string]float64{"thin-cover": c.limit, "thin-cover-stretch": c.limit}
		}
		n += agreesWithBruteForce(t, name, openlyCovered(c.outline, c.width, c.pitch), s)
	}
	if n == 0 {
		t.Error("no limit was met")
	}
}

// The same on blocks whose cover was laid too open.
func TestLimitsOfOpenCoversAgreeWithBruteForceReal(t *testing.T) {
	const folder = "../../../shared/cases"
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no real stitch files at %s; they are not part of the repository", folder)
	}
	for _, name := range []string{"cover-pitch-1.0.dst", "cover-pitch-1.2.dst"} {
		d, err := stitchfile.Open(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if agreesWithBruteForce(t, name, d, report.DefaultSettings()) == 0 {
			t.Errorf("%s: no limit was met", name)
		}
	}
}

// A cover is looked at percent by percent where it is open as the design is, and where
// nothing that was measured tells that it is closed; one that is close is not.
func TestWhereCoverMayBeOpen(t *testing.T) {
	growing, shrinking := &check{way: report.Growing}, &check{way: report.Shrinking}
	for _, c := range []struct {
		name    string
		pitch   float64
		check   *check
		least   float64 // share under thread as measured at 100 %, and so on below
		at      float64
		percent int
		bare    float64 // mm of edge in a stretch in a closed cover
		closed  bool
	}{
		{"close, as it is", 0.4, growing, 0.9, 1, 101, 0, true},
		{"close, far larger", 0.4, growing, 0.9, 1, 160, 0, false},
		{"close, below where it was found closed", 0.4, growing, openCover + 0.001, 1.6, 159, 0, true},
		{"close, below where it was found open", 0.4, growing, openCover - 0.001, 1.6, 159, 0, false},
		{"close, smaller", 0.4, shrinking, 0.9, 1, 60, 0, true},
		{"open, larger", 1.2, growing, 0.9, 1, 101, 0, false},
		{"open, smaller", 1.2, shrinking, 0.9, 1, 60, 0, false},
		{"close, smaller, with a short slot", 0.4, shrinking, 0.9, 1, 95, 0.37, true},
		{"close, smaller, with a gap that may grow past what may show", 0.4, shrinking, 0.9, 1, 95, 0.8, false},
		{"close, larger, with such a gap", 0.4, growing, 0.9, 1, 101, 0.8, true}, // the law of slots tells
	} {
		rec := mustRecognise(openlyCovered(st.Rect(st.Point{}, 40, 30), 4, c.pitch))
		z := newResizer(t.Context(), mustPass(rec, report.DefaultSettings()))
		s := &search{resizer: z, c: c.check}
		z.whole(&checks[0])
		at := spot{column: -1, piece: 1}
		z.known[at] = []figures{{scale: c.at, least: c.least, bare: []measure.BareStretch{{LengthMM: c.bare, Beside: 1}}}}
		if got := s.closed(at, c.percent); got != c.closed {
			t.Errorf("%s: closed at %d %%: %v", c.name, c.percent, got)
		}
	}
}

// How many percents are passed over by what is bare of an edge: none where as much shows as
// may, or soon does, unless the cover beside it is open. One stretch must grow to the 1 mm that
// may show, or two to gaps of 0.75 mm.
func TestHowFarBareEdgesArePassedOver(t *testing.T) {
	s := report.DefaultSettings()
	s.Flattening = 0.4 / report.Diameter(s.ThreadWeight) // laid 0.4 mm wide
	const closed = measure.SoundShare - besideGrain      // or soon is
	for _, c := range []struct {
		length, beside float64
		percent        int
		one, two       int
	}{
		{1.1, closed, 100, 1, 1},
		{0.98, closed, 100, 1, 1},
		{0.9, closed, 100, 2, 1}, // 1.4 mm over 1.3 mm: 7.7 % of growth, a third of it
		{0.9, closed, 190, 4, 1}, // and twice as many percents of a design twice as large
		{knownGap, closed, 100, 7, 1},
		{0.68, closed, 100, 9, 2},  // 29.6 %; to a gap, 1.15 mm over 1.08 mm: 6.5 %
		{0.66, closed, 100, 10, 2}, // 8.5 %
		{0.64, closed, 100, 11, 3}, // 10.6 %
		{0.64, closed, 190, 16, 6}, // the most
		{0.5, closed, 100, 16, 9},  // 27.8 %
		{0.5, closed, 60, 11, 5},
		{0.37, closed, 100, 16, 16},
		{0.9, closed - 0.019, 100, 2, 1},
		{0.9, closed - 0.031, 100, 3, 3},
		{0.9, closed - 0.061, 100, 6, 6},
		{0.9, closed - 0.061, 190, 11, 11},
		{0.9, closed - 0.3, 100, 16, 16},
		{0.5, closed - 0.061, 100, 16, 9},
		{1.1, 1, 100, 1, 1},
	} {
		bare := []measure.BareStretch{{LengthMM: c.length, Beside: c.beside}}
		for _, want := range []int{c.one, c.two} {
			if got := sureFor(&s, bare, c.percent); got != want {
				t.Errorf("%d times %.2f mm bare at %d %%, %.3f of what is beside it hidden: %d percents, want %d", len(bare), c.length, c.percent, c.beside, got, want)
			}
			bare = append(bare, bare[0])
		}
	}
	unlike := []measure.BareStretch{{LengthMM: 0.9, Beside: 0.3}, {LengthMM: 0.66, Beside: closed}, {LengthMM: 0.64, Beside: closed}}
	if got := sureFor(&s, unlike, 100); got != 3 {
		t.Errorf("unlike stretches: %d percents, want those of the second that may be a gap, 3", got)
	}
	if got := sureFor(&s, nil, 100); got != mostPercents {
		t.Errorf("nothing bare: %d percents", got)
	}
	s.Limits = map[string]float64{"edge-uncovered": 2}
	if got := sureFor(&s, []measure.BareStretch{{LengthMM: 1.6, Beside: 1}}, 100); got != 6 { // 2.4 mm over 2 mm
		t.Errorf("1.6 mm of 2 mm: %d percents, want 6", got)
	}
}

// A cover that is open may also come to end short of the edge as the design shrinks.
func TestOpenCoversAreLookedAtWhereTheyReachNoFurther(t *testing.T) {
	settings := report.DefaultSettings()
	settings.TrimAllowanceMM = 1
	for _, c := range []struct {
		name  string
		way   report.Direction
		reach float64 // mm at 100 %
		want  int
	}{
		{"growing, whatever it reaches", report.Growing, 0.5, mostPercents},
		{"with much to spare", report.Shrinking, 2, mostPercents},
		{"with 6 % and the grain to spare", report.Shrinking, 0.96 * 1.06 * 1.07, 6},
		{"with the grain to spare", report.Shrinking, 0.96 * 1.0601, 1},
		{"too near to tell", report.Shrinking, 0.96 * 1.05, closeStride},
		{"short of it", report.Shrinking, 0.5, closeStride},
	} {
		s := &search{resizer: &resizer{settings: settings}, c: &check{way: c.way, outlook: ofReach}}
		if c.way == report.Growing {
			s.c.outlook = ofSlots
		}
		f := figures{scale: 1, allow: 1, reach: c.reach}
		if got := s.sureOf(&f, 100); got != c.want {
			t.Errorf("%s: looked at again after %d percents, want %d", c.name, got, c.want)
		}
	}
}
