package match

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// judgeSizes compares the sizes of a design and says how each was made.
func judgeSizes(d *MatchedDesign) {
	if len(d.Sizes) == 1 {
		d.Sizes[0].Verdict = report.OnlySize
		return
	}
	ref := referenceSize(d.Sizes)
	base := &d.Sizes[ref]
	base.Verdict = report.Reference
	for i := range d.Sizes {
		if i == ref {
			continue
		}
		s := &d.Sizes[i]
		s.Of, s.Factor = &[2]float64{base.WidthMM, base.HeightMM}, sizeRatio(s, base)
		d.Findings = append(d.Findings, stopsDiffer(base, s)...)
		// Stitch for stitch the same as some other size: a copy beyond doubt.
		if of, factor := copiedFrom(s, d.Sizes, ref); of != nil {
			s.Verdict, s.Factor = report.StretchedCopy, factor
			s.Of = &[2]float64{of.WidthMM, of.HeightMM}
			d.Findings = append(d.Findings, stretchedFinding(s, of, true))
			continue
		}
		s.Verdict = verdictOn(s, base)
		if s.Verdict == report.StretchedCopy {
			d.Findings = append(d.Findings, stretchedFinding(s, base, false))
		}
	}
}

// verdictOn tells by its spacing, and by its stitch count, how a size was made.
// In a copy every spacing goes with the size and the count stays. Digitised anew,
// satin and fills keep their spacing and the count grows; runs are no measure of
// that, since they shorten round small shapes.
func verdictOn(s, base *MatchedSize) report.Verdict {
	size := math.Abs(math.Log(s.Factor))
	n, ratio, spread := s.Spacing.Over(&base.Spacing)
	count := math.Log(float64(s.Stitches)/float64(base.Stitches)) / math.Log(s.Factor) // power of the size it goes with
	if size > anewWithin && n > 0 && spread <= rules.StretchAlike && math.Abs(math.Log(ratio/s.Factor)) <= math.Log(1+copyWithin) && math.Abs(count) < 0.5 {
		return report.StretchedCopy
	}
	surface, against := s.Spacing, base.Spacing
	surface.RunStitchMM, against.RunStitchMM = 0, 0
	kept := func(mean, spread float64) bool {
		return math.Abs(math.Log(mean)) <= math.Log(1+anewWithin) && spread <= anewWithin
	}
	if k, mean, apart := surface.Over(&against); k > 0 {
		if kept(mean, apart) {
			return report.DigitisedAnew
		}
		return report.Unclear
	}
	if n > 0 && kept(ratio, spread) || n == 0 && size > anewWithin && count > 0.8 && count < 2.2 {
		return report.DigitisedAnew
	}
	return report.Unclear
}

// sizeRatio is the size of a over that of b, by the longer side.
func sizeRatio(a, b *MatchedSize) float64 {
	return max(a.WidthMM, a.HeightMM) / max(b.WidthMM, b.HeightMM, 0.1)
}

// referenceSize picks the size that the others are held against: of those whose
// spacing is nearest to the usual the one with most files, then the smallest.
func referenceSize(sizes []MatchedSize) int {
	away := func(s *MatchedSize) float64 {
		n, mean, _ := s.Spacing.Over(&measure.UsualSpacing)
		if n == 0 {
			return 1
		}
		return math.Abs(math.Log(mean))
	}
	best := 0
	for i := range sizes {
		least, now := away(&sizes[best]), away(&sizes[i])
		if now < least-0.04 || now < least+0.04 && len(sizes[i].Files) > len(sizes[best].Files) {
			best = i
		}
	}
	return best
}

// copiedFrom finds a size whose stitches, scaled by one factor, are those of s.
// Of two such sizes the reference is the original, or else the one nearer to it
// in the list, which is sorted by size.
func copiedFrom(s *MatchedSize, sizes []MatchedSize, ref int) (*MatchedSize, float64) {
	if f, ok := scaledPoints(sizes[ref].lead, s.lead); ok {
		return &sizes[ref], f
	}
	n, own, _ := s.Spacing.Over(&measure.UsualSpacing)
	for i := range sizes {
		t := &sizes[i]
		if t == s || t.Verdict == report.StretchedCopy {
			continue
		}
		f, ok := scaledPoints(t.lead, s.lead)
		if !ok {
			continue
		}
		// The one whose spacing is nearer to the usual came first.
		if _, other, _ := t.Spacing.Over(&measure.UsualSpacing); n == 0 || math.Abs(math.Log(other)) <= math.Abs(math.Log(own)) {
			return t, f
		}
	}
	return nil, 0
}

// scaledPoints reports whether the needle points of b are those of a, blown up
// by one factor, and gives the factor of least squares. Points may lie off by
// what rounding both to 0.1 mm explains.
func scaledPoints(a, b *Signature) (float64, bool) {
	n := len(a.points)
	if n < 2 || n != len(b.points) || len(a.stops) != len(b.stops) {
		return 0, false
	}
	var mx, my, nx, ny float64
	for i := range n {
		p, q := a.points[i], b.points[i]
		mx, my, nx, ny = mx+float64(p.x), my+float64(p.y), nx+float64(q.x), ny+float64(q.y)
	}
	k := 1 / float64(n)
	mx, my, nx, ny = mx*k, my*k, nx*k, ny*k
	var up, down float64
	for i := range n {
		p, q := a.points[i], b.points[i]
		px, py := float64(p.x)-mx, float64(p.y)-my
		up += px*(float64(q.x)-nx) + py*(float64(q.y)-ny)
		down += px*px + py*py
	}
	if down == 0 || up <= 0 {
		return 0, false
	}
	f := up / down
	const slack = 1.0 // 0.1 mm, beside the rounding of a and of b
	for i := range n {
		p, q := a.points[i], b.points[i]
		if math.Abs(f*(float64(p.x)-mx)-(float64(q.x)-nx)) > slack+0.5*(1+f) || math.Abs(f*(float64(p.y)-my)-(float64(q.y)-ny)) > slack+0.5*(1+f) {
			return 0, false
		}
	}
	return f, true
}

