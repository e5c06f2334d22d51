package resize

import (
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
)

// check is a rule that resizing one way may break.
type check struct {
	rule   *rules.Rule
	limit  string   // name of its limit, where it is not the rule's id
	mute   []string // other limits of the rule, set to 0 while this one is asked
	way    report.Direction
	needs  *measure.Step
	reason string

	// then gives the reason for one stop and piece, by a pass past the limit, where it is
	// another than reason; worsens tells of what fails on the design as it is whether it
	// becomes worse, and why. Without it all does, for reason.
	then    func(p *measure.Pass, k key) string
	worsens func(z *resizer, way report.Direction, f *report.Finding) (reason string, worse bool)

	unmet  float64 // a limit that nothing meets, so that the rule tells its figure of all
	whole  bool    // it looks at the design as a whole; its stop may change with the scale
	stride int     // for one that comes and goes near its limit: the widest step in whole percents to look for it; 0: it goes evenly
	grain  float64 // share by which a grid, windows or the rounding of a file may shift its limit
	law    func(figure, limit float64) float64
	exact  bool // the law holds to the last digit, for all that the rule looks at

	// outlook tells what is foretold of a spot, and columns and pieces which spots the
	// check looks at. Without it the check looks at the whole design, by figures that
	// take no measuring of coverage or edges.
	outlook         func(*report.Settings, *figures) outlook
	columns, pieces bool

	// grid asks for what a check of the density grid needs, and peak is what it then finds.
	grid func(p *measure.Part, limit float64)
	peak func(p *measure.Pass) float64

	// figure is what the law works on where the rule's own figure will not do, for one
	// stop and piece of keys; shows says that it is shown to people too, and bound is its
	// limit where that is no named one.
	figure func(p *measure.Pass, k key) float64
	keys   func(p *measure.Pass) []key
	shows  bool
	bound  func(p *measure.Pass) float64
}

// name is that of the check's limit.
func (c *check) name() string {
	if c.limit != "" {
		return c.limit
	}
	return c.rule.ID
}

// begin is a limit of the check, yet to be filled in.
func (c *check) begin() report.ResizeLimit {
	return report.ResizeLimit{Direction: c.way, Rule: c.rule.ID, Name: c.name(), Scale: 1, Reason: c.reason}
}

