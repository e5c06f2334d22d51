package resize

import (
	"context"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/stitchfile"
)

// sameFigure is the share of its limit by which a figure may differ and still be
// called the same.
const sameFigure = 0.01

// ofTheFile are the rules that look at the file, not at how large it is sewn: resizing
// neither mends nor breaks what they find.
var ofTheFile = []string{"damaged-file", "header-disagrees", "stretched-copy", "set-disagrees", "empty-stop"}

// ofTheWhole are the rules that give one finding for the design. The stop that they
// name may be another at another size.
var ofTheWhole = []string{"crowded-needle", "stacked-layers", "outside-hoop"}

// easedByGrowing are the rules that count over a grid what growing spreads out and
// shrinking draws together. A change the other way is none: the grid fell otherwise.
var easedByGrowing = []string{"crowded-needle", "stacked-layers"}

// alongTheDesign are the rules that measure how much of the design is wrong, a length
// that goes with the scale: nothing is mended where all of it became shorter.
var alongTheDesign = []string{"edge-uncovered"}

// At tells what becomes of a design at a scale, from its reports as it is and at that
// scale, both measured with the same settings. A finding is better or gone only where it is told of
// the same stop and piece before and after.
//
// Digitised anew, satin and runs keep their spacing, so their stitches grow with
// the length, those of fills with the area, and ties stay as they are.
func At(rec *applique.Recognised, before, after *report.Report, scale float64) *report.ResizeEffect {
	return &report.ResizeEffect{Scale: scale, WidthMM: after.WidthMM, HeightMM: after.HeightMM,
		Stitches: before.Stitches, Anew: anew(rec.Sewn.Design, before, scale), Changes: changes(before.Each, after.Each, scale)}
}

// changes pairs findings before and after, what becomes worse first.
func changes(before, after []report.Finding, scale float64) []report.FindingChange {
	byChange := map[report.Change][]report.FindingChange{}
	add := func(change report.Change, was, is *report.Finding) {
		f := is
		if f == nil {
			f = was
		}
		worse := change == report.Appears || change == report.Worsens
		if slices.Contains(easedByGrowing, f.Rule) && worse == (scale > 1) {
			return
		}
		byChange[change] = append(byChange[change], report.FindingChange{Change: change, Rule: f.Rule, Stop: f.Stop, Piece: f.Piece, Before: was, After: is})
	}
	used := make([]bool, len(before))
	for i := range after {
		f := &after[i]
		if slices.Contains(ofTheFile, f.Rule) {
			continue
		}
		was := pairOf(f, before, used)
		if was == nil {
			add(report.Appears, nil, f)
			continue
		}
		is := f.Measured
		if slices.Contains(alongTheDesign, f.Rule) {
			is /= scale
		}
		worse := math.Abs(is-f.Limit) - math.Abs(was.Measured-was.Limit)
		slack := sameFigure * max(math.Abs(f.Limit), math.Abs(was.Measured))
		switch {
		case f.Severity.Rank() > was.Severity.Rank() || f.Severity == was.Severity && worse > slack:
			add(report.Worsens, was, f)
		case f.Severity.Rank() < was.Severity.Rank() || worse < -slack:
			add(report.Eases, was, f)
		}
	}
	for i := range before {
		if f := &before[i]; !used[i] && !slices.Contains(ofTheFile, f.Rule) {
			add(report.GoesAway, f, nil)
		}
	}
	out := []report.FindingChange{}
	for _, c := range []report.Change{report.Appears, report.Worsens, report.Eases, report.GoesAway} {
		out = append(out, byChange[c]...)
	}
	return out
}

// pairOf finds the finding of the same rule, stop and piece that is not yet paired.
func pairOf(f *report.Finding, in []report.Finding, used []bool) *report.Finding {
	whole := slices.Contains(ofTheWhole, f.Rule)
	for i := range in {
		if !used[i] && in[i].Rule == f.Rule && (whole || in[i].Stop == f.Stop && in[i].Piece == f.Piece) {
			used[i] = true
			return &in[i]
		}
	}
	return nil
}

// anew estimates the stitches of a design digitised anew for a scale.
func anew(d *stitchfile.Design, r *report.Report, scale float64) int {
	var lines, areas, fixed int
	for i, m := range d.Moves {
		if m.Kind != stitchfile.Stitch || i >= len(r.Kinds) {
			continue
		}
		switch r.Kinds[i] {
		case report.KindFill:
			areas++
		case report.KindTie, report.KindNone:
			fixed++
		default:
			lines++
		}
	}
	return int(math.Round(float64(fixed) + float64(lines)*scale + float64(areas)*scale*scale))
}

// CoverView is how a satin column covers at one scale.
type CoverView struct {
	Scale    float64
	Coverage float64 // along the thinnest stretch of 10 mm
	PitchMM  float64
	WidthMM  float64
}

// CoverViews finds the place where the satin of a design is thinnest, on the
// cover of an applique piece where there is one, and tells how it covers there
// at each scale. The stop is 0 for a design without satin.
func CoverViews(ctx context.Context, rec *applique.Recognised, r *report.Report, s report.Settings, scales []float64) (stop int, at geom.Place, views []CoverView, err error) {
	defer watch.Catch(&err)
	best := -1
	for _, covers := range []bool{true, false} {
		for i := range r.SatinColumns {
			c := &r.SatinColumns[i]
			if c.LengthMM < satin.ShortColumnMM || covers && r.Stops[c.Stop-1].Role != report.RoleCoverSatin {
				continue
			}
			if best < 0 || c.ThinCoverage < r.SatinColumns[best].ThinCoverage {
				best = i
			}
		}
		if best >= 0 {
			break
		}
	}
	if best < 0 {
		return 0, geom.Place{}, nil, nil
	}
	c := &r.SatinColumns[best]
	stop, at = c.Stop, c.ThinnestAt
	for _, scale := range scales {
		p, err := measure.NewPass(ctx, rec, s, scale)
		watch.Raise(err)
		watch.Raise(p.Do(measure.Columns))
		v := CoverView{Scale: scale}
		near := math.Inf(1)
		for i := range p.Report.SatinColumns {
			k := &p.Report.SatinColumns[i]
			if k.Stop != stop || k.LengthMM/scale < satin.ShortColumnMM {
				continue
			}
			// Columns keep their first stitch at every scale.
			if far := math.Abs(float64(k.First - c.First)); far < near {
				near = far
				v.Coverage, v.PitchMM, v.WidthMM = k.ThinCoverage, k.Pitch.Median, k.Width.Median
				if p.SewnAgain(i) {
					v.Coverage = k.ThinUnderThread
				}
			}
		}
		views = append(views, v)
	}
	return stop, at, views, nil
}
