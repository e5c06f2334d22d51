package rules

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

var stretchedRule = Rule{
	ID:       "stretched-copy",
	Doc:      "all spacings are off the usual by one factor, as in a copy made by stretching",
	Severity: report.Caution,
	Bounds:   "satin of 0.37 to 0.43 mm, runs of 2.2 to 2.8 mm, fills of 0.34 to 0.45 mm, all there are off alike by 12 % or more, and none in the middle of its range (common practice, no single source); in a set of sizes, spacing that goes with the size",
	Requires: []*measure.Step{measure.Columns, measure.Pieces},
	Check:    stretchedAlone,
}

const (
	stretchLeast  = 1.12 // factor that is worth a word
	StretchAlike  = 0.06 // share by which spacings may miss one factor in a set
	stretchFigure = 2    // figures there must be
	stretchAside  = 1.04 // factor by which each lies off the middle of what is usual: one that lies there was not stretched
)

// usualRange is where each of the figures of Spacing.sizes usually lies (common
// practice, no single source; for the middles see usualSpacing).
var usualRange = [3][2]float64{{0.37, 0.43}, {2.2, 2.8}, {0.34, 0.45}}

// stretchedAlone looks at one design with nothing to compare it to, so it gives
// no more than a note. It looks for one factor that brings every figure back into
// its usual range.
func stretchedAlone(p *Pass) []report.Finding {
	if p.Scale != 1 {
		return nil
	}
	s, all := measure.SizesWhile(p.Sewn, p.Report, measure.GlanceFill, mayBeStretched)
	if !all || !mayBeStretched(&s, 0) {
		return nil
	}
	lo, hi, n := stretchFactors(&s)
	if lo < stretchLeast && hi > 1/stretchLeast {
		return nil
	}
	factor := math.Sqrt(lo * hi)
	// Fine work has close satin and short runs of its own, so shrinking must show
	// in all three; and nobody resizes past the range that is looked at.
	if factor < 1 && n <= stretchFigure || factor > report.ResizeTo || factor < report.ResizeFrom {
		return nil
	}
	if usualAlready(&s, factor) {
		return nil
	}
	// Two figures agree by chance now and then, three seldom.
	confidence := 40
	if n > stretchFigure {
		confidence = 70
	}
	how, other := "larger", "smaller"
	if factor < 1 {
		how, other = other, how
	}
	return []report.Finding{{Severity: report.Note, Measured: factor, Limit: stretchLeast, Unit: "times",
		Message: fmt.Sprintf("its spacings are all about %.2f times the usual (%s): it may be a %s size stretched and not digitised anew (confidence %d %%)",
			factor, s.Words(p.units()), other, confidence),
		Advice: fmt.Sprintf("A design that was made %s like this sews as if you had resized it on the machine. Look in the pack for the %s size, and compare the two with 'stopcard match'.", how, other)}}
}

// usualAlready reports whether some figure lies in the middle of its usual range, or on the
// other side of it, though others do not.
func usualAlready(s *measure.Spacing, factor float64) bool {
	for i, v := range s.Sizes() {
		off := 2 * v / (usualRange[i][0] + usualRange[i][1])
		if v > 0 && (factor > 1 && off < stretchAside || factor < 1 && off > 1/stretchAside) {
			return true
		}
	}
	return false
}

// stretchFactors are the least and the largest factor that bring all figures there are
// into their usual range, and how many there are.
func stretchFactors(s *measure.Spacing) (lo, hi float64, n int) {
	hi = math.Inf(1)
	for i, v := range s.Sizes() {
		if v > 0 {
			n++
			lo, hi = max(lo, v/usualRange[i][1]), min(hi, v/usualRange[i][0])
		}
	}
	return lo, hi, n
}

// mayBeStretched reports whether one factor that is worth a word may bring all figures
// into their range, as many of them as are left to measure being unknown: more of them
// only narrow what factors there are.
func mayBeStretched(s *measure.Spacing, left int) bool {
	lo, hi, n := stretchFactors(s)
	shrunk := n+left > stretchFigure && lo <= 1/stretchLeast // see stretchedAlone
	return n+left >= stretchFigure && lo <= hi && (hi >= stretchLeast || shrunk)
}
