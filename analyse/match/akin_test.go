package match

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// setOf is a lopsided design of five stops, digitised anew for a side in mm; done changes
// each path, and stops are sewn in the order given, those not named left out.
func setOf(side float64, done func(st.Path) st.Path, stops ...int) *stitchfile.Design {
	at := func(x, y float64) st.Point { return st.Point{X: x * side, Y: y * side} }
	leaf := st.Polygon(at(-.45, -.3), at(-.1, -.42), at(-.2, .05))
	sew := []func(b *st.Builder){
		func(b *st.Builder) { b.Run(done(st.Rect(at(0, 0), side, .8*side)), 2.5) },
		func(b *st.Builder) { b.Fill(done(st.Rect(at(.2, .1), .3*side, .25*side)), .42, 4, 0) },
		func(b *st.Builder) { b.Satin(done(leaf), st.SatinAlong{Width: 3, Pitch: .4}) },
		func(b *st.Builder) { b.Run(done(st.Circle(at(-.3, .2), .1*side)), 2.5) },
		func(b *st.Builder) { b.TripleRun(done(st.Line(at(.05, -.3), at(.4, -.2))), 2.5) },
	}
	b := new(st.Builder)
	for k, i := range stops {
		if k > 0 {
			b.Stop()
		}
		sew[i](b)
	}
	return b.Design()
}

func asDrawn(p st.Path) st.Path { return p }

// mirroredPath runs a path the other way round, so that it keeps its sense.
func mirroredPath(p st.Path) st.Path {
	return p.Map(func(q st.Point) st.Point { return st.Point{X: -q.X, Y: q.Y} }).Reverse()
}

func turnedPath(p st.Path) st.Path {
	return p.Map(func(q st.Point) st.Point { return st.Point{X: -q.Y, Y: q.X} })
}

// toldOf checks how many designs files are, and what is told of how they differ: once, with
// some words; without a severity nothing. It reports whether they are as many.
func toldOf(t *testing.T, name string, files []*Signature, designs int, severity report.Severity, words string) bool {
	t.Helper()
	m := mustMatch(files)
	if len(m.Designs) != designs {
		t.Errorf("%s: %d designs, want %d", name, len(m.Designs), designs)
		return false
	}
	var told []report.Finding
	for i := range m.Designs {
		told = append(told, foundIn(&m.Designs[i], "set-disagrees")...)
	}
	if severity == "" {
		if len(told) != 0 {
			t.Errorf("%s: %+v", name, told)
		}
	} else if len(told) != 1 || told[0].Severity != severity || !strings.Contains(told[0].Message, words) {
		t.Errorf("%s: %+v, want a %s with %q", name, told, severity, words)
	}
	return true
}

// A size that differs from its set in one way is one of the set, and it is told how; the
// same stitches under a name of their own are another design.
func TestOddSizes(t *testing.T) {
	all := []int{0, 1, 2, 3, 4}
	set := []*Signature{
		signed(setOf(100, asDrawn, all...), "rose 100mm.dst"),
		signed(setOf(130, asDrawn, all...), "rose 130mm.dst"),
		signed(setOf(180, asDrawn, all...), "rose 180mm.dst"),
	}
	for _, c := range []struct {
		name     string
		odd      *stitchfile.Design
		designs  int
		severity report.Severity // of the one finding
		words    string
	}{
		{"sound", setOf(150, asDrawn, all...), 1, "", ""},
		{"without a stop inside", setOf(150, asDrawn, 0, 1, 2, 4), 1, report.Fault, "4 colour stops, 100 x 83 mm has 5; they first differ at stop 4"},
		{"without the stop round everything", setOf(150, asDrawn, 1, 2, 3, 4), 1, report.Fault, "they first differ at stop 1"},
		{"without two", setOf(150, asDrawn, 0, 2, 4), 1, report.Fault, "3 colour stops, 100 x 83 mm has 5; they first differ at stop 2"},
		{"without three", setOf(150, asDrawn, 1, 2), 2, "", ""},
		{"mirrored", setOf(150, mirroredPath, all...), 1, report.Caution, "is the mirror image of 100 x 83 mm"},
		{"turned", setOf(150, turnedPath, all...), 1, report.Note, "turned by a quarter to the left"},
		{"in another order", setOf(150, asDrawn, 0, 3, 1, 2, 4), 1, report.Caution, "stop 2 there is stop 3 here"},
		{"of other stitching", setOf(150, asDrawn, 0, 1, 2, 3, 3), 2, "", ""},
	} {
		if !toldOf(t, c.name, append(slices.Clone(set), signed(c.odd, "rose 150mm.dst")), c.designs, c.severity, c.words) {
			continue
		}
		if m := mustMatch(append(slices.Clone(set), signed(c.odd, "tulip 150mm.dst"))); c.words != "" && c.severity != report.Caution && len(m.Designs) != 2 {
			t.Errorf("%s, by another name: %d designs, want 2", c.name, len(m.Designs))
		}
	}
}

