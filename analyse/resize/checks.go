package resize

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/words"
)

// resizeCheck is a rule that resizing one way may break.
type resizeCheck struct {
	rule   *rules.Rule
	limit  string // name of its limit, where it is not the rule's id
	mute   []string
	way    report.Direction
	needs  *measure.Step
	reason string

	// figure is the worst figure of a stop, or of all stops for stop 0; nil
	// where no single figure decides. law gives the factor by which the design
	// may still be scaled.
	figure func(p *measure.Pass, stop int) float64
	law    func(figure, limit float64) float64
	exact  bool // law holds to the last digit
	uneven bool // the check may come and go near its limit
	place  func(p *measure.Pass, at geom.Place) float64
	bound  func(*report.Settings) float64 // the limit, where it is no named one
}

func (c *resizeCheck) limitIn(s *report.Settings) float64 {
	if c.bound != nil {
		return c.bound(s)
	}
	if c.limit != "" {
		return s.Limit(c.limit)
	}
	return s.Limit(c.rule.ID)
}

// How figures go with the scale (design checks: lengths x s, crowding x 1/s2,
// layers x 1/s). For cover, see coverLaw.
func lengthLaw(figure, limit float64) float64   { return limit / figure }
func crowdingLaw(figure, limit float64) float64 { return math.Sqrt(figure / limit) }
func layersLaw(figure, limit float64) float64   { return figure / limit }

// coverLaw turns the coverage of plain satin round: c = 1-(1-r)^2 with r the laid
// width over the pitch, which goes with 1/s. Hence s = r/(1-sqrt(1-limit)).
func coverLaw(figure, limit float64) float64 {
	if limit >= 1 {
		return 1
	}
	return (1 - math.Sqrt(max(0, 1-figure))) / (1 - math.Sqrt(1-limit))
}

var resizeChecks = []resizeCheck{
	{rule: &rules.ThinCoverRule, mute: []string{"thin-cover-stretch"}, way: report.Growing, needs: measure.Columns,
		reason: "the satin opens and cloth shows between its stitches", figure: leastCover(func(c *report.SatinColumn) float64 { return c.Coverage }), law: coverLaw},
	{rule: &rules.ThinCoverRule, limit: "thin-cover-stretch", mute: []string{"thin-cover"}, way: report.Growing, needs: measure.Columns,
		reason: "the satin opens along its thinnest 10 mm and cloth shows there", figure: leastCover(func(c *report.SatinColumn) float64 { return c.ThinCoverage }), law: coverLaw},
	{rule: &rules.WideSatinRule, way: report.Growing, needs: measure.Columns,
		reason: "the satin becomes so wide that its stitches snag", figure: widestSatin, law: lengthLaw, exact: true},
	{rule: &rules.LongStitchRule, way: report.Growing, needs: measure.Sizes,
		reason: "stitches become so long that they snag", figure: longestStitch, law: lengthLaw, exact: true},
	{rule: &rules.UntrimmedRule, way: report.Growing, needs: measure.Travelling,
		reason: "a thread left between two parts becomes so long that it must be cut", figure: longestLoose, law: lengthLaw, exact: true},
	{rule: &rules.OutsideHoopRule, limit: "outside-hoop", way: report.Growing, needs: measure.Sizes, bound: func(*report.Settings) float64 { return 1 },
		reason: "the design no longer fits the hoop", figure: hoopShare, law: lengthLaw, exact: true},
	{rule: &rules.OpenOutlineRule, way: report.Growing, needs: measure.Pieces, reason: "the opening in a line grows and holds no cloth"},
	{rule: &rules.AstrayRule, way: report.Growing, needs: measure.Pieces, reason: "a tack-down strays too far from its placement line"},
	{rule: &rules.DrawnInRule, way: report.Growing, needs: measure.Roles, reason: "a hold-down comes to lie inside the first outline"},

	{rule: &rules.EdgeUncoveredRule, limit: "trim-allowance", way: report.Shrinking, needs: measure.Pieces, uneven: true,
		reason: "the satin no longer reaches past the cut edge; scissors do not cut any closer for it", figure: leastReach, law: lengthLaw,
		bound: func(s *report.Settings) float64 { return s.TrimAllowanceMM }, place: reachAt},
	{rule: &rules.NarrowSatinRule, way: report.Shrinking, needs: measure.Columns,
		reason: "the satin becomes too narrow for the needle", figure: narrowestSatin, law: lengthLaw, exact: true},
	{rule: &rules.ShortStitchRule, way: report.Shrinking, needs: measure.Sizes,
		reason: "too many stitches become so short that thread knots and breaks", figure: shortStitches, law: lengthLaw, exact: true},
	{rule: &rules.CrowdedRule, way: report.Shrinking, needs: measure.DensityGrid, uneven: true,
		reason: "needle holes crowd until they cut the cloth", figure: func(p *measure.Pass, _ int) float64 { return p.Report.Density.MaxPenetrations }, law: crowdingLaw},
	{rule: &rules.StackedRule, way: report.Shrinking, needs: measure.DensityGrid, uneven: true,
		reason: "thread piles up until it stands stiff and bends needles", figure: func(p *measure.Pass, _ int) float64 { return p.Report.Density.MaxLayers }, law: layersLaw},
}

