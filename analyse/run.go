package analyse

import (
	"math"

	"github.com/stopcard/stopcard/stitchfile"
)

// Analyser is one measuring step. It reads what earlier steps left in the
// Pass and adds to its Report.
type Analyser struct {
	Name string
	Doc  string // one line: what it adds
	Run  func(*Pass)
}

// Pass is what the analysers of one run share.
type Pass struct {
	Design   *stitchfile.Design
	Settings Settings
	Report   *Report
}

// Analysers are the steps of Run, in order.
func Analysers() []Analyser {
	return []Analyser{stopsAnalyser, costAnalyser, rolesAnalyser, stepsAnalyser}
}

// Run measures d and returns its report. It does not change d. A design
// without stitches gives a report without stops.
func Run(d *stitchfile.Design, s Settings) *Report {
	p := &Pass{Design: d, Settings: s, Report: &Report{
		Format: d.Format, Name: d.Name,
		Stops: []Stop{}, SatinColumns: []SatinColumn{}, Pieces: []Piece{}, Cloths: []Cloth{},
		Findings: []Finding{}, Warnings: []Warning{},
	}}
	for _, w := range d.Warnings {
		p.Report.Warnings = append(p.Report.Warnings, Warning(w))
	}
	for _, a := range Analysers() {
		a.Run(p)
	}
	for _, rule := range Rules() {
		for _, f := range rule.Check(p) {
			f.Rule = rule.ID
			p.Report.Findings = append(p.Report.Findings, f)
		}
	}
	return p.Report
}

// toMM gives a move's place in report coordinates.
func (p *Pass) toMM(m stitchfile.Move) Point {
	return Point{(float64(m.X) - p.Report.CentreX) / 10, (float64(m.Y) - p.Report.CentreY) / 10}
}

// Point is a place in mm.
type Point struct{ X, Y float64 }

func distance(a, b Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// eachStitch calls f for each stitch of stop with the needle point before it in
// the same thread path; sewn is false for the first of a path and after a jump.
func (p *Pass) eachStitch(stop *Stop, f func(i int, from, to Point, sewn bool)) {
	var from Point
	down := false
	for i := stop.First; i < stop.Last; i++ {
		m := p.Design.Moves[i]
		if m.Kind != stitchfile.Stitch {
			down = false
			continue
		}
		to := p.toMM(m)
		f(i, from, to, down)
		from, down = to, true
	}
}
