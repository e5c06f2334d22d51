package truth

import "testing"

// The set must hold what it is there for: each role, halts, holes, sizes from
// 40 to 360 mm, and designs without applique.
func TestBlocks(t *testing.T) {
	blocks := Blocks()
	roles := map[string]int{}
	small, large, without, holes := 1000.0, 0.0, 0, 0
	for _, b := range blocks {
		stops := 1
		for _, m := range b.Design.Moves {
			if m.Kind.String() == "colour stop" {
				stops++
			}
		}
		if stops != len(b.Stops) {
			t.Errorf("%s: %d stops, truth for %d", b.Name, stops, len(b.Stops))
		}
		box, _ := b.Design.Bounds()
		size := float64(max(box.Width(), box.Height())) / 10
		small, large = min(small, size), max(large, size)
		for _, s := range b.Stops {
			roles[s.Roles[0]]++
			if !b.Applique && (s.Lay || s.Trim) {
				t.Errorf("%s: hand work without applique", b.Name)
			}
		}
		if !b.Applique {
			without++
		}
		if b.Applique != (b.Pieces > 0) {
			t.Errorf("%s: %d pieces", b.Name, b.Pieces)
		}
		holes += b.Holes
	}
	if len(blocks) < 150 || without < 40 || holes == 0 || small > 45 || large < 340 || large > 365 {
		t.Errorf("%d blocks, %d without applique, %d holes, %.0f to %.0f mm", len(blocks), without, holes, small, large)
	}
	for _, r := range []string{outline, holdDown, placement, tackDown, cover, edgeRun, decoration, batting, backing, quilting, stitching} {
		if roles[r] < 4 {
			t.Errorf("%d stops of role %s", roles[r], r)
		}
	}
}
