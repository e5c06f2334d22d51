package match

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// oddSpacing is the share by which the satin or the fill rows of a size may lie further
// apart, or closer, than those of its siblings, which agree. A digitiser changes them by
// less for the cloth; by more than this the cover of one is thin, or the other crowded.
const oddSpacing = 0.20

// spacingDiffers tells of sizes, no copies, whose satin or fill rows are not as far apart
// as in most.
func spacingDiffers(d *MatchedDesign) []report.Finding {
	var out []report.Finding
	for m, what := range [...]string{"satin", "", "fill rows"} {
		var all []float64
		for i := range d.Sizes {
			if v := d.Sizes[i].Spacing.Sizes()[m]; v > 0 && d.Sizes[i].Verdict != report.StretchedCopy {
				all = append(all, v)
			}
		}
		if what == "" || len(all) < akinFiles {
			continue
		}
		slices.Sort(all)
		usual := geom.QuantileOf(slices.Clone(all), 0.5)
		agree := 0
		for _, v := range all {
			if math.Abs(math.Log(v/usual)) <= math.Log(1+anewWithin) {
				agree++
			}
		}
		if 2*agree <= len(all) {
			continue
		}
		for i := range d.Sizes {
			z := &d.Sizes[i]
			v := z.Spacing.Sizes()[m]
			if v == 0 || z.Verdict == report.StretchedCopy || math.Abs(math.Log(v/usual)) <= math.Log(1+oddSpacing) {
				continue
			}
			f := report.Finding{Rule: "set-disagrees", Severity: report.Caution, Unit: "mm", Measured: v, Limit: usual,
				Message: fmt.Sprintf("the size %s has %s %s apart; most sizes have %s", z.called(), what, z.units().StitchTo(v, 2), z.units().StitchTo(usual, 2)),
				Advice:  "More cloth shows through there than in the others: sew a trial piece, or ask the maker whether it is meant."}
			if v < usual {
				f.Advice = "It is stitched denser than the others: sew a trial piece first, slowly, or ask the maker whether it is meant."
			}
			out = append(out, f)
		}
	}
	return out
}
