package match

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The tests of this file hold the figures by which sizes, names and threads are judged
// from both sides: what lies just within one and what lies just beyond, written out, so
// that one which moves by a fifth is noticed.

func TestSizesThatNamesTell(t *testing.T) {
	for _, c := range []struct {
		name string
		want float64 // the first side, mm; 0 for no size
	}{
		{"block-28", 0}, {"block-32", 32}, {"block-460", 460}, {"block-540", 0},
		{"block-18x18", 18 * 25.4}, {"block-22x22", 22}, {"block-930mm", 930}, {"block-1100mm", 0},
	} {
		got := 0.0
		if n := sizesInName(c.name); len(n) > 0 {
			got = n[0].w
		}
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.1f mm, want %.1f", c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		name string
		w, h float64
		want bool
	}{
		{"130mm", 130 * 1.062, 50, true},
		{"130mm", 130 * 1.079, 50, false},
		{"130mm", 130 / 1.062, 50, true},
		{"130mm", 130 / 1.079, 50, false},
		{"100x100", 84, 60, true},
		{"100x100", 76, 60, false},
		{"100x100", 102.7, 60, true},
		{"100x100", 103.4, 60, false},
	} {
		n := sizesInName(c.name)
		if len(n) != 1 || n[0].agrees(c.w, c.h) != c.want {
			t.Errorf("%s of %.1f x %.1f mm: agrees: %v", c.name, c.w, c.h, !c.want)
		}
	}
}

// sized is a matching of square sizes with a file each, named by it.
func sized(sides ...float64) *Matching {
	d := MatchedDesign{}
	for _, s := range sides {
		d.Sizes = append(d.Sizes, MatchedSize{WidthMM: s, HeightMM: s, Verdict: report.DigitisedAnew, Files: []MatchedFile{{Path: fmt.Sprint(s), Format: "DST", Edition: 1}}})
	}
	return &Matching{Designs: []MatchedDesign{d}}
}

func TestSizesInPlaceOfResizing(t *testing.T) {
	for _, c := range []struct{ scale, want float64 }{{1.5 * 1.009, 1}, {1.5 * 1.0115, 1.0115}} {
		if o := sized(100, 150).Others("100", c.scale); len(o) != 1 || math.Abs(o[0].Scale-c.want) > 1e-9 {
			t.Errorf("150 mm for 100 mm at %.4f: %+v, want it at %.4f", c.scale, o, c.want)
		}
	}
	// 100 mm at 1.1055 is 10.0 % larger by its logarithm, 120 mm must shrink by 8.2 %.
	for _, c := range []struct {
		scale float64
		want  bool
	}{{1.1055, false}, {1.1070, true}} {
		o := sized(100, 120).Nearer("100", c.scale, func(path string, _ float64) bool { return path == "120" })
		if o == nil {
			t.Errorf("100 mm at %.4f does not hold, and 120 mm is not offered", c.scale)
		}
		all := func(string, float64) bool { return true }
		if o := sized(100, 120).Nearer("100", c.scale, all); (o != nil) != c.want {
			t.Errorf("100 mm at %.4f: 120 mm is better: %v", c.scale, o != nil)
		}
	}
}

func TestFilesOfOneSize(t *testing.T) {
	for _, c := range []struct {
		a, b float64
		want bool
	}{{20, 20.65, true}, {20, 20.78, false}, {200, 201.8, true}, {200, 202.2, false}} {
		if got := sameSize(&Signature{WidthMM: c.a, HeightMM: c.a}, &Signature{WidthMM: c.b, HeightMM: c.b}); got != c.want {
			t.Errorf("%.2f and %.2f mm are one size: %v", c.a, c.b, got)
		}
	}
}

