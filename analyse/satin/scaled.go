package satin

import (
	"context"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// ends are what of a strip's first and last station does not go with the scale: they
// stand past its end crossings by half a laid thread or half a pitch.
type ends struct {
	back, ahead geom.Point // unit vectors out of the strip
	pitch       float64    // median, mm, at scale 1
}

// past is how far the column reaches past its end crossings: half a laid thread, and
// half a pitch where rounding leaves the seam of a ring open.
func past(laid, pitch float64) float64 { return max(laid, pitch) / 2 }

// ends are those of the strip that was measured last.
func (w *columnWork) ends(c *report.SatinColumn) ends {
	return ends{w.back, w.ahead, c.Pitch.Median}
}

// addScaled files band i of f, with every length multiplied by k, as if thread hid all
// of it.
func (f *Satin) addScaled(from *Satin, i int, k, laid float64) {
	st := &from.strips[i]
	b := from.Bands[i].scaled(k, laid, &st.ends)
	b.Coverage = 1
	f.Bands = append(f.Bands, b)
	if b.Kind == report.KindSatin {
		f.columns = append(f.columns, scaledColumn(&from.columns[len(f.columns)], &b, k))
	}
}

// layStrands finds the strands of all strips again: most designs are asked about as they are
// alone, and need none.
func (f *Satin) layStrands() {
	w := newColumnWork(context.Background(), f.sewn, 0)
	defer w.done()
	passage := -1
	for i := range f.strips {
		st := &f.strips[i]
		if st.passage != passage {
			passage = st.passage
			g := &f.sewn.Passages[passage]
			w.crossings(&f.sewn.Track, g.From, g.To)
		}
		x := w.cross[st.from:st.to]
		st.strands, st.rung = make([]strand, len(x)), x[0].rung
		for j := range x {
			st.strands[j] = x[j].strand
		}
	}
}

// place puts the crossings of a strip where they are at the scale of the points.
func (w *columnWork) place(st *strip) {
	w.cross = slices.Grow(w.cross[:0], len(st.strands))
	rung := st.rung
	for i, x := range st.strands {
		if i > 0 {
			rung = x.first > st.strands[i-1].last
		}
		w.cross = append(w.cross, crossing{a: w.pts[x.first], b: w.pts[x.last], strand: x, rung: rung})
	}
}

// coverScaled measures the coverage of a column whose stations were scaled by k. Its
// band is left as if it were whole: nobody asks that of satin.
func (w *columnWork) coverScaled(st *strip, c *report.SatinColumn) {
	w.place(st)
	w.layAlong(w.cross)
	w.cover(w.cross, c)
}

// scaled is a band with every length multiplied by k, under thread that lies laid mm
// wide. Its coverage is left as it was.
func (b *Band) scaled(k, laid float64, e *ends) Band {
	usual := report.DefaultSettings()
	out := *b
	out.Width *= k
	all := make([]geom.Point, 3*len(b.Centre))
	for i, line := range [][]geom.Point{b.Centre, b.Left, b.Right} {
		to := all[i*len(line) : (i+1)*len(line) : (i+1)*len(line)]
		for j, q := range line {
			to[j] = q.Times(k)
		}
		n := len(line)
		more := past(laid, k*e.pitch) - k*past(usual.LaidWidth(), e.pitch)
		to[0], to[n-1] = to[0].Add(e.back.Times(more)), to[n-1].Add(e.ahead.Times(more))
		switch i {
		case 0:
			out.Centre = to
		case 1:
			out.Left = to
		case 2:
			out.Right = to
		}
	}
	return out
}

// scaledColumn is the column of a scaled band, with every length multiplied by k.
func scaledColumn(c *report.SatinColumn, b *Band, k float64) report.SatinColumn {
	out := *c
	out.Centre, out.Left, out.Right = b.Centre, b.Left, b.Right
	out.LengthMM *= k
	out.Widths = make([]float64, len(c.Widths))
	for i, v := range c.Widths {
		out.Widths[i] = k * v
	}
	for _, s := range []*report.Spread{&out.Width, &out.Pitch} {
		s.Min, s.P5, s.Median, s.P95, s.Max = k*s.Min, k*s.P5, k*s.Median, k*s.P95, k*s.Max
		for i := range s.MinAt {
			s.MinAt[i], s.MaxAt[i] = k*s.MinAt[i], k*s.MaxAt[i]
		}
	}
	for i := range out.ThinnestAt {
		out.ThinnestAt[i] *= k
	}
	out.Coverage, out.CoverageOut, out.CoverageIn, out.ThinCoverage = 1, 1, 1, 1
	return out
}
