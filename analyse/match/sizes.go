package match

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/words"
)

// judgeSizes compares the sizes of a design and says how each was made.
func judgeSizes(d *MatchedDesign) {
	if len(d.Sizes) == 1 {
		d.Sizes[0].Verdict = report.OnlySize
		return
	}
	leadDrawn(d)
	kin := kinOf(d.Sizes)
	kin.findDrawn()
	ref := kin.reference()
	base := &d.Sizes[ref]
	for i := range d.Sizes {
		s := &d.Sizes[i]
		if i != ref {
			s.Of, s.Factor = &[2]float64{base.WidthMM, base.HeightMM}, sizeRatio(s, base)
		}
		switch k := kin.drawn[i]; {
		case k == unknownKin:
			s.Verdict, s.Confidence = report.Unclear, 0.5
		case k != i:
			of := &d.Sizes[k]
			l := kin.over[[2]int{k, i}]
			s.Verdict, s.Confidence, s.Factor, s.Turned = report.StretchedCopy, kin.confidence[i], l.factor, l.turnWords()
			s.Of = &[2]float64{of.WidthMM, of.HeightMM}
			d.Findings = append(d.Findings, copyFinding(s, of, &l))
		case i == ref:
			s.Verdict = report.Reference
		default:
			s.Verdict = verdictOn(s, base)
			kin.bySpacing(s, i)
			if s.Verdict == report.StretchedCopy {
				d.Findings = append(d.Findings, stretchedFinding(s))
			}
		}
		if i != ref {
			d.Findings = append(d.Findings, stopsDiffer(base, s)...)
		}
	}
	d.findUneven()
	d.Findings = append(append(d.Findings, rolesDiffer(d, ref)...), spacingDiffers(d)...)
	d.Findings = append(d.Findings, kin.undecided()...)
}

// leadDrawn looks at the sizes of which files differ: an edition that is a copy of
// another size is told of as one, and another edition leads where there is one that was
// drawn.
func leadDrawn(d *MatchedDesign) {
	var all []MatchedSize // one for each edition
	at := [][2]int{}      // its size and number
	several := false
	for i, z := range d.Sizes {
		for e := 1; ; e++ {
			own := z
			own.Files = nil
			for _, f := range z.Files {
				if f.Edition == e {
					own.Files = append(own.Files, f)
				}
			}
			if len(own.Files) == 0 {
				break
			}
			own.lead = own.Files[0].sign
			own.Spacing, own.WidthMM, own.HeightMM = own.lead.Spacing, own.lead.WidthMM, own.lead.HeightMM
			all, at = append(all, own), append(at, [2]int{i, e})
			several = several || e > 1
		}
	}
	if !several {
		return
	}
	kin := kinOf(all)
	kin.findDrawn()
	copied := map[[2]int]bool{}
	for k := range all {
		of := kin.drawn[k]
		if of == unknownKin || of == k || at[of][0] == at[k][0] {
			continue
		}
		copied[at[k]] = true
		z := &d.Sizes[at[k][0]]
		for f := range z.Files {
			if z.Files[f].Edition == at[k][1] {
				z.Files[f].CopyOf = all[of].Files[0].Path
			}
		}
		if at[k][1] > 1 {
			l := kin.over[[2]int{of, k}]
			own := all[k]
			own.Factor, own.Confidence = l.factor, kin.confidence[k]
			finding := copyFinding(&own, &all[of], &l)
			finding.Message = filesOf(signsOf(own.Files)) + ": " + finding.Message
			d.Findings = append(d.Findings, finding)
		}
	}
	for i := range d.Sizes {
		second := slices.ContainsFunc(d.Sizes[i].Files, func(f MatchedFile) bool { return f.Edition == 2 })
		if copied[[2]int{i, 1}] && second && !copied[[2]int{i, 2}] {
			d.Sizes[i].lead2()
		}
	}
}

func signsOf(files []MatchedFile) []*Signature {
	var out []*Signature
	for _, f := range files {
		out = append(out, f.sign)
	}
	return out
}

// lead2 lets the second edition of a size lead.
func (z *MatchedSize) lead2() {
	led := false
	for i := range z.Files {
		f := &z.Files[i]
		switch f.Edition {
		case 1:
			f.Edition = 2
		case 2:
			f.Edition = 1
			if !led {
				z.lead, led = f.sign, true
				z.WidthMM, z.HeightMM, z.Stitches, z.ColourStops, z.Spacing = f.sign.WidthMM, f.sign.HeightMM, f.sign.Stitches, len(f.sign.stops), f.sign.Spacing
			}
		}
	}
}