// How spacing tells a size that was stretched from one that was digitised anew.
func TestWhatSpacingTells(t *testing.T) {
	base := &MatchedSize{Stitches: 1000, Spacing: measure.Spacing{SatinPitchMM: 0.4, FillSpacingMM: 0.4}}
	for _, c := range []struct {
		name              string
		size, satin, fill float64 // times the other's
		stitches          int
		want              report.Verdict
	}{
		{"spacing 4.5 % past the size", 1.2, 1.2 * 1.045, 1.2 * 1.045, 1000, report.StretchedCopy},
		{"spacing 5.5 % past the size", 1.2, 1.2 * 1.055, 1.2 * 1.055, 1000, report.Unclear},
		{"satin and fill 5.4 % to either side of the size", 1.2, 1.2 * 1.054, 1.2 / 1.054, 1000, report.StretchedCopy},
		{"satin and fill 6.6 % to either side of the size", 1.2, 1.2 * 1.066, 1.2 / 1.066, 1000, report.Unclear},
		{"spacing kept within 7.3 %", 1.5, 1.073, 1.073, 2000, report.DigitisedAnew},
		{"spacing kept within 8.7 %", 1.5, 1.087, 1.087, 2000, report.Unclear},
	} {
		s := &MatchedSize{Factor: c.size, Stitches: c.stitches, Spacing: measure.Spacing{SatinPitchMM: 0.4 * c.satin, FillSpacingMM: 0.4 * c.fill}}
		if got := verdictOn(s, base); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// What spacing weighs for a size having been drawn, in log odds.
func TestWhatSpacingWeighs(t *testing.T) {
	satin := func(log float64) *measure.Spacing {
		return &measure.Spacing{SatinPitchMM: 0.4 * math.Exp(log)}
	}
	run := func(log float64) *measure.Spacing { return &measure.Spacing{RunStitchMM: 2.5 * math.Exp(log)} }
	beside := func(k int, of float64, logs ...float64) (out [3][]float64) {
		for _, l := range logs {
			out[k] = append(out[k], of*math.Exp(l))
		}
		return out
	}
	for _, c := range []struct {
		name     string
		s        *measure.Spacing
		siblings [3][]float64
		want     float64
	}{
		{"satin 7 % off the usual", satin(0.07), [3][]float64{}, -0.5},
		{"satin twice the usual", satin(0.69), [3][]float64{}, -4},
		{"a run 30 % off the usual", run(0.3), [3][]float64{}, -0.5},
		{"a run twice the usual", run(0.69), [3][]float64{}, -0.8},
		{"satin 4 % off its siblings", satin(0), beside(0, 0.4, 0.04, 0.04), -0.5},
		{"satin twice its siblings", satin(0), beside(0, 0.4, -0.69, -0.69), -4},
		{"a run 10 % off its siblings", run(0), beside(1, 2.5, 0.1, 0.1), -0.5},
		{"siblings that agree within 9 %", satin(0), beside(0, 0.4, 0.04-0.09, 0.04, 0.04+0.09), -0.5},
		{"siblings that agree within 11 %", satin(0), beside(0, 0.4, 0.04-0.11, 0.04, 0.04+0.11), 0},
	} {
		if got := weigh(c.s, c.siblings); math.Abs(got-c.want) > 0.02 {
			t.Errorf("%s: %.2f, want %.2f", c.name, got, c.want)
		}
	}
}

// Threads of one stop are told where they look like two: in files of one format that is
// soon, in others, whose lists of threads are fixed, late.
func TestThreadsThatDiffer(t *testing.T) {
	const from = "#202020"
	grey := func(apart float64) string { // from it, by CIEDE2000
		a, _ := words.ParseHex(from)
		for v := 0x21; v < 256; v++ {
			hex := fmt.Sprintf("#%02x%02x%02x", v, v, v)
			if b, _ := words.ParseHex(hex); words.CIEDE2000(words.LabOf(a), words.LabOf(b)) >= apart {
				return hex
			}
		}
		return ""
	}
	for _, c := range []struct {
		format string
		apart  float64
		want   int
	}{{"DST", 4.3, 0}, {"DST", 5.3, 1}, {"PES", 28, 0}, {"PES", 31, 1}} {
		one, other := from, grey(c.apart)
		d := &MatchedDesign{Sizes: []MatchedSize{{Files: []MatchedFile{
			{sign: &Signature{Path: "a", Format: "DST", colours: []*string{&one}}},
			{sign: &Signature{Path: "b", Format: c.format, colours: []*string{&other}}}}}}}
		p := &Proof{}
		if p.threads(d); len(p.Notes) != c.want {
			t.Errorf("%s and %s in DST and %s: %+v, want %d", one, other, c.format, p.Notes, c.want)
		}
	}
}

// Which of two sizes with the same stitches was drawn is told from a clear lead on.
func TestClearLead(t *testing.T) {
	for _, c := range []struct {
		lead float64
		want int
	}{{1.4, unknownKin}, {1.6, 0}} {
		off := 0.07 * math.Sqrt(2*c.lead) // the log by which one's satin is off the usual
		lead := &Signature{}
		k := &kinship{group: []int{0, 0}, drawn: []int{0, 1}, confidence: []float64{1, 1}, sizes: []MatchedSize{
			{lead: lead, Spacing: measure.Spacing{SatinPitchMM: 0.4}}, {lead: lead, Spacing: measure.Spacing{SatinPitchMM: 0.4 * math.Exp(off)}}},
			over: map[[2]int]laidOver{{0, 1}: {factor: math.Exp(off)}, {1, 0}: {factor: math.Exp(-off)}}}
		if k.findDrawn(); k.drawn[1] != c.want {
			t.Errorf("a lead of %.1f: the second is of %d, want %d", c.lead, k.drawn[1], c.want)
		}
	}
}

// Stitches that may be left out of a copy.
func TestCountsOfCopies(t *testing.T) {
	for _, c := range []struct {
		a, b int
		want bool
	}{{1000, 946, true}, {1000, 944, false}, {20, 15, true}, {20, 14, false}, {40, 34, true}, {40, 33, false}} {
		if got := countsNear(c.a, c.b); got != c.want {
			t.Errorf("%d and %d stitches are near: %v", c.a, c.b, got)
		}
	}
}

// Fills with a border are alike where their rows lie alike.
func TestFilledAndBordered(t *testing.T) {
	signed := func(turn float64) *Signature {
		s := &Signature{WidthMM: 50, HeightMM: 50, Spacing: measure.Spacing{FillSpacingMM: 0.4, SatinPitchMM: 0.4}, stops: make([]stopSign, 2)}
		s.stops[0].mm[report.KindFill], s.stops[0].rows = 1000, cmplx.Rect(1000, 2*turn)
		s.stops[1].mm[report.KindSatin] = 500
		return s
	}
	for _, c := range []struct {
		turn float64
		want bool
	}{{0.31, true}, {0.39, false}} {
		if got := filledAndBordered(signed(0.2), signed(0.2+c.turn)); got != c.want {
			t.Errorf("rows turned by %.2f radians are alike: %v", c.turn, got)
		}
	}
}

// Boxes of one design are alike in shape, but for the width that satin keeps; where the
// names agree a little more may differ.
func TestShapesOfOneDesign(t *testing.T) {
	block := func(side, aspect float64) *stitchfile.Design {
		h := side * aspect
		frame, heart := st.Rect(st.Point{}, side, h), st.Rect(st.Point{X: side / 8, Y: h / 9}, side/3, h/4)
		b := new(st.Builder).Run(frame, 2.5).Stop().Run(frame.Offset(3), 2.5).Stop().Run(heart, 2.5).Stop()
		return b.Satin(heart, st.SatinAlong{Width: 3, Pitch: 0.4}).Stop().Fill(st.Rect(st.Point{X: -side / 4}, side/5, h/5), 0.4, 4, 0).Design()
	}
	base := block(100, 1)
	for _, c := range []struct {
		aspect float64
		name   string
		want   bool
	}{
		{1.045, "quite-another.dst", true}, {1.058, "quite-another.dst", false},
		{1.09, "block-150.dst", true}, {1.12, "block-150.dst", false},
	} {
		if got := alike(signed(base, "block-100.dst"), signed(block(150, c.aspect), c.name)) > 0; got != c.want {
			t.Errorf("%s, %.3f times as high: one design: %v", c.name, c.aspect, got)
		}
	}
}

// Designs are one where the whole, and of the stops so many, look alike; the names count
// a little, and of few stops likeness tells nothing.
func TestHowAlikeDesignsAre(t *testing.T) {
	turned := func(like float64) sketch { return sketch{float32(like), float32(math.Sqrt(1 - like*like))} }
	signed := func(path string, side, whole float64, stops ...float64) *Signature {
		s := &Signature{Path: path, WidthMM: side, HeightMM: side, whole: turned(whole), Stitches: int(side)}
		for _, like := range stops {
			s.stops = append(s.stops, stopSign{sketch: turned(like)})
		}
		return s
	}
	for _, c := range []struct {
		name string
		a, b *Signature
		want bool
	}{
		{"a whole 0.86 alike", signed("rose.dst", 100, 1, 1, 1, 1), signed("leaf.dst", 150, 0.86, 1, 1, 1), false},
		{"a whole 0.90 alike", signed("rose.dst", 100, 1, 1, 1, 1), signed("leaf.dst", 150, 0.9, 1, 1, 1), true},
		{"stops 0.88 alike", signed("rose.dst", 100, 1, 1, 1, 1), signed("leaf.dst", 150, 1, 0.88, 0.88, 0.88), false},
		{"stops 0.92 alike", signed("rose.dst", 100, 1, 1, 1, 1), signed("leaf.dst", 150, 1, 0.92, 0.92, 0.92), true},
		{"of one name, stops 0.84 alike", signed("rose.dst", 100, 1, 1, 1, 1), signed("rose.pes", 150, 1, 0.84, 0.84, 0.84), false},
		{"of one name, stops 0.88 alike", signed("rose.dst", 100, 1, 1, 1, 1), signed("rose.pes", 150, 1, 0.88, 0.88, 0.88), true},
		{"one stop of four 0.67 alike", signed("rose.dst", 100, 1, 1, 1, 1, 1), signed("leaf.dst", 150, 1, 1, 1, 1, 0.67), false},
		{"one stop of four 0.73 alike", signed("rose.dst", 100, 1, 1, 1, 1, 1), signed("leaf.dst", 150, 1, 1, 1, 1, 0.73), true},
		{"two stops, and names that differ", signed("rose.dst", 100, 1, 1, 1), signed("leaf.dst", 150, 1, 1, 1), false},
		{"two stops of one name", signed("rose.dst", 100, 1, 1, 1), signed("rose.pes", 150, 1, 1, 1), true},
	} {
		if got := alike(c.a, c.b); got > 0 != c.want {
			t.Errorf("%s: %.2f", c.name, got)
		}
	}
}

// Formats round needle points by a tenth of a millimetre to either side.
func TestNeedlePointsOfOneEdition(t *testing.T) {
	line := func(y float64) *stitchfile.Design {
		b := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 60}), 2.5).StitchTo(st.Point{X: 62, Y: y})
		return b.Run(st.Line(st.Point{X: 64}, st.Point{X: 120, Y: 5}), 2.5).Design()
	}
	a := signed(line(1), "a.dst")
	for _, c := range []struct {
		y    float64
		same bool
	}{{1, true}, {1.1, true}, {1.2, false}} {
		if f := differ(a, signed(line(c.y), "b.dst")); (f == nil) != c.same {
			t.Errorf("a needle point %.1f mm off: %+v", c.y-1, f)
		}
	}
}
