package measure

import (
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
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

	Travel travelWork
	bands  []satin.Band
	cover  *satin.BandIndex
	Pieces []*applique.Piece // at the scale
	done   map[*Step]bool
}

// Steps are the steps of Measure, in order.
func Steps() []*Step {
	return []*Step{Sizes, Cost, Travelling, Columns, DensityGrid, Pieces, Roles, Hands}
}

// NewPass begins to measure. Its steps are run one by one with Do.
func NewPass(rec *applique.Recognised, s report.Settings, scale float64) *Pass {
	sewn := rec.Sewn.At(scale)
	d := sewn.Design
	p := &Pass{Recognised: rec, Settings: s, Scale: scale, Sewn: sewn, done: map[*Step]bool{}, Report: &report.Report{
		Format: d.Format, Name: d.Name,
		Stops: []report.Stop{}, SatinColumns: []report.SatinColumn{}, Pieces: []report.Piece{}, Cloths: []report.Cloth{}, HoldDownOffsets: []report.HoldDownOffset{},
		Density:  report.Density{MaxLayersStops: []int{}, MaxPenetStops: []int{}},
		Findings: []report.Finding{}, Warnings: []report.Warning{},
	}}
	for _, w := range d.Warnings {
		p.Report.Warnings = append(p.Report.Warnings, report.Warning(w))
	}
	return p
}

// Do runs a, after those it requires, unless it ran before.
func (p *Pass) Do(a *Step) {
	if p.done[a] {
		return
	}
	p.done[a] = true
	for _, r := range a.Requires {
		p.Do(r)
	}
	a.Run(p)
}
