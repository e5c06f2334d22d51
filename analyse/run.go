package analyse

import (
	"github.com/stopcard/stopcard/stitchfile"
)

// Analyser is one measuring step. It reads what the steps it requires left in
// the Pass and adds to its Report.
type Analyser struct {
	Name     string
	Doc      string // what it adds, its method and its source
	Requires []*Analyser
	Run      func(*Pass)
}

// Pass is what the analysers of one run share.
type Pass struct {
	Design   *stitchfile.Design
	Settings Settings
	Report   *Report

	// Scale is the factor by which the whole design is blown up, its stitch
	// count kept; 1 is the design as it is.
	Scale float64

	track              track
	empty              []int // for each part that sews nothing, the number of the stop before it
	travel             travelWork
	bands              []band
	cover              *bandIndex
	sewsSatin          []bool // by stop
	traces             []trace
	work               []*pieceWork
	looks, filledLooks int                       // what the search for pieces has cost
	sewnBy             [][len(kindNames)]float64 // mm of thread by stop and kind
	done               map[*Analyser]bool
}

// Analysers are the steps of Run, in order.
func Analysers() []*Analyser {
	return []*Analyser{Stops, Passages, Cost, Travelling, Columns, DensityGrid, Pieces, Roles, Steps}
}

// Run measures d and returns its report. It does not change d. A design
// without stitches gives a report without stops.
func Run(d *stitchfile.Design, s Settings) *Report { return RunAt(d, s, 1) }

// RunAt is Run on d scaled by the given factor with its stitch count kept, as
// machines scale: every length grows, thread, needle and scissors do not. What
// each stitch is part of is judged on the design as it is.
func RunAt(d *stitchfile.Design, s Settings, scale float64) *Report {
	p := NewPass(d, s)
	p.Scale = scale
	for _, a := range Analysers() {
		p.Do(a)
	}
	p.check(Rules())
	return p.Report
}

// NewPass starts a run of single analysers, for those who need one measure and
// not the whole report.
func NewPass(d *stitchfile.Design, s Settings) *Pass {
	p := &Pass{Design: d, Settings: s, Scale: 1, done: map[*Analyser]bool{}, Report: &Report{
		Format: d.Format, Name: d.Name,
		Stops: []Stop{}, SatinColumns: []SatinColumn{}, Pieces: []Piece{}, Cloths: []Cloth{}, HoldDownOffsets: []HoldDownOffset{},
		Density:  Density{MaxLayersStops: []int{}, MaxPenetStops: []int{}},
		Findings: []Finding{}, Warnings: []Warning{},
	}}
	for _, w := range d.Warnings {
		p.Report.Warnings = append(p.Report.Warnings, Warning(w))
	}
	return p
}

// Do runs a, after those it requires, unless it ran before.
func (p *Pass) Do(a *Analyser) {
	if p.done[a] {
		return
	}
	p.done[a] = true
	for _, r := range a.Requires {
		p.Do(r)
	}
	a.Run(p)
}

// check adds what the rules find, in their order.
func (p *Pass) check(rules []Rule) {
	for _, rule := range rules {
		for _, f := range rule.Check(p) {
			f.Rule = rule.ID
			p.Report.Findings = append(p.Report.Findings, f)
		}
	}
}
