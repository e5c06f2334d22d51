package match

import (
	"math"
	"math/cmplx"
	"path"
	"strings"
	"unicode"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// Signature is what Match needs to know of a design: where its needle goes, what
// its stops are for, and how it is spaced.
type Signature struct {
	Path, Format, Name string
	WidthMM, HeightMM  float64
	Stitches, Trims    int
	Minutes            float64
	Spacing            measure.Spacing

	stops  []stopSign
	points []needlePoint
	lifts  []int // numbers of the points to which the needle did not come by a stitch
	whole  sketch
	named  *nameStem
	called string // among the files that it is matched with

	allThere   bool // its file tells that it is whole
	machineMin float64
	units      words.Units      // in which lengths are told
	colours    []*string        // by stop
	faults     []report.Finding // what check calls a fault, whatever the hoop
}

// needlePoint is a penetration in 0.1 mm.
type needlePoint struct{ x, y int32 }

// stopSign is one colour stop of a Signature.
type stopSign struct {
	role   string
	sure   float64 // confidence in it
	first  int     // its points: from here to the next stop's first
	trims  int
	sketch sketch
	mm     [report.KindCount]float64 // sewn, by kind
	rows   complex128                // direction of its fill rows, doubled, weighed by length
}

// sketch is a coarse picture of stitching: the sewn length over square cells,
// blurred, as a unit vector. Designs are laid into it centred, their longer side
// over its whole width, so that sizes compare.
type sketch []float32

const (
	stopSketch  = 16 // cells along a side
	wholeSketch = 32
)

// Sign makes the signature of a design that was recognised, with its report.
func Sign(rec *applique.Recognised, r *report.Report) *Signature {
	d := rec.Sewn.Design
	s := &Signature{Path: r.Path, Format: r.Format, Name: r.Name, WidthMM: r.WidthMM, HeightMM: r.HeightMM,
		Stitches: r.Stitches, Trims: r.Trims, Minutes: r.Minutes, machineMin: r.MachineMin, allThere: r.Whole == string(stitchfile.Whole), units: words.UnitsOf(r.Settings), whole: make(sketch, wholeSketch*wholeSketch)}
	every := thinning(r.Stitches)
	s.points = make([]needlePoint, 0, r.Stitches/every+len(r.Stops))
	s.Spacing = measure.SpacingOf(rec.Sewn, r, measure.EnoughFill)
	pen := sketching{side: max(r.WidthMM, r.HeightMM) * 10, cx: r.CentreX, cy: r.CentreY}
	if pen.side <= 0 {
		pen.side = 1
	}
	for _, f := range r.Findings {
		if f.Severity == report.Fault && f.Rule != "outside-hoop" {
			s.faults = append(s.faults, f)
		}
	}
	for k := range r.Stops {
		st := &r.Stops[k]
		if colour := st.Colour; r.ColoursFrom == "" {
			s.colours = append(s.colours, colour)
		} else {
			s.colours = append(s.colours, nil) // the file itself has none
		}
		g := stopSign{role: st.Role, sure: st.Confidence, first: len(s.points), trims: st.Trims, sketch: make(sketch, stopSketch*stopSketch)}
		down, lifted, n := false, false, 0
		var last stitchfile.Move
		for i, m := range d.Moves[st.First:st.Last] {
			if m.Kind != stitchfile.Stitch {
				down = false
				continue
			}
			at := needlePoint{m.X, m.Y}
			lifted = lifted || !down
			if n++; n%every == 1%every {
				if lifted {
					s.lifts = append(s.lifts, len(s.points))
				}
				s.points, lifted = append(s.points, at), false
			}
			if down {
				dx, dy := float64(m.X)-float64(last.X), float64(m.Y)-float64(last.Y)
				l := math.Hypot(dx, dy)
				if k := st.First + i; k < len(rec.Sewn.Kinds) {
					g.mm[rec.Sewn.Kinds[k]] += l
					if rec.Sewn.Kinds[k] == report.KindFill && l > 0 {
						u := complex(dx/l, dy/l)
						g.rows += u * u * complex(l, 0)
					}
				}
				pen.line(g.sketch, s.whole, needlePoint{last.X, last.Y}, at)
			}
			last, down = m, true
		}
		g.sketch = g.sketch.finished(stopSketch)
		s.stops = append(s.stops, g)
	}
	s.whole = s.whole.finished(wholeSketch)
	return s
}

// mostPoints bounds the needle points that a signature holds; no design sold has as many.
const mostPoints = 1 << 20

// thinning is of how many needle points one is held, the first of each stop among them,
// so that the signatures of absurd designs do not fill the memory. Two files of one
// design are thinned alike.
func thinning(stitches int) int { return 1 + max(0, stitches-1)/mostPoints }

// sketching draws a design into sketches: its longer side and its middle, in 0.1 mm.
type sketching struct{ side, cx, cy float64 }

// line draws a stitch into the sketch of its stop and of the whole.
func (k *sketching) line(stop, whole sketch, a, b needlePoint) {
	dx, dy := float64(b.x)-float64(a.x), float64(b.y)-float64(a.y)
	l := math.Hypot(dx, dy)
	for _, f := range []float64{1.0 / 6, 0.5, 5.0 / 6} {
		x := (float64(a.x)+f*dx-k.cx)/k.side + 0.5
		y := (float64(a.y)+f*dy-k.cy)/k.side + 0.5
		stop.add(stopSketch, x, y, l)
		whole.add(wholeSketch, x, y, l)
	}
}

// add spreads a length over the four cells round a place in the unit square.
func (g sketch) add(n int, x, y, l float64) {
	fx, fy := x*float64(n)-0.5, y*float64(n)-0.5
	ix, iy := math.Floor(fx), math.Floor(fy)
	fx, fy = fx-ix, fy-iy
	for _, c := range [4]struct {
		x, y int
		w    float64
	}{{0, 0, (1 - fx) * (1 - fy)}, {1, 0, fx * (1 - fy)}, {0, 1, (1 - fx) * fy}, {1, 1, fx * fy}} {
		cx, cy := int(ix)+c.x, int(iy)+c.y
		if cx >= 0 && cy >= 0 && cx < n && cy < n {
			g[cy*n+cx] += float32(l * c.w)
		}
	}
}

// finished blurs a sketch and makes it a unit vector. The square root keeps
// dense satin from hiding lines.
func (g sketch) finished(n int) sketch {
	out := make(sketch, len(g))
	var sum float64
	for y := range n {
		for x := range n {
			var v float32
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					if xx, yy := x+dx, y+dy; xx >= 0 && yy >= 0 && xx < n && yy < n {
						v += g[yy*n+xx] / float32((1+dx*dx)*(1+dy*dy))
					}
				}
			}
			w := math.Sqrt(float64(v))
			out[y*n+x] = float32(w)
			sum += w * w
		}
	}
	if sum > 0 {
		k := float32(1 / math.Sqrt(sum))
		for i := range out {
			out[i] *= k
		}
	}
	return out
}