// The advice tells of steps by hand only where a stop is lacking for which there are some.
func TestAdviceOnLackingStops(t *testing.T) {
	for _, c := range []struct {
		role string
		want bool // hands
	}{{report.RoleDecoration, false}, {report.RoleQuilting, false}, {report.RoleTackDown, true}, {report.RoleCoverSatin, true}} {
		a, b := signed(setOf(100, asDrawn, 0, 1, 2, 3, 4), "rose 100mm.dst"), signed(setOf(150, asDrawn, 0, 1, 2, 4), "rose 150mm.dst")
		a.stops[3].role = c.role
		got := stopsDiffer(&MatchedSize{lead: a}, &MatchedSize{lead: b})
		if len(got) != 1 || got[0].Severity != report.Fault || strings.Contains(got[0].Advice, "by hand") != c.want {
			t.Errorf("without a %s: %+v", c.role, got)
		}
	}
}

// Two files of one name are one design though they are no set.
func TestOddFormat(t *testing.T) {
	whole, lacks := setOf(130, asDrawn, 0, 1, 2, 3, 4), setOf(130, asDrawn, 1, 2, 3, 4)
	moved := setOf(130, func(p st.Path) st.Path {
		if len(p) == 2 { // the one line that is not closed
			return p.Map(func(q st.Point) st.Point { return st.Point{X: q.X + 30, Y: q.Y} })
		}
		return p
	}, 0, 1, 2, 3, 4)
	for _, c := range []struct {
		name  string
		other *stitchfile.Design
		words string
	}{
		{"lacks its outer line", lacks, "rose 130.dst: it has 4 colour stops where rose 130.pes has 5; they first differ at stop 1"},
		{"has a line elsewhere", moved, "rose 130.dst: stop 5 lies 30 mm away from where it lies in rose 130.pes"},
	} {
		m := mustMatch([]*Signature{signed(c.other, "rose 130.dst"), signed(whole, "rose 130.pes")})
		if len(m.Designs) != 1 || len(m.Designs[0].Sizes) != 1 {
			t.Errorf("%s: %+v", c.name, m.Designs)
			continue
		}
		if told := foundIn(&m.Designs[0], "set-disagrees"); len(told) != 1 || told[0].Message != c.words {
			t.Errorf("%s: %+v, want %q", c.name, told, c.words)
		}
		if m := mustMatch([]*Signature{signed(lacks, "rose 130.dst"), signed(whole, "rose 180.pes")}); len(m.Designs) != 2 {
			t.Errorf("two files of two names: %d designs, want 2", len(m.Designs))
		}
	}
}

