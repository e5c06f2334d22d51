package match

import (
	"fmt"
	"image/color"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// planting is how a copy is made of a design.
type planting struct {
	name     string
	factor   float64
	turn     float64 // degrees
	mirrored bool
	recolour bool
	shuffle  bool    // stops in another order
	jitter   float64 // needle points moved, share of the median stitch
	thinned  float64 // share of stitches left out
}

var plantings = []planting{
	{name: "larger", factor: 1.2},
	{name: "much larger", factor: 1.5},
	{name: "smaller", factor: 0.8},
	{name: "turned by a quarter", factor: 1.25, turn: 90},
	{name: "turned upside down", factor: 0.75, turn: 180},
	{name: "turned by three quarters", factor: 1.2, turn: 270},
	{name: "turned by 33 degrees", factor: 1.3, turn: 33},
	{name: "mirrored", factor: 1.2, mirrored: true},
	{name: "mirrored and turned", factor: 0.8, mirrored: true, turn: 77},
	{name: "recoloured", factor: 1.35, recolour: true},
	{name: "stops in another order", factor: 1.25, shuffle: true},
	{name: "stops in another order and turned", factor: 1.4, shuffle: true, turn: 120},
	{name: "jitter of 1 %", factor: 1.2, jitter: 0.01},
	{name: "jitter of 3 %", factor: 1.3, jitter: 0.03, turn: 90},
	{name: "1 % of stitches gone", factor: 1.25, thinned: 0.01},
	{name: "3 % of stitches gone", factor: 1.4, thinned: 0.03},
}

// planted makes a copy: every needle point multiplied and turned, then rounded as files
// round.
func planted(d *stitchfile.Design, p planting, seed uint64) *stitchfile.Design {
	rnd := rand.New(rand.NewPCG(seed, 7))
	out := *d
	out.Moves, out.Threads = nil, append([]stitchfile.Thread{}, d.Threads...)
	sin, cos := math.Sincos(p.turn * math.Pi / 180)
	var lengths, n float64
	for i := 1; i < len(d.Moves); i++ {
		if d.Moves[i].Kind == stitchfile.Stitch && d.Moves[i-1].Kind == stitchfile.Stitch {
			lengths += math.Hypot(float64(d.Moves[i].X-d.Moves[i-1].X), float64(d.Moves[i].Y-d.Moves[i-1].Y))
			n++
		}
	}
	shake := p.jitter * lengths / max(n, 1) * p.factor
	for i, m := range d.Moves {
		inside := i > 0 && i+1 < len(d.Moves) && d.Moves[i-1].Kind == stitchfile.Stitch && d.Moves[i+1].Kind == stitchfile.Stitch
		if m.Kind == stitchfile.Stitch && inside && rnd.Float64() < p.thinned {
			continue
		}
		x, y := float64(m.X), float64(m.Y)
		if p.mirrored {
			x = -x
		}
		x, y = p.factor*(cos*x-sin*y), p.factor*(sin*x+cos*y)
		if shake > 0 {
			x, y = x+rnd.NormFloat64()*shake, y+rnd.NormFloat64()*shake
		}
		m.X, m.Y = int32(math.Round(x)), int32(math.Round(y))
		out.Moves = append(out.Moves, m)
	}
	if p.recolour {
		for i := range out.Threads {
			out.Threads[i].Colour = color.RGBA{uint8(40 * i), 90, 200, 255}
		}
	}
	if p.shuffle {
		out.Moves = shuffled(out.Moves, rnd)
	}
	return &out
}

// shuffled moves the stops of a design about.
func shuffled(moves []stitchfile.Move, rnd *rand.Rand) []stitchfile.Move {
	var parts [][]stitchfile.Move
	var end []stitchfile.Move
	from := 0
	for i, m := range moves {
		switch m.Kind {
		case stitchfile.ColourStop:
			parts, from = append(parts, moves[from:i]), i+1
		case stitchfile.End:
			parts, end, from = append(parts, moves[from:i]), moves[i:], len(moves)
		}
	}
	if from < len(moves) {
		parts = append(parts, moves[from:])
	}
	rnd.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
	var out []stitchfile.Move
	for i, p := range parts {
		if i > 0 && len(out) > 0 {
			out = append(out, stitchfile.Move{X: out[len(out)-1].X, Y: out[len(out)-1].Y, Kind: stitchfile.ColourStop})
		}
		out = append(out, p...)
	}
	return append(out, end...)
}

// filledBadge is a fill with a satin border, drawn anew for each size.
func filledBadge(size float64) *stitchfile.Design {
	heart := st.Path{}
	for i := range 181 {
		a := 2 * math.Pi * float64(i) / 180
		heart = append(heart, st.Point{X: size * math.Pow(math.Sin(a), 3), Y: size * (13*math.Cos(a) - 5*math.Cos(2*a) - 2*math.Cos(3*a) - math.Cos(4*a)) / 16})
	}
	return new(st.Builder).Fill(heart, 0.4, 4, 20).TieOff().Stop().Satin(heart, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff().Design()
}

// shortRuns is an applique disc with lines of short stitches on it.
func shortRuns(size float64) *stitchfile.Design {
	c := st.Circle(st.Point{}, size)
	b := new(st.Builder).Run(c, 2.5).Stop().Run(c, 2).Stop().Satin(c, st.SatinAlong{Width: 3.6, Pitch: 0.4}).TieOff().Stop()
	for i := range 12 {
		a := 2 * math.Pi * float64(i) / 12
		b.JumpTo(st.Point{X: 0.4 * size * math.Cos(a), Y: 0.4 * size * math.Sin(a)}).Run(st.Circle(st.Point{X: 0.4 * size * math.Cos(a), Y: 0.4 * size * math.Sin(a)}, 0.08*size), 1.2)
	}
	return b.TieOff().Design()
}

// drawnSets are designs drawn anew in four sizes.
func drawnSets(t testing.TB) map[string][]*stitchfile.Design {
	sets := map[string][]*stitchfile.Design{"kettle": {truth.Demo(t, "kettle-100.dst"), truth.Demo(t, "kettle-125.pes"), truth.Demo(t, "kettle-150.jef")}}
	for _, size := range []float64{30, 38, 47, 56} {
		sets["fill with border"] = append(sets["fill with border"], filledBadge(size))
		sets["short runs"] = append(sets["short runs"], shortRuns(size))
	}
	return sets
}

// judged matches designs and gives for each file the verdict on its size, with the size.
func judged(t testing.TB, designs ...*stitchfile.Design) (all []report.Verdict, sizes []MatchedSize, m *Matching, copies []string) {
	var signs []*Signature
	for i, d := range designs {
		signs = append(signs, signed(d, fmt.Sprintf("%c.dst", 'k'+rune(i*7%13))))
	}
	m = mustMatch(signs)
	for _, s := range signs {
		for _, d := range m.Designs {
			for _, z := range d.Sizes {
				for _, f := range z.Files {
					if f.sign == s {
						all, sizes, copies = append(all, z.Verdict), append(sizes, z), append(copies, f.CopyOf)
					}
				}
			}
		}
	}
	return all, sizes, m, copies
}

// Copies planted in every way are found beside their original alone and in a whole set,
// and no size that was drawn is blamed.
func TestPlantedCopies(t *testing.T) {
	wholeOnly(t)
	found, unsure, n := 0, 0, 0
	for name, set := range drawnSets(t) {
		for seed, p := range plantings {
			for _, alone := range []bool{true, false} {
				of := (seed + len(name)) % len(set)
				designs := append([]*stitchfile.Design{}, set...)
				if alone {
					designs, of = []*stitchfile.Design{set[of]}, 0
				}
				designs = append(designs, planted(designs[of], p, uint64(seed)))
				verdicts, sizes, m, copies := judged(t, designs...)
				what := fmt.Sprintf("%s, %s, alone: %v", name, p.name, alone)
				n++
				if len(m.Designs) != 1 {
					t.Errorf("%s: %d designs", what, len(m.Designs))
					continue
				}
				for i, v := range verdicts[:len(verdicts)-1] {
					if v == report.StretchedCopy || copies[i] != "" {
						t.Errorf("%s: the original %d is blamed: %+v", what, i, sizes[i])
					}
				}
				copyOf := sizes[len(sizes)-1]
				if copies[len(copies)-1] != "" && copyOf.Verdict != report.StretchedCopy {
					found++ // beside a size that was drawn
					continue
				}
				switch verdicts[len(verdicts)-1] {
				case report.StretchedCopy:
					found++
					if math.Abs(copyOf.Factor/p.factor-1) > 0.02 || copyOf.Of == nil || math.Abs(copyOf.Of[0]-sizes[of].WidthMM) > 0.01 || copyOf.Confidence < 0.75 {
						t.Errorf("%s: %.3f of %v, confidence %.2f", what, copyOf.Factor, copyOf.Of, copyOf.Confidence)
					}
				case report.Unclear:
					unsure++
					t.Errorf("%s: cannot tell", what)
				default:
					t.Errorf("%s: %s", what, verdicts[len(verdicts)-1])
				}
			}
		}
	}
	t.Logf("%d planted, %d found, %d undecided", n, found, unsure)
}

// Sizes digitised anew are never called copies, without names and in any company.
func TestDrawnSetsAreSound(t *testing.T) {
	for name, set := range drawnSets(t) {
		verdicts, _, m, _ := judged(t, set...)
		if len(m.Designs) != 1 {
			t.Errorf("%s: %d designs", name, len(m.Designs))
		}
		for i, v := range verdicts {
			if v == report.StretchedCopy || v == report.Unclear {
				t.Errorf("%s %d: %s", name, i, v)
			}
		}
	}
}

// Sizes so near to one another that their stitch counts are too are still no copies.
func TestNearSizesAreNoCopies(t *testing.T) {
	for name, draw := range map[string]func(float64) *stitchfile.Design{"fill with border": filledBadge, "short runs": shortRuns} {
		for _, f := range []float64{1.02, 1.03, 1.04, 1.05, 1.07, 1.1, 1.15} {
			verdicts, sizes, m, copies := judged(t, draw(36), draw(36*f))
			if len(m.Designs) != 1 {
				t.Errorf("%s, %g: %d designs", name, f, len(m.Designs))
			}
			for i, v := range verdicts {
				if v == report.StretchedCopy || copies[i] != "" {
					t.Errorf("%s drawn %g times as large: %s: %+v", name, f, v, sizes[i].Spacing)
				}
			}
		}
	}
}

// The case of a set in which the copy was called the original: two sizes drawn, and of
// each a copy needle point for needle point.
func TestMatchFour(t *testing.T) {
	const folder = "../../../shared/cases/match4"
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no cases at %s; they are not part of the repository", folder)
	}
	var designs []*stitchfile.Design
	for _, n := range []string{"h4.dst", "h5.dst", "h6.dst", "h7.dst"} {
		d, err := stitchfile.Open(filepath.Join(folder, n))
		if err != nil {
			t.Fatal(err)
		}
		designs = append(designs, d)
	}
	verdicts, sizes, _, _ := judged(t, designs...)
	if verdicts[3] != report.StretchedCopy || math.Abs(sizes[3].Factor-1.2) > 0.01 || math.Abs(sizes[3].Of[0]-134) > 0.1 {
		t.Errorf("h7: %s of %v", verdicts[3], sizes[3].Of)
	}
	for _, i := range []int{0, 2} {
		if verdicts[i] != report.Reference && verdicts[i] != report.DigitisedAnew {
			t.Errorf("h%d: %s", 4+i, verdicts[i])
		}
	}
}

// Copies of designs of other people.
func TestPlantedCopiesReal(t *testing.T) {
	if _, err := os.Stat(realDesigns); err != nil {
		t.Skipf("no real stitch files at %s; they are not part of the repository", realDesigns)
	}
	names, _ := filepath.Glob(realDesigns + "/*/*")
	n, found, unsure := 0, 0, 0
	for i, name := range names {
		d, _ := stitchfile.Open(name)
		if d == nil || d.Counts().Stitches < 60 || d.Counts().Stitches > 6000 {
			continue
		}
		p := plantings[i%len(plantings)]
		verdicts, sizes, m, _ := judged(t, d, planted(d, p, uint64(i)))
		n++
		if len(m.Designs) != 1 {
			t.Errorf("%s, %s: %d designs", name, p.name, len(m.Designs))
			continue
		}
		if verdicts[0] == report.StretchedCopy {
			t.Errorf("%s, %s: the original is blamed: %+v", name, p.name, sizes[0].Spacing)
		}
		switch verdicts[1] {
		case report.StretchedCopy:
			found++
		case report.Unclear:
			unsure++
		default:
			t.Errorf("%s, %s: %s", name, p.name, verdicts[1])
		}
	}
	t.Logf("%d planted, %d found, %d undecided", n, found, unsure)
}
