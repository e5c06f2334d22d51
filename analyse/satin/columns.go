package satin

import (
	"context"
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// crossing is one thread from rail to rail; a is on the right rail, as seen along
// the column, once it is measured.
type crossing struct {
	a, b   geom.Point
	ra, rb float64 // how far outside the thread's ends the rails lie, for short stitches
	strand
	rung bool // a step along the rail led to it
}

// strand is what of a crossing is the same at every scale: its first and last point in
// the track.
type strand struct{ first, last int32 }

// split reports whether a crossing is made of several stitches.
func (s strand) split() bool { return s.last-s.first > 1 }

const (
	shortInset    = 0.15 // share of the width that a short stitch leaves free
	axisReach     = 4    // crossings to either side that give the direction of the centre line
	StretchMM     = 10.0 // length over which the thinnest coverage is taken
	leastColumn   = 3    // crossings
	leastPitch    = 0.05 // mm; the closest satin has four times as much
	mostPitch     = 1.5 * stitches.SatinAdvance
	ShortColumnMM = 3.0  // mm: shorter columns are dots and letter ends
	barWidest     = 12.5 // mm across a bar of fill that serves as a cover
	barSlender    = 2.0  // times as long as wide
	barUneven     = 0.2  // share by which its parts may differ in width
	barEven       = 0.8  // share of its length that must be so even
)

// Band is the ground that a satin column, an open zigzag or a bar of fill covers,
// by stations along it.
type Band struct {
	Stop                int // index in Report.Stops
	Passage             int // index in Sewn.Passages
	Kind                report.Kind
	Width               float64 // median, mm
	Coverage            float64 // share of it under its own thread; 1 of a bar, of which nobody asks it
	Centre, Left, Right []geom.Point
}

// Satin is what of a design is sewn as crossings from rail to rail: which stitches
// make which column. It holds no measure but those it was found by.
type Satin struct {
	// Bands has one band for each column, open zigzag and bar of fill, in sewing
	// order. BandOf gives the first band of each passage and ColumnOf the first
	// satin column, -1 for none.
	Bands    []Band
	BandOf   []int32
	ColumnOf []int32

	sewn    *stitches.Sewn
	strips  []strip
	columns []report.SatinColumn // as they are at scale 1 under usual thread

	indexing, scaling, stranding sync.Once
	index, toScale               bandQuads // of Bands, as they are and to be scaled, once they were asked for
}

// strip is the crossings of one band.
type strip struct {
	passage  int // index in Sewn.Passages
	from, to int // of the crossings of the passage
	span     strand
	strands  []strand // once another scale was asked for
	rung     bool     // a step along the rail led to the first; to others one did that do not begin where the last ended
	ends     ends
	underlay []report.Kind
}

// Find finds the columns, zigzags and bars of s. A column is cut where its
// crossings turn abruptly, as at a mitred corner.
func Find(ctx context.Context, s *stitches.Sewn) (f *Satin, err error) {
	defer watch.Catch(&err)
	f = &Satin{sewn: s, BandOf: make([]int32, len(s.Passages)), ColumnOf: make([]int32, len(s.Passages))}
	usual := report.DefaultSettings()
	w := newColumnWork(ctx, s, usual.LaidWidth())
	defer w.done()
	longest, satins, bands := 0, 0, 0
	for i := range s.Passages {
		switch g := &s.Passages[i]; {
		case g.To-g.From < leastColumn:
		case g.Kind == report.KindSatin:
			satins++
			fallthrough
		case g.Kind == report.KindOpenZigzag:
			bands++
			longest = max(longest, g.To-g.From+1)
		}
	}
	w.room(longest)
	f.columns, f.Bands, f.strips = make([]report.SatinColumn, 0, satins), make([]Band, 0, bands), make([]strip, 0, bands)
	for i := range s.Passages {
		f.BandOf[i], f.ColumnOf[i] = -1, -1
		g := &s.Passages[i]
		if !g.Kind.Surface() {
			continue
		}
		w.crossings(&s.Track, g.From, g.To)
		found, strips := w.found[:0], w.strips[:0]
		for from := 0; from < len(w.cross); {
			to := w.columnEnd(from)
			if to-from >= leastColumn {
				first, last := from, to
				if g.Kind == report.KindSatin {
					first, last = withoutLeads(w.cross, from, to)
				}
				x := w.cross[first:last]
				c := w.extent(x)
				if g.Kind == report.KindSatin && !goesOn(&c) {
					from = to
					continue
				}
				if g.Kind != report.KindFill {
					w.lay(x, &c)
					w.cover(x, &c)
				}
				found, strips = append(found, c), append(strips, strip{passage: i, from: first, to: last, span: strand{x[0].first, x[len(x)-1].last}, ends: w.ends(&c)})
			}
			from = to
		}
		w.found, w.strips = found, strips
		if g.Kind == report.KindFill {
			if !isBar(found) {
				continue
			}
			w.crossings(&s.Track, g.From, g.To) // as they were before they were turned
		}
		for k := range found {
			c, st := &found[k], &strips[k]
			if g.Kind == report.KindFill {
				*c = w.bar(w.cross[st.from:st.to])
			}
			if f.BandOf[i] < 0 {
				f.BandOf[i] = int32(len(f.Bands))
			}
			if g.Kind == report.KindSatin {
				if f.ColumnOf[i] < 0 {
					f.ColumnOf[i] = int32(len(f.columns))
				}
				st.underlay = w.underlay(s, i, c)
			}
			f.add(s, st, c)
			f.strips = append(f.strips, *st)
		}
	}
	return f, nil
}

// goesOn reports whether crossings that were taken for satin make a column: they go
// on, and not in such strides that they are a few stray ones. Those of a knot or a
// rosette turn about one place.
func goesOn(c *report.SatinColumn) bool {
	return c.Pitch.Median >= leastPitch && c.Pitch.Median <= mostPitch
}

// add files what was measured of a strip under the bands and, for satin, the columns.
func (f *Satin) add(s *stitches.Sewn, st *strip, c *report.SatinColumn) {
	g := &s.Passages[st.passage]
	c.Stop = g.Stop
	c.First, c.Last = s.Track.MoveOf(int(st.span.first)), s.Track.MoveOf(int(st.span.last))+1
	f.Bands = append(f.Bands, Band{g.Stop - 1, st.passage, g.Kind, c.Width.Median, c.Coverage, c.Centre, c.Left, c.Right})
	if g.Kind == report.KindSatin {
		c.Underlay = st.underlay
		f.columns = append(f.columns, *c)
		last := &f.columns[len(f.columns)-1]
		last.Centre = slices.Clip(last.Centre)
	}
}

// Measure measures every column on s, which is the stitching that f was found in
// at any scale, sewn with thread that lies laid mm wide: its columns and its
// bands, in the order of f.Bands.
//
// Width is the distance between the rails square to the centre line; pitch is
// the advance along the centre line between successive penetrations on one
// rail, averaged over a few crossings because files round to 0.1 mm; length is
// the centre line's. Coverage: see cover. It is measured of the bands that covered
// asks for; the others are given as wholly covered. Without covered it is all.
func (f *Satin) Measure(ctx context.Context, s *stitches.Sewn, laid float64, covered func(band int) bool) (columns []report.SatinColumn, bands []Band, err error) {
	defer watch.Catch(&err)
	usual := report.DefaultSettings()
	if s == f.sewn && laid == usual.LaidWidth() {
		return slices.Clone(f.columns), f.Bands, nil
	}
	w := newColumnWork(ctx, s, laid)
	defer w.done()
	f.stranding.Do(f.layStrands)
	out := &Satin{columns: []report.SatinColumn{}, Bands: make([]Band, 0, len(f.Bands))}
	for i := range f.strips {
		st := &f.strips[i]
		if covered == nil || covered(i) && f.Bands[i].Kind != report.KindSatin {
			w.place(st)
			measure := w.measure
			if f.Bands[i].Kind == report.KindFill {
				measure = w.bar
			}
			c := measure(w.cross)
			out.add(s, st, &c)
			continue
		}
		k := s.Scale / f.sewn.Scale
		out.addScaled(f, i, k, laid)
		if covered(i) {
			w.coverScaled(st, &out.columns[len(out.columns)-1])
		}
	}
	return out.columns, out.Bands, nil
}

// crossings finds the crossings of a satin passage: its strokes from turning
// point to turning point, without the steps along the rails.
func (w *columnWork) crossings(t *stitches.Track, first, last int) {
	w.cross = w.cross[:0]
	if first > 0 && t.Joined(first) {
		first-- // the first crossing begins where the passage before ends
	}
	turns := t.Turns(first, last)
	n := turns.Len()
	w.cross = slices.Grow(w.cross, n)[:n]
	for i := range w.cross {
		from, to, rung := turns.At(i)
		w.cross[i] = crossing{a: t.Pts[from], b: t.Pts[to], strand: strand{from, to}, rung: rung}
	}
	turns.Done()
}

// measure measures one column.
func (w *columnWork) measure(x []crossing) report.SatinColumn {
	c := w.extent(x)
	w.lay(x, &c)
	w.cover(x, &c)
	return c
}

// bar measures one bar of fill, as if its rows hid all of it.
func (w *columnWork) bar(x []crossing) report.SatinColumn {
	c := w.extent(x)
	w.lay(x, &c)
	c.Coverage = 1
	return c
}

// extent measures a column but for its stations and its coverage, which take the most
// time: most rows of fill are found to be no column by then.
func (w *columnWork) extent(x []crossing) report.SatinColumn {
	n := len(x)
	c := report.SatinColumn{Crossings: n}
	c.LengthMM = w.layAlong(x)
	w.findRails(x)
	rungs, splits := 0, 0
	for j := range x {
		if x[j].rung {
			rungs++
		}
		if x[j].split() {
			splits++
		}
	}
	c.Split = splits > 1 && splits*10 >= n // a tie may lengthen the first crossing
	perPitch := 2.0                        // crossings from one penetration on a rail to the next
	if 2*rungs > n {
		perPitch = 1
	}
	if perPitch == 2 && n > 1 {
		c.LengthMM += c.LengthMM / float64(n-1) // half a pitch past the middles of the end crossings
	}
	w.parted = append(slices.Grow(w.parted[:0], n), w.width...)
	c.Width = spread(w.parted, func(j int) geom.Point { return x[j].mid() })
	// Files round to 0.1 mm, so a single advance means little.
	span := min(12, (n-1)&^1)
	w.parted = w.parted[:0]
	for j := 0; j+span < n && span > 0; j++ {
		w.parted = append(w.parted, max(0, (w.along[j+span]-w.along[j])*perPitch/float64(span)))
	}
	c.Pitch = spread(w.parted, func(j int) geom.Point { return x[j+span/2].mid() })
	return c
}

// layAlong turns the crossings of a column from the right rail to the left, finds how far
// along it and how wide each is, and gives the length from the first to the last.
func (w *columnWork) layAlong(x []crossing) (s float64) {
	n := len(x)
	w.along, w.width = slices.Grow(w.along[:0], n)[:n], slices.Grow(w.width[:0], n)[:n]
	way := geom.Point{X: 1, Y: 0}
	for j := range x {
		k, before := &x[j], way
		lo, hi := max(0, j-axisReach), min(n-1, j+axisReach)
		v := x[hi].mid().Sub(x[lo].mid())
		if l := v.Norm(); l > still*w.scale {
			way = v.Times(1 / l)
		} else if j == 0 {
			way = k.b.Sub(k.a).Unit().Left()
		}
		across := way.Cross(k.b.Sub(k.a))
		if across < 0 {
			k.a, k.b, across = k.b, k.a, -across
		}
		if j == 0 {
			w.back = way.Times(-1)
		} else {
			s += k.mid().Sub(x[j-1].mid()).Dot(before.Add(way).Unit())
		}
		w.along[j], w.width[j] = s, across
	}
	w.ahead = way
	return s
}

// lay adds the stations of a column right after its extent.
func (w *columnWork) lay(x []crossing, c *report.SatinColumn) {
	n := len(x)
	stations := (n+1)/2 + 2
	all := make([]geom.Point, 3*stations+closingRoom)
	left, right, centre := all[:stations:stations], all[stations:2*stations:2*stations], all[2*stations:3*stations]
	widths := make([]float64, stations)
	station := func(i int, a, b geom.Point, width float64) {
		centre[i], left[i], right[i], widths[i] = geom.Middle(a, b), b, a, width
	}
	e := w.ends(c)
	back, ahead := e.back.Times(past(w.laid, e.pitch)), e.ahead.Times(past(w.laid, e.pitch))
	station(0, x[0].railA().Add(back), x[0].railB().Add(back), w.width[0])
	for j := 0; j < n; j += 2 {
		k := min(j+1, n-1)
		station(1+j/2, geom.Middle(x[j].railA(), x[k].railA()), geom.Middle(x[j].railB(), x[k].railB()), (w.width[j]+w.width[k])/2)
	}
	station(stations-1, x[n-1].railA().Add(ahead), x[n-1].railB().Add(ahead), w.width[n-1])
	c.Centre, c.Left, c.Right, c.Widths = centre, left, right, widths
}

// closingRoom is for points that a centre line may take to close.
const closingRoom = 5

func (x *crossing) mid() geom.Point { return geom.Middle(x.a, x.b) }
func (x *crossing) length() float64 { return geom.Distance(x.a, x.b) }

// railA and railB are where the crossing would meet the rails if it reached them.
func (x *crossing) railA() geom.Point {
	if x.ra == 0 {
		return x.a
	}
	return x.a.Sub(x.b.Sub(x.a).Unit().Times(x.ra))
}

func (x *crossing) railB() geom.Point {
	if x.rb == 0 {
		return x.b
	}
	return x.b.Add(x.b.Sub(x.a).Unit().Times(x.rb))
}

// still is how far in mm the middles of crossings must move, on the design as it
// is, to tell a direction: they lie on a grid of 0.05 mm, and one step of it is
// rounding.
const still = 0.06
