package measure

// Columns measures every satin column: see Satin.Measure.
var Columns = &Step{
	Name:     "columns",
	Doc:      "satin columns: rails, width, pitch, length, coverage, underlay",
	Requires: []*Step{Sizes},
	Run:      measureColumns,
}

func measureColumns(p *Pass) {
	r := p.Report
	r.SatinColumns, p.bands = p.Recognised.Satin.Measure(p.Sewn, p.Settings.LaidWidth())
	for i := range r.Passages {
		r.Passages[i].Column = int(p.Recognised.Satin.ColumnOf[i])
	}
}
