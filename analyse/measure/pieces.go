package measure

import (
	"math"
	"slices"
	"sync"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// Pieces measures the pieces of applique cloth and the cover along their cut edges.
var Pieces = &Step{
	Name:     "pieces",
	Doc:      "applique pieces: placement, tack-down, cover, and the cover along the cut edge",
	Requires: []*Step{Columns},
	Run:      measurePieces,
}

// edgeRoom is what cut edges are measured in. It is used again from design to design.
type edgeRoom struct {
	cells   []edgeCell
	middles []geom.Point // see Pass.hide
	raw     []edgeReach
	figures []float64 // see edgeWork.begin
	places  []cellPlaces
}

var edgePool = sync.Pool{New: func() any { return new(edgeRoom) }}

func measurePieces(p *Pass) {
	p.Pieces = applique.PiecesAt(p.Recognised.Pieces, p.Scale)
	p.Slots, p.Bare, p.Broken = map[int][]float64{}, map[int][]BareStretch{}, map[int][]report.Gap{}
	// The rings of all pieces, so that the stitches are gone through once.
	var rings []cutRing
	for _, w := range p.Pieces {
		if p.measuresPiece(w.Number) {
			rings = append(rings, p.cutEdge(w)...)
		}
	}
	if len(rings) == 0 && p.part != nil {
		return
	}
	p.room = edgePool.Get().(*edgeRoom)
	defer func() { edgePool.Put(p.room); p.room = nil }()
	if len(rings) > 0 {
		if p.part != nil && !p.measuresZigzag() {
			p.cover = p.Recognised.Satin.IndexScaled(p.bands, p.Scale/p.Recognised.Sewn.Scale)
		} else {
			p.cover = p.Recognised.Satin.Index(p.bands)
		}
		p.room.cells = cutCells(p.room.cells[:0], rings)
		cells := p.room.cells
		at := 0
		for i := range rings {
			from := at
			for at < len(cells) && int(cells[at].ring) == i {
				at++
			}
			rings[i].cells, rings[i].over = cells[from:at], p.laidOver(&rings[i])
		}
		p.hide(rings, cells)
		seam := seamLook{Pass: p}
		p.measureReach(rings, cells, func(r *cutRing, q geom.Point) bool { return r.underCloth(q) || seam.has(r, q) })
	}
	for k, w := range p.Pieces {
		if !w.Hole && p.measuresPiece(w.Number) {
			p.Report.Pieces = append(p.Report.Pieces, p.measurePiece(k, rings))
		}
	}
}

// laidOver lists the cloths laid after that of a ring which may lie over its edge or its
// tack-down.
func (p *Pass) laidOver(r *cutRing) (out []*applique.Piece) {
	w := r.part
	box := geom.BoxOf(r.line).With(w.Tack.Box)
	for _, v := range p.Pieces {
		if v != w && v.Number != w.Number && !v.Hole && v.Held && v.Tack.Closed && v.Tack.Stop > w.Tack.Stop && v.Tack.Box.Meets(box) {
			out = append(out, v)
		}
	}
	return out
}

// underCloth reports whether a place of a cut edge lies under cloth laid later.
func (r *cutRing) underCloth(q geom.Point) bool {
	return slices.ContainsFunc(r.over, func(v *applique.Piece) bool { return v.Tack.Box.Holds(q) && v.Tack.Inside().Has(q) })
}

// seamNear is how near in mm to a line round the block the cut edge of a piece lies that
// reaches to the block's border: the line, its hold-down a little outside it, and the
// trim allowance.
const seamNear = 2.5

// seamAhead is how far in mm round a place it is seen at once that no line lies near.
const seamAhead = 6.0

// seamLook tells which places of cut edges lie on a line that went round the block before
// the piece was placed: there the block is joined, and the seam takes the edge.
type seamLook struct {
	*Pass
	part *applique.Piece
	far  geom.Point // no line before that piece lies near any place within seamAhead of here
	sees bool       // far is one
}

// has is asked of places one after another along a ring.
func (w *seamLook) has(r *cutRing, q geom.Point) bool {
	near := q.Times(1 / w.Scale)
	if w.part != r.part {
		w.part, w.sees = r.part, false
	}
	if w.sees && geom.Distance(near, w.far) < seamAhead {
		return false
	}
	within := func(reach float64) bool {
		return slices.ContainsFunc(w.Recognised.Round, func(t *applique.Trace) bool {
			return t.Stop < r.part.Place.Stop && t.Near().Within(near, reach)
		})
	}
	w.far, w.sees = near, !within(seamNear+seamAhead)
	return !w.sees && within(seamNear)
}

// measurePiece measures the piece and the holes in it.
func (p *Pass) measurePiece(k int, rings []cutRing) report.Piece {
	w := p.Pieces[k]
	out := report.Piece{Number: w.Number, PlacementStop: w.Place.Stop + 1, Holes: len(w.Holes), MarginMM: p.Settings.ClothMarginMM}
	if !w.Held {
		out.MarginMM = 0 // nothing tacks it down before its cover: it is cut to the line itself
	}
	if !w.PreCut {
		out.TackDownStop = w.Tack.Stop + 1
	}
	out.Finish, out.PreCut, out.OneStop, out.TackCover, out.CoverFirst = w.Finish, w.PreCut, w.OneStop, w.TackCover, w.CoverFirst
	out.Confidence, out.NextReading = w.Confidence, w.Next
	if len(w.Covers) > 0 {
		out.CoverStop = w.Covers[0] + 1
	}
	out.AreaMM2 = math.Abs(geom.PolygonArea(w.Tack.Line))
	out.PerimeterMM = w.Tack.Length
	b := geom.BoxOf(w.Place.Line)
	if w.Held && (w.Tack.Closed || !w.Place.Closed) {
		b = geom.BoxOf(slices.Concat(w.Tack.Line, w.Place.Line)) // cloth must reach past both
	}
	out.CutSizeMM = [2]float64{b.Width() + 2*out.MarginMM, b.Height() + 2*out.MarginMM}
	out.Placement, out.TackDown = geom.Rounded(w.Place.Line), geom.Rounded(w.Tack.Line)
	out.Gaps, out.OffCloth = []report.Gap{}, []report.Gap{}
	out.CutEdge = []geom.Polyline{}
	for _, h := range w.Holes {
		out.AreaMM2 -= math.Abs(geom.PolygonArea(h.Tack.Line))
	}
	e := edgeWork{limit: p.Settings.Limit("thin-cover-stretch"), least: 1, half: p.Settings.LaidWidth() / 2, room: p.room}
	own := func(r *cutRing) bool { return r.part == w || slices.Contains(w.Holes, r.part) }
	n := 0
	for i := range rings {
		if len(w.Covers) > 0 && own(&rings[i]) {
			n += len(rings[i].cells)
		}
	}
	e.begin(&out, n)
	for i := range rings {
		r := &rings[i]
		if !own(r) {
			continue
		}
		out.CutEdge = append(out.CutEdge, geom.Rounded(r.line))
		if len(w.Covers) > 0 {
			e.ring(&out, len(out.CutEdge)-1, r)
			if w.Finish == report.FinishZigzag {
				p.openBands(w, &e, &out, r.cells)
			}
		}
	}
	if out.Finish.Loose() {
		out.Gaps, out.OffCloth = []report.Gap{}, []report.Gap{}
	}
	if out.Finish.Loose() || w.FinishedBy > 0 {
		for i := range rings {
			if own(&rings[i]) {
				p.Broken[out.Number] = append(p.Broken[out.Number], p.brokenFinish(&rings[i])...)
			}
		}
	}
	e.sumUp(&out)
	p.Slots[out.Number], p.Bare[out.Number] = e.slots, e.bare
	return out
}

// edgeWork sums up the rings of one piece.
type edgeWork struct {
	half         float64 // half a laid thread, mm
	limit        float64 // share of cloth hidden below which a cover is open
	least        float64
	outer, inner []float64
	shares       []float64
	slots        []float64     // see Pass.Slots
	bare         []BareStretch // see Pass.Bare
	room         *edgeRoom
}

// begin makes room for n cells.
func (e *edgeWork) begin(out *report.Piece, n int) {
	if n == 0 {
		return
	}
	e.room.figures = slices.Grow(e.room.figures[:0], 3*n)
	room := e.room.figures[:3*n]
	e.outer, e.inner, e.shares = room[:0:n], room[n:n:2*n], room[2*n:2*n:3*n]
	out.Edge = make([]report.EdgeSample, 0, n)
}

// ring measures one ring of a piece's cut edge.
func (e *edgeWork) ring(out *report.Piece, ring int, r *cutRing) {
	w := ringWork{cells: r.cells, allow: r.allow, half: e.half, places: e.room.places[:0], shares: e.shares}
	w.judge(e.limit)
	e.room.places = w.places
	before := len(out.Edge)
	out.Edge = w.samples(out.Edge, ring)
	samples := out.Edge[before:]
	for i := range samples {
		s := &samples[i]
		if s.State == report.EdgeHidden {
			out.HiddenMM += geom.Distance(s.From, s.To)
			continue
		}
		e.outer, e.inner = append(e.outer, s.Outer), append(e.inner, s.Inner)
	}
	out.Gaps = append(out.Gaps, w.gaps...)
	out.OffCloth = append(out.OffCloth, offCloth(samples)...)
	e.shares = w.shares
	e.slots, e.bare = append(e.slots, w.slots...), append(e.bare, w.bare...)
	out.OpenMM += w.open
	if w.least < e.least {
		e.least, out.ThinnestAt = w.least, w.leastAt.Place()
	}
}

// bandEvery is how many cells apart the bands over an edge are looked for.
const bandEvery = 4

// openBands looks at open zigzags over an edge as columns are looked at, over all
// their width: so a cover is judged alike however far its stitches lie apart. Passes that
// lie over one another hide together, each the same share of what the others leave bare;
// what lies under satin is its underlay.
func (p *Pass) openBands(w *applique.Piece, e *edgeWork, out *report.Piece, cells []edgeCell) {
	for i := 0; i < len(cells); i += bandEvery {
		c := &cells[i]
		if c.noEdge || c.state == report.EdgeHidden {
			continue
		}
		bare, open, closed := 1.0, false, false
		p.cover.Near(c.middle(), 0, 1, nil, func(b int32) {
			switch band := &p.bands[b]; {
			case !slices.Contains(w.Covers, band.Stop):
			case band.Kind == report.KindOpenZigzag:
				open, bare = true, bare*(1-band.Coverage)
			case band.Kind == report.KindSatin:
				closed = true
			}
		})
		if open && !closed && 1-bare < e.least {
			e.least, out.ThinnestAt = 1-bare, c.middle().Place()
		}
	}
}

// sumUp fills in the figures over all rings.
func (e *edgeWork) sumUp(out *report.Piece) {
	if len(e.outer) > 0 {
		out.OuterCoverMM = report.MinMedian{Min: slices.Min(e.outer), Median: geom.QuantileOf(e.outer, 0.5)}
		out.InnerCoverMM = report.MinMedian{Min: slices.Min(e.inner), Median: geom.QuantileOf(e.inner, 0.5)}
	}
	if len(e.shares) > 0 {
		out.CoverShare = report.MinMedian{Min: e.least, Median: geom.QuantileOf(e.shares, 0.5)}
	}
	for _, g := range out.Gaps {
		out.UncoveredMM += g.LengthMM
	}
}

// offCloth are the stretches of an edge where satin lies over it and does not reach
// in to the tack-down.
func offCloth(edge []report.EdgeSample) []report.Gap {
	off := func(s *report.EdgeSample) bool {
		return s.State != report.EdgeHidden && s.Inner < leastInner && s.Inner > -report.ReachMM
	}
	var out []report.Gap
	n := len(edge)
	start := 0
	for start < n && off(&edge[start]) {
		start++
	}
	if start == n {
		start = 0
	}
	for k := 0; k < n; {
		if !off(&edge[(start+k)%n]) {
			k++
			continue
		}
		from, least, l := k, math.Inf(1), 0.0
		for ; k < n && off(&edge[(start+k)%n]); k++ {
			s := &edge[(start+k)%n]
			least = min(least, s.Inner)
			l += geom.Distance(s.From, s.To)
		}
		if l >= leastOff {
			out = append(out, report.Gap{LengthMM: l, AtMM: edge[(start+(from+k-1)/2)%n].At.Place(), LeastMM: least})
		}
	}
	return out
}

const (
	leastInner = 0.1 // mm that a cover must reach in past the tack-down: half the thread of its own stitches
	leastOff   = 2.0 // mm of edge; what is shorter is a corner, where a line square to one side misses the other
)