// like is the cosine between two sketches, 0 to 1.
func (g sketch) like(h sketch) float64 {
	var dot float64
	for i := range g {
		dot += float64(g[i]) * float64(h[i])
	}
	return dot
}

// pointsOf are the penetrations of stop i.
func (s *Signature) pointsOf(i int) []needlePoint {
	end := len(s.points)
	if i+1 < len(s.stops) {
		end = s.stops[i+1].first
	}
	return s.points[s.stops[i].first:end]
}

// threads counts the different colours of the stops; 0 where none is told.
func (s *Signature) threads() int {
	seen := map[string]bool{}
	for _, c := range s.colours {
		if c != nil {
			seen[*c] = true
		}
	}
	return len(seen)
}

// title is what to call the design: its file's name without size and extension.
func (s *Signature) title() string {
	base := s.base()
	base = strings.TrimSuffix(base, path.Ext(base))
	if base == "" || base == "-" || base == "." {
		base = s.Name
	}
	return base
}

// lettersOf is the letters of a text, in lower case.
func lettersOf(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, text)
}

const (
	sketchLeast = 0.88 // whole designs less alike than this are not compared any further
	stopLeast   = 0.70 // stops less alike than this are different stops
	alikeLeast  = 0.90 // share of two designs' stops, by likeness, that makes them one design
	namedLeast  = 0.86 // the same where the names say so too
	aspectSlack = 0.05 // share by which the shape of the box may differ: cover satin keeps its width in every size
	namedSlack  = 0.10

	numberedLeast = 0.985 // stops, and whole designs, less alike than this are two blocks of a series where their names count them
)

// tellingStops is how many stops make likeness tell: there are many filled
// squares and round badges that have one or two and nothing else in common. With
// fewer, the names must agree too, or the needle points.
const tellingStops = 3

const (
	fewLeast  = 0.95 // the same of designs of few stops that have a fill with a border
	fewSketch = 0.95
	rowsTurn  = 0.35 // radians by which their fills may lie aslant
)

