package measure

import "github.com/stopcard/stopcard/analyse/internal/watch"

// Columns measures every satin column: see Satin.Measure.
var Columns = &Step{
	Name:     "columns",
	Doc:      "satin columns: rails, width, pitch, length, coverage, underlay",
	Requires: []*Step{Sizes},
	Run:      measureColumns,
}

func measureColumns(p *Pass) {
	r := p.Report
	var err error
	r.SatinColumns, p.bands, err = p.Recognised.Satin.Measure(p.ctx, p.Sewn, p.Settings.LaidWidth())
	watch.Raise(err)
	for i := range r.Passages {
		r.Passages[i].Column = int(p.Recognised.Satin.ColumnOf[i])
	}
}