// bySpacing looks whether a size of which no original is here stands out from siblings
// that agree among themselves, by one factor in all its spacing.
func (k *kinship) bySpacing(s *MatchedSize, i int) {
	if s.Verdict == report.DigitisedAnew {
		s.Confidence = 1
		return
	}
	var others measure.Spacing
	n := 0
	rest := [3][]float64{}
	for j := range k.sizes {
		if j == i || k.drawn[j] != j {
			continue
		}
		n++
		for m, v := range k.sizes[j].Spacing.Sizes() {
			if v > 0 {
				rest[m] = append(rest[m], v)
			}
		}
	}
	if n < 2 {
		s.Confidence = 0.5
		if s.Verdict == report.StretchedCopy {
			s.Confidence = confidenceOf(clearLead)
		}
		return
	}
	middle := func(v []float64) float64 {
		if len(v) < 2 {
			return 0
		}
		q := geom.QuantileOf(slices.Clone(v), 0.5)
		for _, x := range v {
			if math.Abs(math.Log(x/q)) > anewWithin {
				return 0
			}
		}
		return q
	}
	others.SatinPitchMM, others.RunStitchMM, others.FillSpacingMM = middle(rest[0]), middle(rest[1]), middle(rest[2])
	measures, ratio, spread := s.Spacing.Over(&others)
	s.Confidence = 0.5
	switch {
	case measures >= 2 && spread <= rules.StretchAlike && math.Abs(math.Log(ratio)) >= math.Log(1+2*anewWithin):
		s.Verdict, s.Confidence, s.Factor, s.Of = report.StretchedCopy, confidenceOf(2*clearLead), ratio, nil
	case s.Verdict == report.StretchedCopy:
		s.Verdict = report.Unclear
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

// units are those in which lengths are told.
func (z *MatchedSize) units() words.Units {
	if z.lead == nil {
		return words.Both
	}
	return z.lead.units
}

// called is the size as a name for itself.
func (z *MatchedSize) called() string { return z.units().Whole(z.WidthMM, z.HeightMM) }

// sizeRatio is the size of a over that of b, by the longer side.
func sizeRatio(a, b *MatchedSize) float64 {
	return max(a.WidthMM, a.HeightMM) / max(b.WidthMM, b.HeightMM, 0.1)
}

// stretchedFinding tells of a size that its spacing shows to be a copy.
func stretchedFinding(s *MatchedSize) report.Finding {
	how := "its spacing grew with its size"
	if s.Factor < 1 {
		how = "its spacing shrank with its size"
	}
	of := "a size that is not here"
	if s.Of != nil {
		of = s.units().Whole(s.Of[0], s.Of[1])
	}
	return copied(s, of, how, s.Spacing.Words(s.units().One()))
}

// copyFinding tells of a size with the stitches of another.
func copyFinding(s, of *MatchedSize, l *laidOver) report.Finding {
	how := "stitch for stitch the same"
	if !l.pointed {
		how = "the same stitches but for a few"
	}
	if turned := l.turnWords(); turned != "" {
		how += ", " + turned
	}
	was, is := of.Spacing.Words(s.units().One()), s.Spacing.Words(s.units().One())
	if was != "" && is != "" {
		is += "; was " + was
	}
	return copied(s, of.called(), how, is)
}

func copied(s *MatchedSize, of, how, spacing string) report.Finding {
	message := fmt.Sprintf("the size %s is a copy of %s, stretched by %.2f: %s", s.called(), of, s.Factor, how)
	if spacing != "" {
		message += fmt.Sprintf(" (%s)", spacing)
	}
	message += fmt.Sprintf("; confidence %.0f %%", 100*s.Confidence)
	advice := "Its satin is more open than its maker drew it: take another size, or sew a trial piece first."
	if s.Factor < 1 {
		advice = "It is stitched denser than its maker drew it: take another size, or sew a trial piece first, slowly."
	}
	return report.Finding{Rule: "stretched-copy", Severity: report.Caution, Measured: s.Factor, Limit: 1, Unit: "times", Message: message, Advice: advice}
}