// eachColumn calls f for the satin columns of a stop, or of all for 0.
func eachColumn(p *measure.Pass, stop int, f func(*report.SatinColumn)) {
	for i := range p.Report.SatinColumns {
		if c := &p.Report.SatinColumns[i]; stop == 0 || c.Stop == stop {
			f(c)
		}
	}
}

func leastCover(of func(*report.SatinColumn) float64) func(*measure.Pass, int) float64 {
	return func(p *measure.Pass, stop int) float64 {
		least := math.Inf(1)
		eachColumn(p, stop, func(c *report.SatinColumn) {
			if c.LengthMM/p.Scale >= satin.ShortColumnMM {
				least = min(least, of(c))
			}
		})
		return finite(least)
	}
}

func widestSatin(p *measure.Pass, stop int) float64 {
	var most float64
	eachColumn(p, stop, func(c *report.SatinColumn) {
		if !c.Split {
			most = max(most, c.Width.Max)
		}
	})
	return most
}

func narrowestSatin(p *measure.Pass, stop int) float64 {
	least := math.Inf(1)
	eachColumn(p, stop, func(c *report.SatinColumn) {
		if c.LengthMM/p.Scale >= satin.ShortColumnMM {
			least = min(least, c.Width.Median)
		}
	})
	return finite(least)
}

func finite(v float64) float64 {
	if math.IsInf(v, 0) {
		return 0
	}
	return v
}

// eachStop calls f for the index of one stop, or of all for 0.
func eachStop(p *measure.Pass, stop int, f func(i int)) {
	for i := range p.Report.Stops {
		if stop == 0 || stop == i+1 {
			f(i)
		}
	}
}

func longestStitch(p *measure.Pass, stop int) float64 {
	var most float64
	eachStop(p, stop, func(i int) {
		p.Sewn.Track.EachSewn(i, func(k int, from, to geom.Point) {
			if p.Sewn.Track.Kind[k] != report.KindSatin {
				most = max(most, geom.Distance(from, to))
			}
		})
	})
	return most
}

// shortStitches is the length that as many stitches of a stop go below as are
// worth a warning. Stitches within satin and fills count double, as in the rule.
func shortStitches(p *measure.Pass, stop int) float64 {
	least := math.Inf(1)
	eachStop(p, stop, func(i int) {
		var all []float64
		p.Sewn.Track.EachSewn(i, func(k int, from, to geom.Point) {
			kind, l := p.Sewn.Track.Kind[k], geom.Distance(from, to)
			if kind == report.KindTie || l <= rules.SameHole {
				return
			}
			if kind.Surface() {
				l *= 2
			}
			all = append(all, l)
		})
		if len(all) >= rules.ManyShort {
			slices.Sort(all)
			least = min(least, all[rules.ManyShort-1])
		}
	})
	return finite(least)
}

func longestLoose(p *measure.Pass, stop int) float64 {
	var most float64
	eachStop(p, stop, func(i int) {
		for _, l := range p.Travel.Loose[i] {
			most = max(most, l.Length)
		}
	})
	return most
}

// hoopShare is the design's larger share of the hoop's sides, the better way
// round; 0 without a hoop.
func hoopShare(p *measure.Pass, _ int) float64 {
	r := p.Report
	room := words.Hoop{WidthMM: p.Settings.HoopWidthMM, HeightMM: p.Settings.HoopHeightMM}.Room(r.WidthMM, r.HeightMM)
	if room == 0 {
		return 0
	}
	return 1 / room
}

// leastReach is how far the cover reaches outwards where it reaches least, a
// millimetre or two of edge apart: shorter stretches are no finding.
func leastReach(p *measure.Pass, stop int) float64 {
	const apart = 6 // samples
	least := math.Inf(1)
	for i := range p.Report.Pieces {
		c := &p.Report.Pieces[i]
		if stop > 0 && c.CoverStop != stop {
			continue
		}
		var outer []float64
		for _, s := range c.Edge {
			if s.State != report.EdgeHidden {
				outer = append(outer, s.Outer)
			}
		}
		if len(outer) > apart {
			slices.Sort(outer)
			least = min(least, outer[apart])
		}
	}
	return finite(least)
}

// reachAt is how far the cover reaches outwards at the edge next to a place.
func reachAt(p *measure.Pass, at geom.Place) float64 {
	q := geom.Point{X: at[0], Y: at[1]}
	near, outer := math.Inf(1), 0.0
	for i := range p.Report.Pieces {
		for _, s := range p.Report.Pieces[i].Edge {
			if d := geom.Distance(s.At, q); d < near && s.State != report.EdgeHidden {
				near, outer = d, s.Outer
			}
		}
	}
	return outer
}