// Blocks of a series have one frame and are named by their number: each is a design, with
// a name that tells it from the others.
func TestSeriesOfBlocks(t *testing.T) {
	block := func(side, corners float64) *stitchfile.Design {
		motif := st.Circle(st.Point{}, .3*side)
		if corners > 0 {
			motif = st.Path{}
			for i := range 241 {
				a := 2 * math.Pi * float64(i%240) / 240
				r := side * (.3 + .02*math.Cos(corners*a))
				motif = append(motif, st.Point{X: r * math.Cos(a), Y: r * math.Sin(a)})
			}
		}
		b := new(st.Builder).Run(st.Rect(st.Point{}, side, side), 2.5).Stop().Run(st.Rect(st.Point{}, side, side).Offset(2), 2.5).Stop()
		return b.Run(motif, 2.5).Stop().Satin(motif, st.SatinAlong{Width: 3, Pitch: .4}).Design()
	}
	var signs []*Signature
	for i, corners := range []float64{0, 3, 5} {
		for _, side := range []float64{100, 130, 180} {
			signs = append(signs, signed(block(side, corners), fmt.Sprintf("block %d %gmm.dst", i+1, side)))
		}
	}
	m := mustMatch(signs)
	var names []string
	for _, d := range m.Designs {
		names = append(names, d.Name)
		if len(d.Sizes) != 3 || len(d.Findings) != 0 {
			t.Errorf("%s: %d sizes, %+v", d.Name, len(d.Sizes), d.Findings)
		}
	}
	if !slices.Equal(names, []string{"block 1", "block 2", "block 3"}) {
		t.Errorf("%q", names)
	}
	// Without numbers they are taken for editions of one design, as a name says.
	m = mustMatch([]*Signature{signed(block(130, 0), "block.dst"), signed(block(130, 5), "block new.dst")})
	if len(m.Designs) != 1 || len(m.Designs[0].Findings) != 1 {
		t.Errorf("%+v", m.Designs)
	}
}

// A stop that one size is read otherwise in is told once, of that size; it is only a note
// where one of the two readings is a guess.
func TestRolesThatDiffer(t *testing.T) {
	for _, c := range []struct {
		sure     float64
		severity report.Severity
	}{{0.55, report.Caution}, {0.45, report.Note}} {
		d := MatchedDesign{}
		for i, side := range []float64{100, 130, 150, 180} {
			s := &Signature{WidthMM: side, HeightMM: side, whole: make(sketch, wholeSketch*wholeSketch), stops: []stopSign{{role: "placement line", sure: 0.9, sketch: make(sketch, stopSketch*stopSketch)}}}
			if i == 0 {
				s.stops[0].role, s.stops[0].sure = "stitching", c.sure
			}
			d.Sizes = append(d.Sizes, MatchedSize{WidthMM: side, HeightMM: side, lead: s})
		}
		got := rolesDiffer(&d, 0)
		if len(got) != 1 || got[0].Severity != c.severity || got[0].Message != "the size 100 x 100 mm: stop 1 looks like stitching, in the 3 others like placement line" {
			t.Errorf("%g sure: %+v", c.sure, got)
		}
	}
}

