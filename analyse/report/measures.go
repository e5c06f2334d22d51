package report

import (
	"github.com/stopcard/stopcard/analyse/geom"
)

// Kind is what a stitch is part of.
type Kind uint8

const (
	KindNone       Kind = iota // no stitch: a jump, a trim, a stop, the end
	KindRun                    // a single line
	KindDoubleRun              // a line sewn there and back, or twice round
	KindTripleRun              // each stitch made forward, back and forward
	KindSatin                  // crossings close enough to hide the cloth
	KindOpenZigzag             // crossings with cloth to be seen between; blanket and E-shaped stitches too
	KindFill                   // rows side by side
	KindTie                    // lock stitches
	KindTravel                 // a line that only leads from one passage to the next
)

var kindNames = [...]string{"none", "run", "double run", "triple run", "satin", "open zigzag", "fill", "tie", "travel"}

// String gives the kind in words, such as "triple run".
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "unknown kind"
}

// Surface reports whether stitches of this kind lie side by side and cover ground.
func (k Kind) Surface() bool { return k == KindSatin || k == KindOpenZigzag || k == KindFill }

// KindCount is one more than the last kind.
const KindCount = len(kindNames)

// Kinds lists the kinds of stitches, in the order of the constants.
func Kinds() []Kind {
	return []Kind{KindRun, KindDoubleRun, KindTripleRun, KindSatin, KindOpenZigzag, KindFill, KindTie, KindTravel}
}

// Passage is a longest part of a thread path with one kind of stitch. First and
// Last bound its moves in Design.Moves, Last excluded.
type Passage struct {
	Stop        int // number of the colour stop
	Kind        Kind
	First, Last int
	LengthMM    float64 // thread on the cloth
	Column      int     // index in Report.SatinColumns of a satin passage, -1 else

	From, To int // its needle points, counted over the whole design; To excluded
}

// Spread tells how a measure is spread over the places where it was taken.
type Spread struct {
	Min    float64    `json:"min"`
	P5     float64    `json:"p5"`
	Median float64    `json:"median"`
	P95    float64    `json:"p95"`
	Max    float64    `json:"max"`
	MinAt  [2]float64 `json:"min_at_mm"`
	MaxAt  [2]float64 `json:"max_at_mm"`
}

// SatinColumn is successive crossings between two rails.
type SatinColumn struct {
	Stop         int        `json:"stop"`
	LengthMM     float64    `json:"length_mm"` // along the centre line
	Width        Spread     `json:"width_mm"`  // between the rails, square to the centre line
	Pitch        Spread     `json:"pitch_mm"`  // advance along the centre line between penetrations on one rail
	Coverage     float64    `json:"coverage"`  // share of the area between the rails under thread
	CoverageOut  float64    `json:"coverage_outer_half"`
	CoverageIn   float64    `json:"coverage_inner_half"`
	ThinnestAt   geom.Place `json:"thinnest_at_mm"`    // where the coverage over a stretch of 10 mm is least
	ThinCoverage float64    `json:"thinnest_coverage"` // and how much it is there
	Crossings    int        `json:"crossings"`

	// UnderThread is the share of the ground that lies under any thread of the design,
	// that of other columns and layers too, and ThinUnderThread the same over its
	// thinnest 10 mm. They are looked at where the column's own thread hides less than
	// 0.90, or 0.80 there, and are its own coverage otherwise.
	UnderThread     float64 `json:"under_thread"`
	ThinUnderThread float64 `json:"thinnest_under_thread"`

	Split    bool   `json:"split"`    // crossings made of several stitches
	Underlay []Kind `json:"underlay"` // kinds of stitching sewn under it before, in the same stop

	// Centre, Left and Right run along the column, a point for each pair of
	// crossings; Widths are in mm between the rails there. First and Last are as in
	// Passage.
	Centre, Left, Right []geom.Point `json:"-"`
	Widths              []float64    `json:"-"`
	First, Last         int          `json:"-"`
}

// MarshalText gives the kind in words.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads a kind in words. One that it does not know, as a later Stopcard
// may write, is KindNone.
func (k *Kind) UnmarshalText(text []byte) error {
	*k = KindNone
	for i, name := range kindNames {
		if name == string(text) {
			*k = Kind(i)
		}
	}
	return nil
}

