package satin

import (
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// leastArea is the ground, in mm2, of which a share is worth telling.
const leastArea = 1.0

// lanes is how many lines along the column its coverage is measured on.
const lanes = 16

// endCap is how far, in laid widths, a thread reaches past its hole: its round
// end has the area of a rectangle of pi/8.
const endCap = math.Pi / 8

// cover measures the coverage of a column by area: the share of the cloth
// between its rails that lies under at least one of its threads, each as wide
// as Settings.LaidWidth.
//
// The area is summed over lanes, lines along the column that keep the same
// share of the way from rail to rail. On a lane each thread hides its laid width
// over the sine of the angle at which it crosses, half to either side; what two
// neighbours leave free between them is bare. For plain satin of pitch p this
// sums to 1 - (1 - w/p)^2 in the limit of a wide column, and it holds for
// curves, tapers, short stitches and uneven spacing alike.
func (w *columnWork) cover(x []crossing, c *report.SatinColumn) {
	n := len(x)
	w.area, w.hidden = w.area[:0], w.hidden[:0]
	for range x {
		w.area, w.hidden = append(w.area, 0), append(w.hidden, 0)
	}
	// What the last thread on each lane left: its place, half of what it hides,
	// and the width of the column there.
	var states [lanes]struct {
		at           geom.Point
		reach, width float64
	}
	for i := range states {
		states[i].reach = -1 // none yet
	}
	var area, hidden [2]float64
	for j := range x {
		w.watch.Step(lanes)
		k := &x[j]
		v := k.b.Sub(k.a)
		l := v.Norm()
		sin := 1.0
		if l > 0 {
			sin = max(0.2, math.Abs(w.axis[j].Cross(v))/l)
		}
		r := w.laid / 2 / sin
		whole, cap, short := l+k.ra+k.rb, endCap*w.laid, k.ra > 0 || k.rb > 0
		for i := range states {
			f := (float64(i) + 0.5) / lanes
			if short {
				at := f*whole - k.ra
				if at < -cap || at > l+cap {
					continue // a short stitch ends before this lane
				}
				if l > 0 {
					f = at / l
				}
			}
			q, s := k.a.Add(v.Times(f)), &states[i]
			if gap := q.Sub(s.at).Dot(w.axis[j]); s.reach >= 0 && gap > 0 {
				strip := (s.width + w.width[j]) / 2 / lanes
				g, h := gap*strip, min(gap, s.reach+r)*strip
				w.area[j] += g
				w.hidden[j] += h
				area[i*2/lanes] += g
				hidden[i*2/lanes] += h
			}
			s.at, s.reach, s.width = q, r, w.width[j]
		}
	}
	share := func(h, a float64) float64 {
		if a <= 0 {
			return 1
		}
		return h / a
	}
	c.Coverage = share(hidden[0]+hidden[1], area[0]+area[1])
	outer := 0
	if area[1] > area[0] {
		outer = 1
	}
	c.CoverageOut, c.CoverageIn = share(hidden[outer], area[outer]), share(hidden[1-outer], area[1-outer])

	// The thinnest stretch: a window of StretchMM moved along the column.
	c.ThinCoverage, c.ThinnestAt = c.Coverage, x[n/2].mid().Place()
	var sa, sh float64
	from := 0
	for j := range x {
		sa += w.area[j]
		sh += w.hidden[j]
		for from < j && w.along[j]-w.along[from+1] >= StretchMM {
			from++
			sa -= w.area[from]
			sh -= w.hidden[from]
		}
		if w.along[j]-w.along[from] >= StretchMM && sa > leastArea {
			if v := share(sh, sa); v < c.ThinCoverage {
				c.ThinCoverage, c.ThinnestAt = v, x[(from+j)/2].mid().Place()
			}
		}
	}
}

// underlay lists the kinds of stitching that lie under the column and were sewn
// before it in the same thread path.
func underlay(s *stitches.Sewn, passage int, c *report.SatinColumn) []report.Kind {
	const looked, samples, reach = 6, 8, 200
	out := []report.Kind{}
	pts := s.Track.Pts
	g := &s.Passages[passage]
	step := 1 + len(c.Centre)/reach
	slack := 0.3 + float64(step-1)*c.Pitch.Median/2
	for k := passage - 1; k >= 0 && k >= passage-looked; k-- {
		u := &s.Passages[k]
		if u.Stop != g.Stop {
			break
		}
		if u.Kind == report.KindTie || u.Kind == report.KindTravel || u.LengthMM < 0.5*c.LengthMM {
			continue
		}
		under := 0
		for i := range samples {
			q := pts[u.From+(u.To-1-u.From)*i/(samples-1)]
			for j := 0; j < len(c.Centre); j += step {
				if geom.Distance(q, c.Centre[j]) <= geom.Distance(c.Left[j], c.Right[j])/2+slack {
					under++
					break
				}
			}
		}
		if 2*under > samples {
			out = append(out, u.Kind)
		}
	}
	return out
}
