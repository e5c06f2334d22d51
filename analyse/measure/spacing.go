package measure

import (
	"cmp"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
	"github.com/stopcard/stopcard/analyse/words"
)

// Spacing is how close a design is stitched: the figures that stay the same when
// a size is digitised anew and grow with the size when it is stretched. A zero
// stands for a design that has none of it.
type Spacing struct {
	SatinPitchMM  float64 `json:"satin_pitch_mm"`  // median along all satin
	SatinWidthMM  float64 `json:"satin_width_mm"`  // median along all satin
	RunStitchMM   float64 `json:"run_stitch_mm"`   // median stitch of single and double runs
	FillSpacingMM float64 `json:"fill_spacing_mm"` // from row to row
	OuterCoverMM  float64 `json:"outer_cover_mm"`  // median reach of covers past the tack-down
}

// UsualSpacing is what most designs are digitised with: satin at 0.40 mm and
// fills at 0.40 mm from row to row (63.5 to the inch), runs of 2.5 mm (common
// practice, no single source).
var UsualSpacing = Spacing{SatinPitchMM: 0.40, RunStitchMM: 2.5, FillSpacingMM: 0.40}

// Sizes are the three figures that tell stretching, zero where there are none.
func (s *Spacing) Sizes() [3]float64 {
	return [3]float64{s.SatinPitchMM, s.RunStitchMM, s.FillSpacingMM}
}

// Over gives the ratios of the figures that both have, their mean (geometric) and
// how far the furthest lies from it, as a share.
func (s *Spacing) Over(t *Spacing) (n int, mean, spread float64) {
	a, b := s.Sizes(), t.Sizes()
	var logs []float64
	for i := range a {
		if a[i] > 0 && b[i] > 0 {
			logs = append(logs, math.Log(a[i]/b[i]))
			mean += logs[len(logs)-1]
		}
	}
	n = len(logs)
	if n == 0 {
		return 0, 1, 0
	}
	mean /= float64(n)
	for _, l := range logs {
		spread = max(spread, math.Abs(l-mean))
	}
	return n, math.Exp(mean), math.Exp(spread) - 1
}

const (
	leastRunStitches = 30     // fewer say little about a usual length
	leastSatinMM     = 15.0   // the same for satin
	leastFillCells   = 12     // the same for fills
	fillCell         = 2.0    // mm
	fillStep         = 0.25   // mm along a stitch at most, for sharing it out to cells
	EnoughFill       = 20_000 // stitches; more tell nothing new
	GlanceFill       = 6_000  // stitches, where a design is only looked over
	underlayRows     = 1.0    // mm between rows; wider is underlay or an open ground
)

// SpacingOf measures the spacing of a design with its report, from no more than
// fill stitches of its fills.
func SpacingOf(sewn *stitches.Sewn, r *report.Report, fill int) Spacing {
	s, _ := SizesWhile(sewn, r, fill, func(*Spacing, int) bool { return true })
	s.OuterCoverMM = outerCover(r)
	return s
}

// SizesWhile measures the figures of Sizes as SpacingOf does, those that cost most last,
// as long as they are worth it: it asks that with what is measured so far and how many of
// the figures are left. It reports whether all were measured.
func SizesWhile(sewn *stitches.Sewn, r *report.Report, fill int, worth func(s *Spacing, left int) bool) (s Spacing, all bool) {
	s.SatinPitchMM, s.SatinWidthMM = satinSpacing(r)
	if !worth(&s, 2) {
		return s, false
	}
	s.RunStitchMM = runStitch(sewn)
	if !worth(&s, 1) {
		return s, false
	}
	s.FillSpacingMM = rowSpacing(sewn, fill)
	return s, true
}