// Density tells how much thread and how many holes the cloth must bear.
type Density struct {
	CellMM          float64    `json:"cell_mm"`
	MaxLayers       float64    `json:"max_layers"` // laid thread area over cloth area, over the worst 3 x 3 cells
	MaxLayersAt     geom.Place `json:"max_layers_at_mm"`
	MaxLayersStops  []int      `json:"max_layers_stops"`             // stops that make that peak
	MaxPenetrations float64    `json:"max_penetrations_per_mm2"`     // needle holes over about 3 x 3 mm; each counts once, those of ties not at all
	MaxPenetAt      geom.Place `json:"max_penetrations_at_mm"`       //
	MaxPenetStops   []int      `json:"max_penetrations_stops"`       // stops that make that peak
	CloseNeedles    int        `json:"penetrations_within_limit_mm"` // penetrations nearer than the close-needle distance to the one before

	Grid *Grid `json:"-"`
}

// Grid holds density by square cells, row by row from the lower left corner.
type Grid struct {
	CellMM float64
	X, Y   float64 // lower left corner in report coordinates, mm
	NX, NY int
	Layers []float32 // laid thread area over cloth area

	// Crowding gives the needle holes per mm2, each counted once, without those of ties,
	// smoothed over about 3 x 3 mm: the most in each cell. It is worked out when it is
	// first asked for; nil where it cannot be.
	Crowding func() []float32
}

// Piece is one piece of applique cloth: the placement line it is laid over, the
// tack-down that holds it, and the satin that is to hide its cut edge.
type Piece struct {
	Number        int        `json:"number"`         // from 1
	PlacementStop int        `json:"placement_stop"` // 0: none found
	TackDownStop  int        `json:"tack_down_stop"` // 0: none found
	CoverStop     int        `json:"cover_stop"`     // 0: none found
	AreaMM2       float64    `json:"area_mm2"`       // inside the tack-down, holes taken out
	PerimeterMM   float64    `json:"perimeter_mm"`   // length of the tack-down line, holes not counted
	CutSizeMM     [2]float64 `json:"cut_size_mm"`    // rectangle to cut before laying, width and height
	OuterCoverMM  MinMedian  `json:"outer_cover_mm"` // reach of the satin outwards from the tack-down
	InnerCoverMM  MinMedian  `json:"inner_cover_mm"` // and inwards
	MarginMM      float64    `json:"margin_mm"`      // by which that reaches past the piece's lines on every side
	UncoveredMM   float64    `json:"uncovered_mm"`   // length of cut edge that no thread hides; 0 where the finish is loose by design
	CoverShare    MinMedian  `json:"cover_share"`    // share of the cloth along the edge that lies under thread, over any 10 mm; gaps apart
	OpenMM        float64    `json:"open_mm"`        // length of edge whose cover is too open
	ThinnestAt    geom.Place `json:"thinnest_at_mm"` // where the share is least
	HiddenMM      float64    `json:"hidden_mm"`      // length of edge that another piece lies over
	Cloth         string     `json:"cloth"`          // what the notes say to cut it from; empty: nothing
	Note          string     `json:"note"`           // the remark in the notes; empty: none
	Holes         int        `json:"holes"`          // closed lines inside that are cut out
	Gaps          []Gap      `json:"gaps"`           // the uncovered stretches; their lengths add up to uncovered_mm
	OffCloth      []Gap      `json:"off_cloth"`      // stretches where the satin does not reach inwards over the cloth

	Finish      Finish  `json:"finish"`                          // how its edge is finished
	PreCut      bool    `json:"pre_cut"`                         // no tack-down: cut to the line before it is laid
	OneStop     bool    `json:"line_and_tack_down_in_one_stop"`  // no pause to lay it
	TackCover   bool    `json:"tack_down_and_cover_in_one_stop"` // no pause to trim it
	CoverFirst  bool    `json:"cover_before_tack_down"`          // the order cannot work
	Confidence  float64 `json:"confidence"`                      // 0 to 1: that it is a piece, and made so
	NextReading string  `json:"next_reading"`                    // what it may be as well and what would decide; empty where nothing is near

	Placement geom.Polyline `json:"placement_line_mm"` // the placement line; closed lines repeat their first point
	TackDown  geom.Polyline `json:"tack_down_line_mm"` // the tack-down line, along its middle
	// CutEdge is where scissors leave the cloth: the outside of the tack-down set out by
	// the trim allowance, and the holes set in by it. Rings are closed, their first
	// point repeated. Edge is the same in short stretches, with what hides it.
	CutEdge []geom.Polyline `json:"cut_edge_mm"`
	Edge    []EdgeSample    `json:"-"`
}

