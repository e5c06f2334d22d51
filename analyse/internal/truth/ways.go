package truth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"github.com/stopcard/stopcard/stitchfile"
)

// Way is a design made in one of the ways in which applique and blocks are made
// in the hoop, or one that has no applique, with all that is true of it.
type Way struct {
	Name   string
	Family string // one of the Family names
	Design *stitchfile.Design
	Stops  [][]string // by colour stop: each of these roles is right
	Hands  []Hand
	Pieces int // pieces of applique cloth; -1 where trade usage is open
	Holes  int // holes in them, in all

	Missing []Hand // hand work for which the design has no pause: Kind, What and the stop it falls in (From)
	Wrong   []Flaw // other flaws
	Verdict Verdict
}

// The families of ways.
const (
	FamilyOnePiece      = "one piece"
	FamilySeveralPieces = "several pieces"
	FamilyBlock         = "whole block"
	FamilyFlawed        = "flawed"
	FamilyNoApplique    = "no applique"
)

// Verdict says whether a design is sound.
type Verdict uint8

const (
	Open    Verdict = iota // not judged: usage differs, or the finish is meant to show some edge
	Sound                  // neither a warning nor a fault may be told
	Unsound                // something of it must be told, see Missing and Wrong
)

// Hand is hand work that a design asks for between two colour stops.
type Hand struct {
	Kind     string // "lay", "trim" or "turn over"
	What     string // "block cloth", "applique cloth", "batting", "backing"
	From, To int    // before one of these stops, counted from 1; one more than there are is after the last
	May      bool   // it may be told and may be left out
}

// Kinds of hand work, and what it is done to.
const (
	Lay  = "lay"
	Trim = "trim"
	Turn = "turn over"

	BlockCloth    = "block cloth"
	AppliqueCloth = "applique cloth"
	Batting       = "batting"
	Backing       = "backing"
)

// Flaw is something wrong other than a missing pause.
type Flaw struct {
	What  string // one of the Flaw names
	Stops []int  // it may be told of any of these
}

// The flaws.
const (
	FlawNoCover    = "no cover" // a piece without, where its sisters have one
	FlawWrongOrder = "order"    // the cover comes before the tack-down
	FlawAstray     = "astray"   // the tack-down does not follow its placement line
	FlawOpen       = "open"     // the tack-down leaves a stretch of its line open
	FlawNoTack     = "no tack"  // a piece without a tack-down among others that have one
	FlawFarInside  = "inside"   // the tack-down lies so far inside its line that the cover misses the edge it leaves
	FlawSewnOn     = "sewn on"  // line and tack-down are sewn on end, with neither pause nor cut between
)

// Ways are designs of every way of making that is known to be in use, and of
// those most easily taken for them. All calls give the same designs, which must
// not be changed.
func Ways() []Way { return madeWays() }

var madeWays = sync.OnceValue(func() []Way { return WaysBy(20260101) })

// WaysBy are designs like those of Ways whose numbers are drawn from another seed:
// other sizes, widths, distances and turns.
func WaysBy(seed uint64) []Way {
	s := &waySet{names: map[string]int{}, seed: seed}
	s.onePieces()
	s.severalPieces()
	s.blocks()
	s.badges()
	s.flaws()
	s.withoutApplique()
	s.slips()
	return s.out
}

// waySet gathers ways.
type waySet struct {
	out   []Way
	names map[string]int
	seed  uint64
}

// way is a design being laid together with its truth.
type way struct {
	quilt
	*rand.Rand
	out *Way
}

// add lays one design. Each has its own numbers at random, always the same ones;
// it is turned anyhow unless square is set.
func (s *waySet) add(family, name string, square bool, lay func(w *way)) {
	s.names[name]++
	if n := s.names[name]; n > 1 {
		name = fmt.Sprintf("%s (%d)", name, n)
	}
	seed := uint64(len(s.out))
	w := &way{Rand: rand.New(rand.NewPCG(seed, s.seed)), out: &Way{Name: name, Family: family}}
	w.quilt.sheet.place = place{scale: 1, turn: w.Float64() * 2 * math.Pi, dx: 20 * w.Float64(), dy: -20 * w.Float64()}
	if square {
		w.turn = math.Pi / 2 * float64(w.IntN(4))
	}
	w.quilt.size = 1
	w.colours = 1
	if w.IntN(4) == 0 {
		w.colours = 0
	}
	w.Builder.Name = fmt.Sprintf("way %d", seed)
	lay(w)
	w.out.Design = w.Design()
	for _, t := range w.stops {
		w.out.Stops = append(w.out.Stops, t.Roles)
	}
	if w.out.Pieces == 0 {
		w.out.Pieces = w.pieces
	}
	w.out.Holes = w.holes
	s.out = append(s.out, *w.out)
}

// here is the number of the stop being sewn.
func (w *way) here() int { return len(w.stops) }

// lay asks for cloth to be laid before the stop being sewn.
func (w *way) lay(what string) { w.hand(Hand{Kind: Lay, What: what, From: w.here(), To: w.here()}) }

// hand asks for hand work, once.
func (w *way) hand(h Hand) {
	if !slices.Contains(w.out.Hands, h) {
		w.out.Hands = append(w.out.Hands, h)
	}
}

// trims asks for a trim between two stops: after the first and before the second.
func (w *way) trims(what string, after, before int) {
	w.hand(Hand{Kind: Trim, What: what, From: after + 1, To: max(after+1, before)})
}

// missing notes that there is no pause for hand work that falls in the stop being sewn.
func (w *way) missing(kind, what string) {
	w.out.Missing = append(w.out.Missing, Hand{Kind: kind, What: what, From: w.here(), To: w.here()})
	w.out.Verdict = Unsound
}

// pick chooses one of several at random.
func pick[T any](w *way, from ...T) T { return from[w.IntN(len(from))] }

// between is a number from lo to hi at random, to a twentieth.
func (w *way) between(lo, hi float64) float64 {
	return math.Round((lo+(hi-lo)*w.Float64())*20) / 20
}
