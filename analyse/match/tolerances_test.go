package match

import (
	"fmt"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
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
