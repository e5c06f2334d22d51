package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// A zigzag so flat that its stitches turn by less than those of a surface do is sewn as
// a line. Its teeth hide where it comes back to its beginning, and on a curve some of
// them are steep enough for a surface, so that it falls into pieces of either kind.
const (
	flatTooth  = 0.4 // mm that a tooth rises at least: more than rounding and a rough hand make
	flatInARow = 8   // teeth to one side and the other in turn: fewer are a motif or a corner
	flatPart   = 3   // teeth between two corners of such a row at least: two are any bend
	flatCorner = 3   // needle points that a corner takes out of a row of teeth at most
	flatCloses = 4.0 // mm between the ends of a row that closes, as of other zigzags
	flatRound  = 1.5 // times as long as the way round its box: a row so long goes round twice
)

// flatTeeth marks the needle points that are teeth of a flat zigzag; nil where there is
// none.
func flatTeeth(pts []geom.Point) []bool {
	var out []bool
	enough := false
	from, last := 0, 0.0 // where the row of teeth began, and the side of the last
	end := func(to int) {
		if last == 0 || to-from < flatPart {
			return
		}
		if out == nil {
			out = make([]bool, len(pts))
		}
		for i := from; i < to; i++ {
			out[i] = true
		}
		enough = enough || to-from >= flatInARow
	}
	for i := 1; i+1 < len(pts); i++ {
		chord := pts[i+1].Sub(pts[i-1])
		side := chord.Cross(pts[i].Sub(pts[i-1]))
		if l := chord.Norm(); side < flatTooth*l && side > -flatTooth*l || l < flatTooth {
			end(i)
			last = 0
			continue
		}
		if side*last >= 0 {
			end(i)
			from = i
		}
		last = side
	}
	end(len(pts) - 1)
	if !enough {
		return nil
	}
	return out
}

// toothed finds the rows of flat teeth among needle points, each from its first tooth to
// one past its last; what corners take out of a row is of it.
func toothed(pts []geom.Point) (rows [][2]int) {
	for i, tooth := range flatTeeth(pts) {
		if !tooth {
			continue
		}
		if n := len(rows); n > 0 && i-rows[n-1][1] <= flatCorner {
			rows[n-1][1] = i + 1
		} else {
			rows = append(rows, [2]int{i, i + 1})
		}
	}
	return slices.DeleteFunc(rows, func(r [2]int) bool { return r[1]-r[0] < flatInARow })
}

// toothedTraces makes lines of needle points among which rows are of flat teeth: one that
// comes back to where it began is closed, and what leads from one to the next is a line
// of its own.
func (p *finder) toothedTraces(stop int, pts []geom.Point, rows [][2]int, at int, stitch float64) (out []Trace) {
	done := 0
	lead := func(to int) {
		if to-done > flatCorner {
			out = p.loopTraces(out, stop, pts[done:to], pts[done:to], at+done, stitch)
		}
	}
	for _, r := range rows {
		from, to := max(done, r[0]-1), min(len(pts), r[1]+1)
		lead(from + 1)
		row, n := pts[from:to], to-from
		done = to - 1
		if l := geom.PathLength(row); l > flatCloses*3 && geom.Distance(row[0], row[n-1]) <= flatCloses && !windsTwice(row) {
			out = append(out, Trace{Stop: stop, Kind: report.KindRun, first: at + from, times: 1, Line: append(slices.Clone(row), row[0]),
				stitch: stitch, sewn: l, whole: true, Spans: [][2]int{{at + from, at + to}}})
			continue
		}
		out = p.loopTraces(out, stop, row, evened(row), at+from, stitch)
	}
	lead(len(pts))
	for i := range out {
		out[i].whole = true
	}
	return out
}

// windsTwice reports whether a row goes round more than once: it is far longer than the
// way round what it encloses.
func windsTwice(row []geom.Point) bool {
	b := geom.BoxOf(row)
	return geom.PathLength(evened(row)) > flatRound*2*(b.Width()+b.Height())
}

// evened puts the teeth of a flat zigzag on its middle. It gives the points themselves
// where there are none.
func evened(pts []geom.Point) []geom.Point {
	teeth := flatTeeth(pts)
	if teeth == nil {
		return pts
	}
	out := slices.Clone(pts)
	for i, tooth := range teeth {
		if tooth {
			out[i] = geom.Lerp(geom.Middle(pts[i-1], pts[i+1]), pts[i], 0.5)
		}
	}
	return out
}

// flatZigzag finds the passages from one on that are one zigzag, whose stitches are a
// surface here and a line there. It gives the passage after the last that may be of it,
// and whether they are.
func (p *finder) flatZigzag(from int) (to int, flat bool) {
	gs := p.sewn.Passages
	var kinds [report.KindCount]bool
	for to = from; to < len(gs) && gs[to].Stop == gs[from].Stop && (gs[to].Kind == report.KindRun || gs[to].Kind == report.KindOpenZigzag) &&
		(to == from || gs[to].From == gs[to-1].To && p.sewn.Track.Joined(gs[to].From)); to++ {
		kinds[gs[to].Kind] = true
	}
	if !kinds[report.KindRun] || !kinds[report.KindOpenZigzag] {
		return max(to, from+1), false
	}
	at := leadIn(p, &gs[from])
	teeth := flatTeeth(points(p, &gs[from], &gs[to-1]))
	p.watch.Step(gs[to-1].To - at)
	n, lines := 0, 0
	for _, g := range gs[from:to] {
		for i := g.From; i < g.To && teeth != nil && g.Kind == report.KindRun; i++ {
			lines++
			if teeth[i-at] {
				n++
			}
		}
	}
	return to, n >= flatInARow || n >= flatPart && 2*n > lines
}

// asZigzag makes a zigzag of a line most of whose needle points lie in passages that are
// one.
func (p *finder) asZigzag(t *Trace, from, to int) {
	n, all := 0, 0
	for _, s := range t.Spans {
		all += s[1] - s[0]
		for k := from; k < to; k++ {
			if g := &p.sewn.Passages[k]; g.Kind == report.KindOpenZigzag && g.To > s[0] && g.From < s[1] {
				n += min(g.To, s[1]) - max(g.From, s[0])
				for b := int(p.satin.BandOf[k]); b >= 0 && b < len(p.satin.Bands) && p.satin.Bands[b].Passage == k; b++ {
					t.Bands = append(t.Bands, b)
				}
			}
		}
	}
	if float64(n) < flatSurface*float64(all) {
		t.Bands = nil
		return
	}
	t.Kind, t.Line, t.Length = report.KindOpenZigzag, evened(t.Line), 0
}

const flatSurface = 0.2 // of the stitches of a flat zigzag that are a surface: fewer are a step aside
