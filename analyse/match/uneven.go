package match

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
)

// unevenLeast is the share by which width and height must have grown differently, to be no
// rounding, and unevenSure how sure it is then that a size is a copy.
const (
	unevenLeast = 0.02
	unevenSure  = 0.95
)

// unevenOver tells by how much b is wider and higher than a where it has the stitches of a,
// stretched in one direction more than in the other, as to fill another hoop.
func unevenOver(a, b *Signature) (x, y float64, ok bool) {
	if len(a.points) < leastCommon || len(a.points) != len(b.points) || len(a.stops) != len(b.stops) {
		return 0, 0, false
	}
	for i := range a.stops {
		if len(a.pointsOf(i)) != len(b.pointsOf(i)) {
			return 0, 0, false
		}
	}
	var sx, sy axisFit
	step := max(1, len(a.points)/sampleMost)
	for k := 0; k < len(a.points); k += step {
		sx.add(float64(a.points[k].x), float64(b.points[k].x))
		sy.add(float64(a.points[k].y), float64(b.points[k].y))
	}
	x, strayX := sx.fit()
	y, strayY := sy.fit()
	if x < 0.1 || y < 0.1 || x > 10 || y > 10 || math.Abs(math.Log(x/y)) < math.Log(1+unevenLeast) {
		return 0, 0, false
	}
	return x, y, math.Hypot(strayX, strayY) <= max(strayShare*b.medianStitch(), 0.5*(1+max(x, y))) && strideUneven(a, b, x, y)
}

func unevenlyOver(a, b *Signature) bool {
	_, _, ok := unevenOver(a, b)
	return ok
}

// strideUneven reports whether the stitches of both, as vectors, go alike when those of a
// are stretched so.
func strideUneven(a, b *Signature, x, y float64) bool {
	var dot, zz, ww float64
	for i := range a.stops {
		p, q := a.pointsOf(i), b.pointsOf(i)
		for k := 1; k < len(p); k++ {
			ux, uy := x*(float64(p[k].x)-float64(p[k-1].x)), y*(float64(p[k].y)-float64(p[k-1].y))
			vx, vy := float64(q[k].x)-float64(q[k-1].x), float64(q[k].y)-float64(q[k-1].y)
			dot, zz, ww = dot+ux*vx+uy*vy, zz+ux*ux+uy*uy, ww+vx*vx+vy*vy
		}
	}
	return zz > 0 && dot >= strideAlike*math.Sqrt(zz*ww)
}

// axisFit lays one coordinate over another by a factor and an offset, with the least
// squares.
type axisFit struct{ n, u, v, uu, uv, vv float64 }

func (f *axisFit) add(u, v float64) {
	f.n, f.u, f.v, f.uu, f.uv, f.vv = f.n+1, f.u+u, f.v+v, f.uu+u*u, f.uv+u*v, f.vv+v*v
}

// fit gives the factor, and the root mean square of what is left.
func (f *axisFit) fit() (factor, stray float64) {
	uu, uv, vv := f.uu-f.u*f.u/f.n, f.uv-f.u*f.v/f.n, f.vv-f.v*f.v/f.n
	if uu <= 0 {
		return 0, 0
	}
	return uv / uu, math.Sqrt(max(0, vv-uv*uv/uu) / f.n)
}

// findUneven tells of the sizes that were stretched in one direction more than in the
// other: those whose shape is not that of the other sizes, where these tell.
func (d *MatchedDesign) findUneven() {
	for i := range d.Sizes {
		for j := range i {
			a, b := j, i
			x, y, ok := unevenOver(d.Sizes[a].lead, d.Sizes[b].lead)
			if !ok {
				continue
			}
			lead := d.ofShape(a) - d.ofShape(b)
			if lead < 0 {
				a, b, x, y = b, a, 1/x, 1/y
			}
			of, copy := &d.Sizes[a], &d.Sizes[b]
			f := report.Finding{Rule: "stretched-copy", Severity: report.Caution, Measured: x / y, Limit: 1, Unit: "times",
				Message: fmt.Sprintf("the size %s is a copy of %s, stretched %.2f times in width and %.2f times in height: stitch for stitch the same", copy.called(), of.called(), x, y),
				Advice:  "Its shapes are not as they were drawn, and its satin is more open one way than the other: take another size, or sew a trial piece first."}
			if lead == 0 {
				f.Message = fmt.Sprintf("the sizes %s and %s have the same stitches: one was drawn and the other is stretched more one way than the other, and which cannot be told from the stitches", of.called(), copy.called())
				f.Advice = "Sew a trial piece of the one you want before you cut good cloth, or ask the maker which was drawn."
			} else if copy.Verdict != report.StretchedCopy {
				copy.Verdict, copy.Confidence, copy.Factor, copy.Turned = report.StretchedCopy, unevenSure, sizeRatio(copy, of), ""
				copy.Of = &[2]float64{of.WidthMM, of.HeightMM}
			}
			d.Findings = append(d.Findings, f)
		}
	}
}

// ofShape counts the sizes with the shape of one, itself among them.
func (d *MatchedDesign) ofShape(i int) (n int) {
	shape := func(z *MatchedSize) float64 { return math.Log((z.WidthMM + 1) / (z.HeightMM + 1)) }
	for k := range d.Sizes {
		if math.Abs(shape(&d.Sizes[k])-shape(&d.Sizes[i])) <= aspectSlack/2 {
			n++
		}
	}
	return n
}
