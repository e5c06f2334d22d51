package gather

import (
	"math"

	"github.com/stopcard/stopcard/analyse/report"
)

// Joined is the size of blocks sewn together. The seam runs on the block's outline and
// the block is trimmed a seam allowance outside it, so that no line of its stitching is
// cut.
type Joined struct {
	BlockMM    [2]float64 `json:"block_mm"`     // one block, trimmed
	FinishedMM [2]float64 `json:"finished_mm"`  // what of it shows: its outline
	InsideMM   [2]float64 `json:"inside_mm"`    // all blocks as they show
	RawMM      [2]float64 `json:"raw_mm"`       // with the seam allowance round the outside
	Blocks     int        `json:"blocks"`       // that it takes
	SeamMM     float64    `json:"seam_sewn_mm"` // length of all seams between blocks, row by row and then row to row
	Unlike     []string   `json:"unlike"`       // designs whose outline is of another size: they do not fit this
}

// outlineOf is the size of the line that a block is joined along: its first outline, or
// where it has none the box of its stitching. Where stitching lies further outside than
// the seam allowance, the seam moves out with it.
func outlineOf(r *report.Report, seam float64) (w, h float64) {
	w, h = r.WidthMM, r.HeightMM
	for i := range r.Stops {
		if s := &r.Stops[i]; s.Role == report.RoleClothOutline {
			b := s.BoundsMM
			ow, oh := b[2]-b[0], b[3]-b[1]
			if ow+2*seam >= w && oh+2*seam >= h && ow > 0 && oh > 0 {
				return ow, oh
			}
			break
		}
	}
	return w, h
}

// oneSize is how far outlines of blocks may differ to be joined, in mm.
const oneSize = 1.0

// joined sews the designs together as they come.
func joined(designs []Wanted, g Settings) *Joined {
	w, h := outlineOf(designs[0].Report, g.SeamMM)
	out := Join(w, h, g.Columns, g.Rows, g.SeamMM)
	if out == nil {
		return nil
	}
	for _, d := range designs[1:] {
		if x, y := outlineOf(d.Report, g.SeamMM); math.Abs(x-w) > oneSize || math.Abs(y-h) > oneSize {
			out.Unlike = append(out.Unlike, d.Report.Path)
		}
	}
	return out
}

// Join sews columns x rows blocks together whose outlines have the given size, with the
// given seam allowance: cut = finished + 2 x allowance. It is nil for blocks without a
// size.
func Join(width, height float64, columns, rows int, seam float64) *Joined {
	if width <= 0 || height <= 0 {
		return nil
	}
	inside := [2]float64{width * float64(columns), height * float64(rows)}
	return &Joined{
		BlockMM: [2]float64{width + 2*seam, height + 2*seam}, FinishedMM: [2]float64{width, height}, InsideMM: inside,
		RawMM:  [2]float64{inside[0] + 2*seam, inside[1] + 2*seam},
		Blocks: columns * rows, Unlike: []string{},
		// Within a row the seams run the height of a block; between rows, the
		// width of the joined row.
		SeamMM: float64(rows*(columns-1))*(height+2*seam) + float64(rows-1)*(inside[0]+2*seam),
	}
}