// filledAndBordered reports whether two designs of few stops are a fill with a border,
// sewn alike: the same kinds of stitching in each stop, rows in one direction, and
// spacing that was kept or went with the size.
func filledAndBordered(a, b *Signature) bool {
	if len(a.stops) != len(b.stops) {
		return false
	}
	fill, border := false, false
	for i := range a.stops {
		p, q := &a.stops[i], &b.stops[i]
		if p.mainKind() != q.mainKind() {
			return false
		}
		for kind, mm := range p.mm {
			switch k := report.Kind(kind); {
			case mm == 0 || q.mm[kind] == 0:
			case k == report.KindFill:
				fill = true
			case k == report.KindSatin || k == report.KindOpenZigzag || k == report.KindTripleRun || k == report.KindDoubleRun:
				border = true
			}
		}
		if p.rows != 0 && q.rows != 0 && math.Abs(cmplx.Phase(p.rows/q.rows))/2 > rowsTurn {
			return false
		}
	}
	if !fill || !border {
		return false
	}
	n, ratio, apart := b.Spacing.Over(&a.Spacing)
	size := max(b.WidthMM, b.HeightMM) / max(a.WidthMM, a.HeightMM, 0.1)
	went := math.Abs(math.Log(ratio/size)) <= anewWithin
	return n > 0 && apart <= agreeWithin && (went || math.Abs(math.Log(ratio)) <= agreeWithin)
}

// mainKind is the kind that most of a stop is sewn in.
func (s *stopSign) mainKind() report.Kind {
	best := 0
	for k, mm := range s.mm {
		if mm > s.mm[best] {
			best = k
		}
	}
	return report.Kind(best)
}

// alike tells how alike two designs are, 0 to 1: 0 where they are not one
// design.
func alike(a, b *Signature) float64 {
	slack, least := aspectSlack, alikeLeast
	named := namedAlike(a, b)
	if named {
		slack, least = namedSlack, namedLeast
	}
	if len(a.stops) == 0 || len(b.stops) == 0 {
		return 0
	}
	if len(a.points) == len(b.points) && len(a.stops) == len(b.stops) && sameSize(a, b) && differ(a, b) == nil {
		return 1
	}
	if _, copied := sameStitches(a, b); copied {
		return 1
	}
	if unevenlyOver(a, b) {
		return 1
	}
	sketched := sketchLeast
	if sameSize(a, b) && numberedApart(a, b) {
		slack, least, sketched = aspectSlack, numberedLeast, numberedLeast
		if len(a.stops) != len(b.stops) {
			return 0
		}
	}
	if !named && min(len(a.stops), len(b.stops)) < tellingStops {
		if !filledAndBordered(a, b) {
			return 0
		}
		least, sketched = fewLeast, fewSketch
	}
	// The shapes of the boxes, as ratios of sides with a little added so that
	// lines compare too.
	ra, rb := (a.WidthMM+1)/(a.HeightMM+1), (b.WidthMM+1)/(b.HeightMM+1)
	if math.Abs(math.Log(ra/rb)) > slack || a.whole.like(b.whole) < sketched {
		return 0
	}
	_, sum := pairStops(a, b)
	share := 2 * sum / float64(len(a.stops)+len(b.stops))
	if share < least {
		return 0
	}
	return share
}

// mostStops bounds the table of pairStops; a design with more stops is damaged
// or no embroidery.
const mostStops = 400

// pairStops pairs the stops of two designs in order so that the sum of their
// likenesses is greatest (the alignment of Needleman and Wunsch, J. Mol. Biol.
// 48, 1970, gaps costing nothing).
func pairStops(a, b *Signature) ([][2]int, float64) {
	n, m := min(len(a.stops), mostStops), min(len(b.stops), mostStops)
	best := make([]float64, (n+1)*(m+1))
	at := func(i, j int) *float64 { return &best[i*(m+1)+j] }
	like := func(i, j int) float64 {
		v := a.stops[i].sketch.like(b.stops[j].sketch)
		if v < stopLeast {
			return 0
		}
		return v
	}
	likes := make([]float64, n*m)
	for i := range n {
		for j := range m {
			likes[i*m+j] = like(i, j)
			*at(i+1, j+1) = max(*at(i, j+1), *at(i+1, j), *at(i, j)+likes[i*m+j])
		}
	}
	var pairs [][2]int
	for i, j := n, m; i > 0 && j > 0; {
		switch {
		case likes[(i-1)*m+j-1] > 0 && *at(i, j) == *at(i-1, j-1)+likes[(i-1)*m+j-1]:
			pairs = append(pairs, [2]int{i - 1, j - 1})
			i, j = i-1, j-1
		case *at(i, j) == *at(i-1, j):
			i--
		default:
			j--
		}
	}
	for l, r := 0, len(pairs)-1; l < r; l, r = l+1, r-1 {
		pairs[l], pairs[r] = pairs[r], pairs[l]
	}
	return pairs, *at(n, m)
}
