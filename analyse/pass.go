package analyse

// Analyser is one measuring step. It reads what the steps it requires left in
// the Pass and adds to its Report.
type Analyser struct {
	Name     string
	Doc      string // what it adds, its method and its source
	Requires []*Analyser
	Run      func(*Pass)
}

// Pass is one measuring of what was recognised: at one scale, under one set of
// settings.
type Pass struct {
	Recognised *Recognised
	Settings   Settings
	Report     *Report

	// Scale is the factor by which the whole design is blown up, its stitch
	// count kept; 1 is the design as it is. Sewn is its stitching at that scale.
	Scale float64
	Sewn  *Sewn

	travel travelWork
	bands  []Band
	cover  *bandIndex
	pieces []*pieceWork // at the scale
	done   map[*Analyser]bool
}

// Analysers are the steps of Measure, in order.
func Analysers() []*Analyser {
	return []*Analyser{Stops, Cost, Travelling, Columns, DensityGrid, Pieces, Roles, Steps}
}

// NewPass begins to measure. Its steps are run one by one with Do.
func NewPass(rec *Recognised, s Settings, scale float64) *Pass {
	sewn := rec.Sewn.At(scale)
	d := sewn.Design
	p := &Pass{Recognised: rec, Settings: s, Scale: scale, Sewn: sewn, done: map[*Analyser]bool{}, Report: &Report{
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
