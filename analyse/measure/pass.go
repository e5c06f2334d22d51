package measure

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// Step is one measuring step. It reads what the steps it requires left in
// the Pass and adds to its Report.
type Step struct {
	Name     string
	Doc      string // what it adds, its method and its source
	Requires []*Step
	Run      func(*Pass)
}

// Pass is one measuring of what was recognised: at one scale, under one set of
// settings.
type Pass struct {
	Recognised *applique.Recognised
	Settings   report.Settings
	Report     *report.Report

	// Scale is the factor by which the whole design is blown up, its stitch
	// count kept; 1 is the design as it is. Sewn is its stitching at that scale.
	Scale float64
	Sewn  *stitches.Sewn

	ctx   context.Context
	watch *watch.Watch

	Travel travelWork
	bands  []satin.Band
	cover  *satin.BandIndex
	thread *Thread                // nil until it is asked for
	lines  map[int]*geom.LineGrid // by stop, those that were asked for
	Pieces []*applique.Piece      // at the scale
	Slots  map[int][]float64      // by piece: the stretches of its edge that no thread hides and that growing makes gaps of, mm
	Bare   map[int][]BareStretch  // by piece: the stretches of its edge that no thread hides, gaps or not
	Broken map[int][]report.Gap   // by piece whose finish is loose by design, or a line that leaves the edge raw: the stretches of its tack-down that are without
	done   map[*Step]bool
	room   *edgeRoom // while pieces are measured

	part *Part // what is measured of the design; nil for all
	from *Pass // the whole pass that a part was taken from; nil for none

	cellOf []int32   // by needle point: its cell in the density grid; nil until it is asked for
	about  []float32 // see LayersAbout

	grounds map[int]*otherGround // by a column's first stitch
	again   []bool               // by column: see SewnAgain; nil until it is asked for
	spare   [][]geom.Point       // needle points of parts that are done
}

// Steps are the steps of Measure, in order.
func Steps() []*Step {
	return []*Step{Sizes, Cost, Travelling, Columns, DensityGrid, Pieces, Roles, Hands, Threads}
}

// NewPass begins to measure at a scale, which must be a positive, finite number.
// Steps are run one by one with Do, and end with an error soon after ctx does.
func NewPass(ctx context.Context, rec *applique.Recognised, s report.Settings, scale float64) (*Pass, error) {
	return newPass(ctx, rec, s, scale, nil)
}

// newPass is NewPass that puts needle points in the memory of pts: see Sewn.AtIn.
func newPass(ctx context.Context, rec *applique.Recognised, s report.Settings, scale float64, pts []geom.Point) (*Pass, error) {
	if !(scale > 0) || math.IsInf(scale, 0) {
		return nil, fmt.Errorf("scale %v: it must be a positive number, 1 for the design as it is", scale)
	}
	sewn := rec.Sewn.AtIn(pts, scale)
	d := sewn.Design
	p := &Pass{Recognised: rec, Settings: s, Scale: scale, Sewn: sewn, ctx: ctx, watch: watch.New(ctx), done: map[*Step]bool{}, Report: &report.Report{
		Format: d.Format, Name: d.Name, Settings: &s, Damage: damage(d), Whole: string(d.Whole), WholeReasons: append([]string{}, d.WholeReasons...),
		Stops: []report.Stop{}, SatinColumns: []report.SatinColumn{}, Pieces: []report.Piece{}, Cloths: []report.Cloth{}, Spools: []report.SpoolUse{}, HoldDownOffsets: []report.HoldDownOffset{},
		Density:  report.Density{MaxLayersStops: []int{}, MaxPenetStops: []int{}},
		Findings: []report.Finding{}, Warnings: []report.Warning{},
	}}
	for _, w := range d.Warnings {
		p.Report.Warnings = append(p.Report.Warnings, report.Warning(w))
	}
	for _, what := range rec.Unseen {
		p.Report.Warnings = append(p.Report.Warnings, report.Warning{Offset: -1, Message: what})
	}
	return p, nil
}

// damage tells what of the file was lost.
func damage(d *stitchfile.Design) *report.Damage {
	if d.Damage == nil {
		return nil
	}
	n := d.Counts()
	out := &report.Damage{Error: d.Damage.Error(), Read: n.Stitches, Message: fmt.Sprintf("this file is damaged: only its first %s could be read", words.Count(n.Stitches, "stitch"))}
	if errors.Is(d.Damage, stitchfile.ErrTruncated) {
		out.Message = fmt.Sprintf("this file is cut short: only its first %s are there", words.Count(n.Stitches, "stitch"))
	}
	if of := max(d.Claims.Records, d.Claims.Stitches); n.Stitches < of {
		out.Message += fmt.Sprintf(", about %d %% of the design", max(1, int(math.Round(100*float64(n.Stitches)/float64(of)))))
	}
	if c := d.Claims.ColourStops; c > n.ColourStops {
		out.Message += fmt.Sprintf(", in %d of its %d colour stops", n.ColourStops+1, c+1)
	}
	if n := d.Claims.Records; n >= 0 {
		out.Claimed = &n
	}
	return out
}

// Do runs a, after those it requires, unless it ran before. Steps that require one
// another in a circle are an error.
func (p *Pass) Do(a *Step) (err error) {
	defer watch.Catch(&err)
	if done, begun := p.done[a]; done {
		return nil
	} else if begun {
		return fmt.Errorf("measuring step %s requires itself", a.Name)
	}
	p.done[a] = false
	for _, r := range a.Requires {
		if err := p.Do(r); err != nil {
			return err
		}
	}
	if err := p.ctx.Err(); err != nil {
		return err
	}
	a.Run(p)
	p.done[a] = true
	return nil
}
