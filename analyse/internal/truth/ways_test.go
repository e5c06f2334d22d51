package truth

import (
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

// The set must hold what it is there for: every way of sewing, sizes from 10 to
// 250 mm, flaws of each kind, and enough designs without applique; and its truth
// must fit its designs.
func TestWays(t *testing.T) {
	families, flaws, verdicts := map[string]int{}, map[string]int{}, map[Verdict]int{}
	small, large, holes := 1000.0, 0.0, 0
	for _, w := range Ways() {
		families[w.Family]++
		verdicts[w.Verdict]++
		sewn, stops := false, 0
		for _, m := range w.Design.Moves {
			switch m.Kind {
			case stitchfile.Stitch:
				if !sewn {
					stops++
				}
				sewn = true
			case stitchfile.ColourStop:
				sewn = false
			}
		}
		if stops != len(w.Stops) {
			t.Errorf("%s: %d stops sew something, truth for %d", w.Name, stops, len(w.Stops))
		}
		for _, h := range append(w.Hands, w.Missing...) {
			if h.From < 1 || h.From > stops+1 || h.To < h.From {
				t.Errorf("%s: %d stops, and hand work %v", w.Name, stops, h)
			}
			if w.Family == FamilyNoApplique && !h.May {
				t.Errorf("%s: no applique, and yet %v", w.Name, h)
			}
		}
		for _, h := range w.Missing {
			flaws[h.Kind+" "+h.What]++
		}
		for _, f := range w.Wrong {
			flaws[f.What]++
		}
		if (w.Verdict == Unsound) != (len(w.Missing)+len(w.Wrong) > 0) || (w.Family == FamilyFlawed) != (w.Verdict == Unsound) {
			t.Errorf("%s: verdict %d with %d pauses missing and %d flaws", w.Name, w.Verdict, len(w.Missing), len(w.Wrong))
		}
		if w.Family == FamilyOnePiece {
			box, _ := w.Design.Bounds()
			size := float64(max(box.Width(), box.Height())) / 10
			small, large = min(small, size), max(large, size)
		}
		holes += w.Holes
	}
	n := len(Ways())
	t.Logf("%d designs %v, flaws %v, verdicts %v, %d holes, %.0f to %.0f mm", n, families, flaws, verdicts, holes, small, large)
	if n < 400 || families[FamilyNoApplique] < 120 || families[FamilyOnePiece] < 180 || families[FamilyBlock] < 60 {
		t.Errorf("%d designs %v", n, families)
	}
	for _, f := range []string{Lay + " " + AppliqueCloth, Trim + " " + AppliqueCloth, Lay + " " + BlockCloth, Lay + " " + Backing, Lay + " " + Batting, FlawNoCover, FlawWrongOrder, FlawAstray, FlawNoTack, FlawOpen} {
		if flaws[f] < 5 {
			t.Errorf("%d designs with the flaw %q", flaws[f], f)
		}
	}
	if small > 15 || large < 240 || large > 270 || holes < 15 || verdicts[Sound] < 40 {
		t.Errorf("%.0f to %.0f mm, %d holes, %d sound", small, large, holes, verdicts[Sound])
	}
}