// satinSpacing is the median pitch and width along all satin.
func satinSpacing(r *report.Report) (pitch, width float64) {
	type weighed struct{ v, w float64 }
	median := func(all []weighed) float64 {
		slices.SortFunc(all, func(a, b weighed) int { return cmp.Compare(a.v, b.v) })
		var sum, half float64
		for _, x := range all {
			half += x.w / 2
		}
		for _, x := range all {
			if sum += x.w; sum >= half {
				return x.v
			}
		}
		return 0
	}
	var pitches, widths []weighed
	var length float64
	for i := range r.SatinColumns {
		c := &r.SatinColumns[i]
		if c.LengthMM < satin.ShortColumnMM {
			continue
		}
		length += c.LengthMM
		pitches, widths = append(pitches, weighed{c.Pitch.Median, c.LengthMM}), append(widths, weighed{c.Width.Median, c.LengthMM})
	}
	if length < leastSatinMM {
		return 0, 0
	}
	return median(pitches), median(widths)
}

// runStitch is the median stitch of single and double runs.
func runStitch(sewn *stitches.Sewn) float64 {
	t := &sewn.Track
	n := 0
	for _, kind := range t.Kind {
		if kind == report.KindRun || kind == report.KindDoubleRun {
			n++
		}
	}
	if n < leastRunStitches {
		return 0
	}
	runs := make([]float64, 0, n)
	for _, s := range t.Segs {
		for i := s.First + 1; i < s.Last; i++ {
			if kind := t.Kind[i]; kind == report.KindRun || kind == report.KindDoubleRun {
				runs = append(runs, geom.Distance(t.Pts[i-1], t.Pts[i]))
			}
		}
	}
	if len(runs) < leastRunStitches {
		return 0
	}
	return geom.QuantileOf(runs, 0.5)
}

// outerCover is the median reach of covers past the tack-down.
func outerCover(r *report.Report) float64 {
	var outer []float64
	for i := range r.Pieces {
		for _, e := range r.Pieces[i].Edge {
			if e.State != report.EdgeHidden && e.Outer > 0 {
				outer = append(outer, e.Outer)
			}
		}
	}
	if len(outer) == 0 {
		return 0
	}
	return geom.QuantileOf(outer, 0.5)
}

// rowSpacing is the ground over the length of thread on it, where a fill lies all
// over a cell of a grid: rows side by side, each sewn once, are so far apart. Each
// passage is taken by itself, since fills may lie over one another, and those
// with rows wide apart are underlay. Cells next to an empty one are left out: a
// fill may only touch them.
func rowSpacing(s *stitches.Sewn, most int) float64 {
	t := &s.Track
	var full []float64
	var g fillGrid
	for i, seen := 0, 0; i < len(t.Pts) && seen < most; i++ {
		if t.Kind[i] != report.KindFill {
			continue
		}
		from := i
		for i++; i < len(t.Pts) && t.Kind[i] == report.KindFill && t.Joined(i); i++ {
		}
		lead := from
		if from > 0 && t.Joined(from) {
			lead--
		}
		seen += i - 1 - lead
		if own := g.rows(t.Pts[lead:i]); len(own) > 0 && geom.QuantileOf(own, 0.5) < underlayRows {
			full = append(full, own...)
		}
		i--
	}
	if len(full) < leastFillCells {
		return 0
	}
	slices.Sort(full) // a sum depends on the order of its parts
	// A cell holds a whole number of rows, so single cells are coarse; their mean
	// is not. Cells with a row ending in them are left out.
	usual := geom.Quantile(full, 0.5)
	var ground, thread float64
	for _, v := range full {
		if v > usual/1.6 && v < usual*1.6 {
			ground, thread = ground+1, thread+1/v
		}
	}
	return ground / thread
}

// Words lists the figures that there are, in the units given.
func (s *Spacing) Words(u words.Units) string {
	text := ""
	for i, v := range s.Sizes() {
		if v > 0 {
			if text != "" {
				text += ", "
			}
			text += [...]string{"satin " + u.StitchTo(v, 2) + " apart", "runs of " + u.StitchTo(v, 1), "fill rows " + u.StitchTo(v, 2) + " apart"}[i]
		}
	}
	return text
}
