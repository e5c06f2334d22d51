package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The ways in which lines are sewn.
const (
	single  = "single"
	double  = "double"
	triple  = "triple"
	bean    = "bean"
	zigzag  = "zigzag"
	dashed  = "dashed"
	blanket = "blanket"
	wide    = "split satin"
	satin   = "satin"
	motif   = "motif"
	rawEdge = "raw edge"
	preCut  = "pre-cut"
)

var (
	lineKinds  = []string{single, double, triple, bean, zigzag, dashed}
	tackKinds  = []string{single, double, triple, bean, zigzag, dashed, blanket}
	coverKinds = []string{satin, wide, zigzag, blanket, motif, rawEdge}
)

// piece is one piece of applique: its shape and how its lines are sewn.
type piece struct {
	shape wayShape
	size  float64
	at    st.Point
	place string // of lineKinds
	tack  string // of tackKinds, or preCut
	cover string // of coverKinds
	rough float64
	seed  int

	inset      float64 // mm that the tack-down's line lies inside the placement line
	tackWidth  float64 // of a zigzag or blanket stitch
	tackPitch  float64
	width      float64 // of the cover
	pitch      float64
	coverInset float64 // mm that the cover's middle lies inside the placement line
	start      float64 // where round the outline lines begin
}

// newPiece makes up the numbers of a piece sewn in the given way.
func (w *way) newPiece(shape wayShape, place, tack, cover string) *piece {
	k := &piece{shape: shape, place: place, tack: tack, cover: cover, seed: w.IntN(1000), start: w.Float64()}
	k.tackWidth, k.tackPitch = w.between(1, 4), w.between(1, 5)
	if tack == blanket {
		k.tackPitch = w.between(2, 5)
	}
	k.inset = pick(w, 0, 0.3, 0.5, 0.5, 0.8, 0.8, 1.2, 1.6, 2, 2.5, -0.4, -0.8, -1.5, -2.5)
	switch cover {
	case satin:
		k.width, k.pitch = pick(w, 2, 2.5, 3, 3.5, 3.5, 4, 4, 5, 6, 8), w.between(0.35, 0.45)
	case wide:
		k.width, k.pitch = pick(w, 11.0, 12), w.between(0.4, 0.6)
	case zigzag:
		k.width, k.pitch = w.between(2.5, 6), w.between(0.8, 3)
	case blanket:
		k.width, k.pitch = w.between(2, 4), w.between(2, 5)
	case motif:
		k.width, k.pitch = w.between(2.5, 5), w.between(4, 8)
	case rawEdge:
		// What shows outside the tack-down tells it from a line sewn twice.
		k.inset = w.between(1.5, 3)
	}
	// A narrow cover needs its tack-down near its middle.
	if cover == satin || cover == zigzag || cover == wide {
		most := max(0.3, k.width/2-0.6)
		k.inset = max(-most, min(most, k.inset))
		if tack == zigzag {
			k.tackWidth = min(k.tackWidth, max(1, k.width-1))
		}
		k.coverInset = k.inset * pick(w, 0, 0.5, 0.5, 1)
	}
	if (cover == blanket || cover == motif) && k.inset < -0.8 {
		k.inset = -k.inset / 2
	}
	if tack == preCut {
		k.inset, k.coverInset = 0, 0
	}
	k.size = w.between(shape.least, 2.5*shape.least+20)
	if w.IntN(5) == 0 {
		k.size = w.between(120, 250)
	}
	k.fit()
	return k
}

// fit makes a piece as large as its stitching needs.
func (k *piece) fit() {
	need := math.Abs(k.inset) + 3
	switch k.tack {
	case zigzag, blanket:
		need += k.tackWidth
	}
	need = max(need, k.width+2)
	if k.shape.cornery && k.shape.name != "square" {
		need = max(need, k.width*1.6) // mitred legs are longer than the column is wide
	}
	if k.cover == wide {
		need = max(need, 30) // bends it can follow
	}
	k.size = max(k.size, k.shape.least, need/k.shape.feature)
}

// lines are the piece's outline and its hole, drawn in by d mm, beginning at the
// piece's start.
func (k *piece) lines(d float64) []st.Path {
	move := func(p st.Path) st.Path {
		return p.Map(func(q st.Point) st.Point { return xy(q.X+k.at.X, q.Y+k.at.Y) })
	}
	out := []st.Path{move(startAt(inset(k.shape.outline(k.size), d), k.start))}
	if k.shape.hole != nil {
		out = append(out, move(startAt(inset(k.shape.hole(k.size), -d), k.start)))
	}
	return out
}