func stretchedFinding(s, of *MatchedSize, exact bool) report.Finding {
	how := "its spacing grew with its size"
	if s.Factor < 1 {
		how = "its spacing shrank with its size"
	}
	if exact {
		how = "stitch for stitch the same"
	}
	was, is := of.Spacing.Words(), s.Spacing.Words()
	message := fmt.Sprintf("the size %.0f x %.0f mm is a copy of %.0f x %.0f mm, stretched by %.2f: %s", s.WidthMM, s.HeightMM, of.WidthMM, of.HeightMM, s.Factor, how)
	if was != "" && is != "" {
		message += fmt.Sprintf(" (%s; was %s)", is, was)
	}
	advice := "Its satin is more open than its maker drew it: take another size, or sew a trial piece first."
	if s.Factor < 1 {
		advice = "It is stitched denser than its maker drew it: take another size, or sew a trial piece first, slowly."
	}
	return report.Finding{Rule: "stretched-copy", Severity: report.Caution, Measured: s.Factor, Limit: 1, Unit: "times", Message: message, Advice: advice}
}

// stopsDiffer compares the stops of two sizes: their number, and what they are
// for.
func stopsDiffer(base, s *MatchedSize) []report.Finding {
	a, b := base.lead, s.lead
	where := fmt.Sprintf("the size %.0f x %.0f mm", s.WidthMM, s.HeightMM)
	other := fmt.Sprintf("%.0f x %.0f mm", base.WidthMM, base.HeightMM)
	if len(a.stops) != len(b.stops) {
		return []report.Finding{{Rule: "set-disagrees", Severity: report.Fault, Stop: firstOddStop(a, b), Measured: float64(len(b.stops)), Limit: float64(len(a.stops)), Unit: "stops",
			Message: fmt.Sprintf("%s has %d colour stops, %s has %d; they first differ at stop %d", where, len(b.stops), other, len(a.stops), firstOddStop(a, b)),
			Advice:  "The steps by hand differ between these sizes. Make a card for each, and do not go by the other's."}}
	}
	for i := range a.stops {
		if x, y := a.stops[i].role, b.stops[i].role; x != y {
			return []report.Finding{{Rule: "set-disagrees", Severity: report.Caution, Stop: i + 1, Unit: "role",
				Message: fmt.Sprintf("%s: stop %d looks like %s, in %s like %s", where, i+1, y, other, x),
				Advice:  "Look at both stops on the picture; the hand steps round them may differ."}}
		}
	}
	return nil
}

const (
	asWanted     = 0.01 // share by which a size may differ from the one wanted
	worthNearing = 0.02 // share by which another size must be nearer to be worth taking
)

// Others lists the other sizes of the design that a file holds, with the scale
// from each to the size of that file blown up by the given factor: the nearest
// first. Stretched copies are left out, since they gain nothing. Files of the same
// format come before others of one size.
func (m *Matching) Others(path string, scale float64) []report.OtherSize {
	out := []report.OtherSize{}
	for i := range m.Designs {
		d := &m.Designs[i]
		own, format := -1, ""
		for k, z := range d.Sizes {
			for _, f := range z.Files {
				if f.Path == path {
					own, format = k, f.Format
				}
			}
		}
		if own < 0 {
			continue
		}
		want := scale * max(d.Sizes[own].WidthMM, d.Sizes[own].HeightMM)
		for k := range d.Sizes {
			z := &d.Sizes[k]
			if k == own || z.Verdict == report.StretchedCopy {
				continue
			}
			o := report.OtherSize{Path: z.Files[0].Path, WidthMM: z.WidthMM, HeightMM: z.HeightMM, Verdict: z.Verdict, Scale: want / max(z.WidthMM, z.HeightMM)}
			for _, f := range z.Files {
				if f.Format == format && f.Edition == 1 {
					o.Path = f.Path
					break
				}
			}
			if math.Abs(math.Log(o.Scale)) <= math.Log(1+asWanted) {
				o.Scale = 1
			}
			out = append(out, o)
		}
		slices.SortStableFunc(out, func(a, b report.OtherSize) int {
			return cmp.Compare(math.Abs(math.Log(a.Scale)), math.Abs(math.Log(b.Scale)))
		})
		return out
	}
	return out
}

// Nearer gives the size of Others that is nearer to the one wanted than the file
// itself, if there is one.
func (m *Matching) Nearer(path string, scale float64) *report.OtherSize {
	all := m.Others(path, scale)
	if len(all) == 0 || math.Abs(math.Log(all[0].Scale)) > math.Abs(math.Log(scale))-worthNearing {
		return nil
	}
	return &all[0]
}
