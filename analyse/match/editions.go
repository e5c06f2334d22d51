package match

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// roundsTo is how far, in 0.1 mm, a needle point may lie off through rounding.
const roundsTo = 1

// differ compares two files of one size and tells how they differ: nil where the needle
// goes to the same places, up to a common offset, and stops after the same ones.
// Without a cut or a jump the formats hold the same holes.
func differ(a, b *Signature) *report.Finding {
	f := firstDifference(a, b)
	if f == nil || f.Unit == "role" {
		return f
	}
	if laid := onlyLaid(a, b); laid != nil {
		return laid
	}
	return f
}

// firstDifference tells where two files of one size first differ.
func firstDifference(a, b *Signature) *report.Finding {
	dx, dy := offset(a, b)
	same := func(p, q needlePoint) bool {
		return math.Abs(float64(q.x)-float64(p.x)-dx) <= roundsTo && math.Abs(float64(q.y)-float64(p.y)-dy) <= roundsTo
	}
	f := &report.Finding{Rule: "set-disagrees", Severity: report.Caution, Unit: "stitches", Advice: "These are different editions of one size. Use the files of one edition only, and ask the maker which is right."}
	if len(a.stops) != len(b.stops) {
		f.Severity, f.Unit, f.Measured, f.Limit = report.Fault, "stops", float64(len(b.stops)), float64(len(a.stops))
		v, ok := varies(a, b)
		f.Stop = firstOddStop(a, b, &v)
		f.Message = fmt.Sprintf("it has %s where %s has %d; they first differ at stop %d", words.Plural(len(b.stops), "colour stop", "colour stops"), a.file(), len(a.stops), f.Stop)
		f.Advice = "The steps by hand differ between these files. Do not go by the card of the other one; ask the maker which is right."
		if ok && v.joined != nil {
			joinedFinding(f, "it", a.file(), a, b, &v)
		}
		return f
	}
	for i := range a.stops {
		p, q := a.pointsOf(i), b.pointsOf(i)
		k, all := goAlike(p, q, same)
		if !all {
			_, all = goAlike(distinct(p), distinct(q), same)
		}
		if all {
			continue
		}
		f.Stop, f.Measured, f.Limit = i+1, float64(b.Stitches), float64(a.Stitches)
		f.Message = fmt.Sprintf("its needle points first differ from those of %s at stitch %d of stop %d (%d stitches in all, there %d)", a.file(), k+1, i+1, b.Stitches, a.Stitches)
		switch {
		case len(p) > 1 && samePath(p, q):
			away := math.Hypot(float64(q[0].x)-float64(p[0].x)-dx, float64(q[0].y)-float64(p[0].y)-dy) / 10
			f.Message = fmt.Sprintf("stop %d lies %s away from where it lies in %s", i+1, b.units.Small(away), a.file())
		case a.Stitches == b.Stitches:
			f.Message = fmt.Sprintf("its needle points first differ from those of %s at stitch %d of stop %d (%d stitches in both)", a.file(), k+1, i+1, a.Stitches)
		}
		if k < len(q) {
			f.AtMM = &geom.Place{(float64(q[k].x) - b.centreX()) / 10, (float64(q[k].y) - b.centreY()) / 10}
		}
		return f
	}
	for i := range a.stops {
		if x, y := a.stops[i].role, b.stops[i].role; x != y {
			f.Stop, f.Unit = i+1, "role"
			f.Message = fmt.Sprintf("stop %d is %s, in %s it is %s, though the stitches agree", i+1, y, a.file(), x)
			return f
		}
	}
	return nil
}

// goAlike tells how many needle points of two lines are the same from the first on, and
// whether all are.
func goAlike(p, q []needlePoint, same func(p, q needlePoint) bool) (k int, all bool) {
	for n := min(len(p), len(q)); k < n && same(p[k], q[k]); k++ {
	}
	return k, k == len(p) && k == len(q)
}

// distinct leaves out needle points that repeat the one before: some formats, and some
// writers, sew a stitch in place where a way with the needle up ends.
func distinct(p []needlePoint) []needlePoint { return slices.Compact(slices.Clone(p)) }

// onlyLaid tells of a file with the stitches of another that lie turned or mirrored, or
// come in another order.
func onlyLaid(a, b *Signature) *report.Finding {
	l, ok := sameStitches(a, b)
	if !ok || !l.pointed || math.Abs(l.factor-1) > sameSizeShare {
		return nil
	}
	how := l.turnWords()
	stop := 0
	for i, j := range l.order {
		if i != j {
			stop = j + 1
			if how != "" {
				how += " and "
			}
			how += fmt.Sprintf("with its stops in another order: stop %d is stop %d there", j+1, i+1)
			break
		}
	}
	if how == "" {
		return nil
	}
	return &report.Finding{Rule: "set-disagrees", Severity: report.Caution, Stop: stop, Unit: "stitches", Measured: float64(b.Stitches), Limit: float64(a.Stitches),
		Message: fmt.Sprintf("it has the stitches of %s, %s", a.file(), how),
		Advice:  "These are different editions of one size. Use the files of one edition only, and ask the maker which is right."}
}

func (s *Signature) centreX() float64 { return s.middleOf(func(p needlePoint) int32 { return p.x }) }
func (s *Signature) centreY() float64 { return s.middleOf(func(p needlePoint) int32 { return p.y }) }

func (s *Signature) middleOf(of func(needlePoint) int32) float64 {
	lo, hi := of(s.points[0]), of(s.points[0])
	for _, p := range s.points {
		lo, hi = min(lo, of(p)), max(hi, of(p))
	}
	return (float64(lo) + float64(hi)) / 2
}

// offset is by how much the points of b lie off those of a: the median over the
// points with the same number, or where those run apart early, over the first.
func offset(a, b *Signature) (dx, dy float64) {
	n := min(len(a.points), len(b.points))
	if n == 0 {
		return 0, 0
	}
	if len(a.points) != len(b.points) {
		n = min(n, 200)
	}
	const most = 1000
	step := max(1, n/most)
	var xs, ys []float64
	for i := 0; i < n; i += step {
		xs = append(xs, float64(b.points[i].x)-float64(a.points[i].x))
		ys = append(ys, float64(b.points[i].y)-float64(a.points[i].y))
	}
	return math.Round(geom.QuantileOf(xs, 0.5)), math.Round(geom.QuantileOf(ys, 0.5))
}