// guided is a line as it is sewn: rough where the piece is.
func (k *piece) guided(p st.Path, which int) st.Path {
	if k.rough == 0 {
		return p
	}
	return p.Rough(k.rough, k.seed+which)
}

// sewLine sews a closed line in the given way; width and pitch are for zigzags
// and blanket stitches.
func (w *way) sewLine(kind string, p st.Path, width, pitch float64) {
	p = w.path(p)
	length := 2 + 0.05*float64(w.IntN(11))
	tie := func() { w.TieIn(p[0], xy(p[1].X-p[0].X, p[1].Y-p[0].Y)) }
	switch kind {
	case single:
		tie()
		w.Run(p, length)
	case double:
		tie()
		w.Rounds(p, length, 2)
	case triple:
		tie()
		w.Rounds(p, length, 3)
	case bean:
		tie()
		w.Bean(p, length, pick(w, 3, 3, 3, 5))
	case zigzag:
		w.OpenZigzag(p, width, pitch)
	case dashed:
		tie()
		w.Dashed(p, length, pick(w, 4.0, 6, 6, 8), pick(w, 2.0, 2.5, 3))
	case blanket:
		w.EStitch(p, width, pitch)
	default:
		panic("truth: no line sewn as " + kind)
	}
	w.TieOff()
}

// mustTrim tells whether scissors come between tack-down and cover for certain.
func (k *piece) mustTrim() bool { return k.tack != preCut && k.cover != rawEdge }

// sewPlace sews the placement lines of a piece.
func (w *way) sewPlace(k *piece) {
	for i, p := range k.lines(0) {
		if i > 0 {
			w.Trim()
		}
		w.sewLine(k.place, k.guided(p, 0), 1.5, 2)
	}
}

func (w *way) sewTack(k *piece) {
	for i, p := range k.lines(k.inset) {
		if i > 0 {
			w.Trim()
			if k.tack == blanket {
				p = p.Reverse() // the teeth stay on the cloth
			}
		}
		w.sewLine(k.tack, k.guided(p, 1), k.tackWidth, k.tackPitch)
	}
	w.pieces++
	if k.shape.hole != nil {
		w.holes++
	}
}

// motifs are small figures to either side of a line.
var motifs = []st.Path{
	{xy(0, 0), xy(0.3, 1), xy(0.5, 0), xy(0.7, -1), xy(1, 0)},
	{xy(0, 0), xy(0.5, 0), xy(0.25, 0.6), xy(0.5, 1), xy(0.75, 0.6), xy(0.5, 0), xy(1, 0)},
	{xy(0, 0), xy(0.5, 0), xy(0.5, 1), xy(0.5, -1), xy(0.5, 0), xy(1, 0)},
}

// sewCover sews the finish of a piece.
func (w *way) sewCover(k *piece) {
	for i, p := range k.lines(k.coverInset) {
		if i > 0 {
			w.Trim()
		}
		p = w.path(k.guided(p, 2))
		switch k.cover {
		case satin, wide:
			w.coverSatin(k, p)
		case zigzag:
			w.OpenZigzag(p, k.width, k.pitch)
		case blanket:
			// The line runs along the raw edge and its teeth bite into the cloth.
			if i > 0 {
				p = p.Reverse()
			}
			w.EStitch(p, k.width, k.pitch)
		case motif:
			figure := motifs[k.seed%len(motifs)]
			w.Motif(p, figure.Map(func(q st.Point) st.Point { return xy(q.X, q.Y*k.width/2) }), k.pitch)
		}
		w.TieOff()
	}
}

func (w *way) coverSatin(k *piece, p st.Path) {
	if k.shape.cornery && k.rough == 0 && k.cover == satin {
		// Mitres want the corners themselves, and to begin at one.
		q := k.shape.outline(k.size).Offset(k.coverInset)
		q = w.path(q.Map(func(v st.Point) st.Point { return xy(v.X+k.at.X, v.Y+k.at.Y) }))
		if w.IntN(3) == 0 {
			w.EdgeRun(q, k.width, 0.6, 2.5)
		}
		w.Mitred(q, k.width, k.pitch)
		return
	}
	s := st.SatinAlong{Width: k.width, Pitch: k.pitch}
	if k.cover == wide {
		s.Split = pick(w, 3.0, 3.7, 4)
	}
	w.Satin(p, s)
}
