package measure

import (
	"context"
	"maps"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
)

// Part is what of a design a pass at another scale measures, where only a few places
// of it matter. What is left out is no finding: it is as sound as can be, or not in the
// report.
type Part struct {
	// Columns tells the satin columns whose coverage is measured, by their index in
	// Report.SatinColumns, which lists all; the others are given as wholly covered. nil
	// measures none. What other thread hides is looked at only where their own hides
	// less than the limits thin-cover and thin-cover-stretch ask for.
	Columns func(i int) bool

	// Others has what other thread hides looked at whatever their own hides.
	Others bool

	// OwnOnly tells the columns of which nobody asks what other thread hides; nil: none.
	OwnOnly func(i int) bool

	// Pieces tells the pieces whose edges are measured, by their number; the others are
	// not in Report.Pieces. Pass.Pieces has all. nil measures none.
	Pieces func(number int) bool

	// Crowding and Layers are the limits, in holes to the mm2 and in layers, past which
	// the peaks of the density grid are told: one that is not may be lower in the
	// report. 0 measures none.
	Crowding, Layers float64

	// Down is a smaller scale: the peaks are told of all that may be past a limit at any
	// from the pass's down to it. 0 is the pass's own.
	Down float64
}

// Under is p, all of which was measured or none, for a context of its own. It may be
// asked for more, and for parts at other scales, and p is left as it is.
func (p *Pass) Under(ctx context.Context) *Pass {
	q, r := *p, *p.Report
	q.Report, q.ctx, q.watch, q.done, q.lines = &r, ctx, watch.New(ctx), maps.Clone(p.done), maps.Clone(p.lines)
	return &q
}

// PartAt begins to measure a part of the design of p at a scale, under the same
// settings. What p found that knows no scale is taken over.
func (p *Pass) PartAt(scale float64, part *Part) (*Pass, error) {
	var pts []geom.Point
	if n := len(p.spare); n > 0 {
		pts, p.spare = p.spare[n-1], p.spare[:n-1]
	}
	q, err := newPass(p.ctx, p.Recognised, p.Settings, scale, pts)
	if err != nil {
		return nil, err
	}
	q.part, q.from = part, p
	if part.Crowding > 0 || part.Layers > 0 {
		err = p.Do(DensityGrid)
	}
	return q, err
}

// Done is told of a part that is not looked at any more: its memory is used again.
func (p *Pass) Done() {
	if p.part == nil || p.Sewn == nil || p.Sewn == p.from.Sewn {
		return
	}
	p.from.spare = append(p.from.spare, p.Sewn.Track.Pts)
	p.Sewn = nil
}

// coversBand tells the bands whose coverage is measured; nil for all.
func (p *Pass) coversBand() func(band int) bool {
	if p.part == nil {
		return nil
	}
	bands := p.Recognised.Satin.Bands
	want := make([]bool, len(bands))
	zigzags := p.measuresZigzag()
	column := 0
	for i := range bands {
		switch bands[i].Kind {
		case report.KindSatin:
			want[i] = p.coversColumn(column)
			column++
		case report.KindOpenZigzag:
			want[i] = zigzags
		}
	}
	return func(band int) bool { return want[band] }
}

// coversColumn reports whether the coverage of a column is measured.
func (p *Pass) coversColumn(i int) bool {
	return p.part == nil || p.part.Columns != nil && p.part.Columns(i)
}

// measuresPiece reports whether the edge of a piece is measured.
func (p *Pass) measuresPiece(number int) bool {
	return p.part == nil || p.part.Pieces != nil && p.part.Pieces(number)
}

// measuresZigzag reports whether a piece is measured that open zigzags cover.
func (p *Pass) measuresZigzag() bool {
	for _, w := range p.Recognised.Pieces {
		if w.Finish == report.FinishZigzag && p.measuresPiece(w.Number) {
			return true
		}
	}
	return false
}