// How alike an odd size must be to the others once it is laid as they lie, from both sides.
func TestHowAkinOddSizesAre(t *testing.T) {
	turned := func(like float64, cells int) sketch {
		g := make(sketch, cells*cells)
		g[0], g[1] = float32(like), float32(math.Sqrt(1-like*like))
		return g
	}
	made := func(w, h, whole float64, stops ...float64) *Signature {
		s := &Signature{WidthMM: w, HeightMM: h, whole: turned(whole, wholeSketch)}
		for _, like := range stops {
			s.stops = append(s.stops, stopSign{sketch: turned(like, stopSketch)})
		}
		return s
	}
	a := made(100, 100, 1, 1, 1, 1, 1)
	for _, c := range []struct {
		name string
		b    *Signature
		want bool
	}{
		{"a whole 0.93 alike", made(150, 150, 0.93, 1, 1, 1, 1), true},
		{"a whole 0.91 alike", made(150, 150, 0.91, 1, 1, 1, 1), false},
		{"one stop 0.82 alike", made(150, 150, 1, 0.82, 1, 1, 1), true},
		{"one stop 0.78 alike", made(150, 150, 1, 0.78, 1, 1, 1), false},
		{"stops 0.93 alike", made(150, 150, 1, 0.93, 0.93, 0.93, 0.93), true},
		{"stops 0.91 alike", made(150, 150, 1, 0.91, 0.91, 0.91, 0.91), false},
		{"1.07 times as high", made(150, 160.5, 1, 1, 1, 1, 1), true},
		{"1.10 times as high", made(150, 165, 1, 1, 1, 1, 1), false},
	} {
		if _, got := varies(a, c.b); got != c.want {
			t.Errorf("%s: akin: %v", c.name, got)
		}
	}
	// Laid another way it must look more alike by as much, so that what is nearly the same
	// both ways is straight.
	for _, c := range []struct {
		straight float64
		want     bool
	}{{0.90, true}, {0.91, false}} {
		b := made(150, 150, c.straight, 1, 1, 1, 1)
		for i := range b.stops {
			b.stops[i].sketch[stopSketch-1] = 1 // alike both ways
			a.stops[i].sketch = b.stops[i].sketch
		}
		b.whole[wholeSketch-1] = 0.935
		b.whole[1] = 0
		v, ok := varies(a, b)
		if got := ok && v.mirrored; got != c.want {
			t.Errorf("0.935 alike as a mirror image and %.2f straight: told: %v", c.straight, got)
		}
	}
}

// One size whose satin is further apart than that of the others is told of, from both
// sides of the figure, and not where they do not agree, or it is a copy.
func TestOddSpacing(t *testing.T) {
	for _, c := range []struct {
		pitch   []float64
		verdict report.Verdict // of the last
		want    int
	}{
		{[]float64{.40, .40, .40, .49}, report.Unclear, 1},
		{[]float64{.40, .40, .40, .47}, report.Unclear, 0},
		{[]float64{.40, .40, .40, .32}, report.Unclear, 1},
		{[]float64{.40, .40, .40, .35}, report.Unclear, 0},
		{[]float64{.40, .40, .40, .49}, report.StretchedCopy, 0},
		{[]float64{.40, .50, .60, .75}, report.Unclear, 0},
		{[]float64{.40, .60}, report.Unclear, 0},
	} {
		d := MatchedDesign{}
		for i, p := range c.pitch {
			z := MatchedSize{WidthMM: float64(100 + 20*i), HeightMM: 100, Verdict: report.DigitisedAnew, lead: &Signature{}}
			z.Spacing.SatinPitchMM = p
			d.Sizes = append(d.Sizes, z)
		}
		d.Sizes[len(d.Sizes)-1].Verdict = c.verdict
		got := spacingDiffers(&d)
		if len(got) != c.want {
			t.Errorf("%v: %+v", c.pitch, got)
		}
		for _, f := range got {
			if !strings.Contains(f.Message, "the size 160 x 100 mm has satin 0.") || !strings.Contains(f.Message, "most sizes have 0.40 mm") {
				t.Errorf("%s", f.Message)
			}
		}
	}
}

// A stitch in place where a way with the needle up ends makes no other edition; a hole
// elsewhere does.
func TestStitchesInPlace(t *testing.T) {
	sewn := func(landing ...st.Point) *stitchfile.Design {
		b := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 60}), 2.5).Trim().JumpTo(st.Point{Y: 30})
		for _, p := range landing {
			b.StitchTo(p)
		}
		return b.Run(st.Line(st.Point{Y: 30}, st.Point{X: 60, Y: 30}), 2.5).Design()
	}
	at := st.Point{Y: 30}
	for _, c := range []struct {
		name string
		d    *stitchfile.Design
		same bool
	}{{"one more", sewn(at, at), true}, {"two more", sewn(at, at, at), true}, {"one aside", sewn(at, st.Point{X: 0.5, Y: 30}, at), false}} {
		if f := differ(signed(sewn(at), "a.dst"), signed(c.d, "b.pes")); (f == nil) != c.same {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}