// Finish is how the edge of an applique piece is finished.
type Finish string

// The finishes of an edge.
const (
	FinishSatin   Finish = "satin"
	FinishZigzag  Finish = "zigzag"
	FinishBlanket Finish = "blanket stitch"
	FinishMotif   Finish = "motif line"
	FinishRaw     Finish = "raw edge"
	FinishMissing Finish = "missing" // other pieces of the design have a cover and this one has none
)

// Piece gives the piece of that number, nil for none. Numbers have gaps where notes
// say that a piece is none.
func (r *Report) Piece(number int) *Piece {
	for i := range r.Pieces {
		if r.Pieces[i].Number == number {
			return &r.Pieces[i]
		}
	}
	return nil
}

// Loose reports whether a finish is not meant to hide the cut edge: it shows by design
// and may fray a little.
func (f Finish) Loose() bool { return f == FinishBlanket || f == FinishMotif }

// MinMedian sums up cover along an edge, in mm.
type MinMedian struct {
	Min    float64 `json:"min"`
	Median float64 `json:"median"`
}

// Gap is a stretch of edge.
type Gap struct {
	LengthMM float64    `json:"length_mm"`
	AtMM     geom.Place `json:"at_mm"`    // its middle
	LeastMM  float64    `json:"least_mm"` // the least reach of satin outwards from the tack-down in it; as far below 0 as satin is looked for where there is none
	Open     bool       `json:"open"`     // the edge shows between the stitches of an open cover, over OverMM of edge
	OverMM   float64    `json:"over_mm"`  // 0 where it is not open
}

// EdgeState tells what becomes of the cut edge at a place.
type EdgeState uint8

const (
	EdgeCovered EdgeState = iota // the satin hides it
	EdgeBare                     // it shows
	EdgeHidden                   // another piece of cloth lies over it, or it lies in the seam of the block
	EdgeThin                     // it shows between the stitches of a cover too open for it
)

// EdgeSample is a short stretch of a cut edge.
type EdgeSample struct {
	Ring     int        // index in Piece.CutEdge
	From, To geom.Point // its ends
	At       geom.Point // its middle
	Outward  geom.Point // unit vector away from the cloth
	Outer    float64    // reach of the satin outwards from the tack-down, mm; negative where it lies wholly inside
	Inner    float64    // reach of the satin inwards from the tack-down, mm; negative where it lies wholly outside
	Hidden   float64    // share of the cloth from the tack-down to the cut edge that lies under thread, 0 to 1
	State    EdgeState
}

// LengthMM is how long the stretch is.
func (s *EdgeSample) LengthMM() float64 { return geom.Distance(s.From, s.To) }

// ReachMM is how far from a cut edge in mm satin is looked for; an Outer or Inner of
// minus this stands for none.
const ReachMM = 8.0

// Unreached reports whether no satin was found on either side of the stretch.
func (s *EdgeSample) Unreached() bool { return s.Inner <= -ReachMM }

// Cloth is one thing to cut before sewing.
type Cloth struct {
	Kind     string  `json:"kind"`  // a Material: "block cloth", "applique cloth", "batting", "backing"
	Piece    int     `json:"piece"` // number of the piece, 0 for none
	Stop     int     `json:"stop"`  // stop before which it is laid
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
}

// Part is one of several things that a colour stop does.
type Part struct {
	Role       string  `json:"role"` // one of Roles
	Confidence float64 `json:"confidence"`
	Reason     string  `json:"reason"`
	Piece      int     `json:"piece"` // number of the applique piece, 0 for none
}

// HoldDownOffset tells how far a later line round the block lies outside the
// first one, by side, in mm; negative where it lies inside. Stitching draws
// cloth in, so hold-downs are drawn a little outside the outline.
type HoldDownOffset struct {
	OutlineStop int     `json:"outline_stop"`
	Stop        int     `json:"stop"`
	Left        float64 `json:"left_mm"`
	Right       float64 `json:"right_mm"`
	Bottom      float64 `json:"bottom_mm"`
	Top         float64 `json:"top_mm"`
}