func (c *check) limitIn(p *measure.Pass) float64 {
	if c.bound != nil {
		return c.bound(p)
	}
	return p.Settings.Limit(c.name())
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

// edgeGrain is the share by which windows along an edge and the rounding of files may
// shift where it is bare.
const edgeGrain = 0.06

const (
	anyMost  = 1e9  // above every figure
	anyLeast = -1e9 // below every figure
)

var checks = []check{
	{rule: &rules.ThinCoverRule, mute: []string{"thin-cover-stretch"}, way: report.Growing, needs: measure.Pieces, unmet: anyMost, outlook: ofWholeColumns, columns: true,
		reason: "the satin opens and cloth shows between its stitches"},
	{rule: &rules.WideSatinRule, way: report.Growing, needs: measure.Columns, exact: true, unmet: anyLeast, law: lengthLaw,
		reason: "the satin becomes so wide that its stitches snag"},
	{rule: &rules.LongStitchRule, way: report.Growing, needs: measure.Sizes, unmet: anyLeast, law: lengthLaw,
		reason: "stitches become so long that they snag", figure: freeStitch, keys: eachStop},
	{rule: &rules.UntrimmedRule, way: report.Growing, needs: measure.Travelling, exact: true, unmet: anyLeast, law: lengthLaw,
		reason: "a thread left between two parts becomes so long that it must be cut"},
	{rule: &rules.OutsideHoopRule, limit: "outside-hoop", way: report.Growing, needs: measure.Sizes, exact: true, whole: true, law: lengthLaw,
		reason: "the design no longer fits the hoop", figure: hoopSide, keys: wholeDesign, shows: true, bound: hoopLimit},
	{rule: &rules.OpenOutlineRule, way: report.Growing, needs: measure.Pieces, exact: true, unmet: anyLeast, law: lengthLaw,
		reason: "the opening in a line grows and holds no cloth"},
	{rule: &rules.AstrayRule, way: report.Growing, needs: measure.Pieces, exact: true, unmet: anyLeast, law: lengthLaw,
		reason: "a tack-down strays too far from its placement line"},
	{rule: &rules.DrawnInRule, way: report.Growing, needs: measure.Roles, unmet: anyLeast,
		reason: "a hold-down comes to lie inside the first outline"},
	{rule: &rules.ThinCoverRule, limit: "thin-cover-stretch", mute: []string{"thin-cover"}, way: report.Growing, needs: measure.Pieces, stride: 2, grain: 0.03, unmet: anyMost, outlook: ofThinnest, columns: true, pieces: true,
		reason: "the satin opens along its thinnest 10 mm and cloth shows there"},

	{rule: &rules.NarrowSatinRule, way: report.Shrinking, needs: measure.Columns, unmet: anyMost, law: lengthLaw,
		reason: "the satin becomes too narrow for the needle"},
	{rule: &rules.ShortStitchRule, way: report.Shrinking, needs: measure.Sizes, law: lengthLaw,
		reason: "too many stitches become so short that thread knots and breaks", figure: shortStitches, keys: eachStop, shows: true},

	{rule: &rules.EdgeUncoveredRule, way: report.Growing, needs: measure.Pieces, stride: 16, grain: edgeGrain, unmet: anyLeast, outlook: ofSlots, pieces: true, worsens: edgeWorsens,
		reason: "gaps in the cover grow with the design"},

	// These two are asked cheaply, and edges are looked at little further out than the nearest
	// limit that is known.
	{rule: &rules.CrowdedRule, way: report.Shrinking, needs: measure.DensityGrid, whole: true, stride: 2, grain: measure.GridGrain, unmet: anyLeast, law: crowdingLaw,
		grid: func(p *measure.Part, limit float64) { p.Crowding = limit }, peak: func(p *measure.Pass) float64 { return p.Report.Density.MaxPenetrations },
		reason: "needle holes crowd until they cut the cloth"},
	{rule: &rules.StackedRule, way: report.Shrinking, needs: measure.DensityGrid, whole: true, stride: 2, grain: measure.GridGrain, unmet: anyLeast, law: layersLaw,
		grid: func(p *measure.Part, limit float64) { p.Layers = limit }, peak: func(p *measure.Pass) float64 { return p.Report.Density.MaxLayers },
		reason: "thread piles up until it stands stiff and bends needles"},

	{rule: &rules.EdgeUncoveredRule, way: report.Shrinking, needs: measure.Pieces, stride: 16, grain: edgeGrain, unmet: anyLeast, outlook: ofReach, pieces: true, then: edgeLimit, worsens: edgeWorsens,
		reason: "the cover no longer reaches past the cut edge; scissors do not cut any closer for it"},
	{rule: &rules.InSightRule, way: report.Shrinking, needs: measure.Pieces, unmet: anyMost, outlook: ofInner, pieces: true, worsens: inSightWorsens,
		reason: "the cover no longer reaches in past the tack-down"},
}

func wholeDesign(*measure.Pass) []key { return []key{{}} }

func eachStop(p *measure.Pass) []key {
	var out []key
	for i := range p.Report.Stops {
		out = append(out, key{stop: i + 1})
	}
	return out
}

// shortStitches is the length at which the short stitches of a stop are worth a
// warning.
func shortStitches(p *measure.Pass, k key) float64 {
	return rules.KnottingLength(p, k.stop, p.Settings.Limit("short-stitch-share"))
}

// freeStitch is the longest stitch of a stop that lies free.
func freeStitch(p *measure.Pass, k key) float64 { return rules.FreeStitch(p, k.stop) }

func hoopSide(p *measure.Pass, _ key) float64 {
	side, _ := tightest(p)
	return side
}

func hoopLimit(p *measure.Pass) float64 {
	_, hoop := tightest(p)
	return hoop
}

// tightest is the side of the design that is the larger share of the hoop's, with that
// side of the hoop, the better way round; 0 without a hoop.
func tightest(p *measure.Pass) (side, hoop float64) {
	w, h := p.Settings.HoopWidthMM, p.Settings.HoopHeightMM
	if w <= 0 || h <= 0 {
		return 0, 0
	}
	best := math.Inf(1)
	for _, field := range [][2]float64{{w, h}, {h, w}} {
		s, f := p.Report.WidthMM, field[0]
		if p.Report.HeightMM/field[1] > s/f {
			s, f = p.Report.HeightMM, field[1]
		}
		if s/f < best {
			side, hoop, best = s, f, s/f
		}
	}
	return side, hoop
}

// slotLaw is how far a design may grow until a slot between threads that lie so wide is
// a gap: threads move apart and are as wide as before.
func slotLaw(slot, limit, laid float64) float64 { return (limit + laid) / (slot + laid) }
