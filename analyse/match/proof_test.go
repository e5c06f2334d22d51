package match

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
)

// packOf makes the signatures of demo files under names of a pack.
func packOf(t testing.TB, files map[string]string) []*Signature {
	var names []string
	for as := range files {
		names = append(names, as)
	}
	slices.Sort(names)
	var out []*Signature
	for _, as := range names {
		out = append(out, signed(truth.Demo(t, files[as]), as))
	}
	return out
}

func wholePack() map[string]string {
	files := map[string]string{}
	for _, size := range []string{"100", "125", "150"} {
		for _, format := range []string{"dst", "jef", "pes"} {
			files["kettle-"+size+"."+format] = "kettle-" + size + "." + format
		}
	}
	return files
}

func kindsOf(all []Problem) []string {
	out := []string{}
	for _, p := range all {
		out = append(out, fmt.Sprintf("%s %s", p.Kind, baseName(p.Path)))
	}
	slices.Sort(out)
	return out
}

func TestProofOfWholePack(t *testing.T) {
	p := Prove(mustMatch(packOf(t, wholePack())))
	if !p.Ready || len(p.Problems) != 0 || len(p.Notes) != 0 || len(p.Designs) != 1 {
		t.Fatalf("ready %v: %+v, %+v", p.Ready, p.Problems, p.Notes)
	}
	d := p.Designs[0]
	if d.Name != "kettle" || !slices.Equal(d.Formats, []string{"DST", "JEF", "PES"}) || len(d.Sizes) != 3 {
		t.Fatalf("%+v", d)
	}
	for i, z := range d.Sizes {
		if !strings.HasSuffix(z.Lead, ".pes") { // JEF names the nearest of a list
			t.Errorf("%s stands for the size: its colours are not those that are meant", z.Lead)
		}
		for _, c := range z.Cells {
			if c.State != There || len(c.Paths) != 1 {
				t.Errorf("%+v", c)
			}
		}
		// The 100 mm size fits the smallest hoop, the 150 mm size none below 150 mm.
		if want := []string{"100 x 100", "130 x 180", "150 x 240"}[i]; len(z.Hoops) == 0 || z.Hoops[0] != want {
			t.Errorf("%.0f mm: hoops %q, want the first to be %s", z.WidthMM, z.Hoops, want)
		}
		if z.Threads < 5 || z.Minutes < 30 {
			t.Errorf("%+v", z)
		}
	}
}

// A pack with a missing file, a duplicate, a stray, a wrong name and a stretched size:
// the proof names all five and nothing else.
func TestProofNamesAllFive(t *testing.T) {
	files := wholePack()
	delete(files, "kettle-125.jef")                      // missing
	files["kettle-150 copy.pes"] = "kettle-150.pes"      // twice
	files["snail-130.dst"] = "snail-130.dst"             // another design
	files["kettle-115.jef"] = files["kettle-100.jef"]    // named after a size that it has not
	files["kettle-135.dst"] = "kettle-135-stretched.dst" // not drawn for its size
	delete(files, "kettle-100.jef")
	p := Prove(mustMatch(packOf(t, files)))
	want := []string{"duplicate file kettle-150 copy.pes", "missing file .", "stray file snail-130.dst", "stretched size .", "wrong name kettle-115.jef"}
	if diff := cmp.Diff(want, kindsOf(p.Problems)); diff != "" || p.Ready || len(p.Notes) != 0 {
		t.Errorf("ready %v, notes %+v\n%s", p.Ready, p.Notes, diff)
		for _, x := range p.Problems {
			t.Log(x.Message)
		}
	}
	for _, z := range p.Designs[0].Sizes {
		for _, c := range z.Cells {
			want := There
			switch {
			case z.WidthMM > 124 && z.WidthMM < 126 && c.Format == "JEF":
				want = Missing
			case z.WidthMM > 149 && c.Format == "PES":
				want = Twice
			case z.Verdict == report.StretchedCopy && c.Format != "DST":
				want = Unasked
			}
			if c.State != want {
				t.Errorf("%.0f mm %s: %s, want %s", z.WidthMM, c.Format, c.State, want)
			}
		}
	}
}

// Each by itself, so that none hides behind another.
func TestProofOneByOne(t *testing.T) {
	wholeOnly(t)
	for _, c := range []struct {
		name  string
		spoil func(map[string]string)
		want  []string
	}{
		{"gap", func(f map[string]string) { delete(f, "kettle-100.pes") }, []string{"missing file ."}},
		{"two gaps", func(f map[string]string) { delete(f, "kettle-100.pes"); delete(f, "kettle-125.pes") }, []string{"missing file .", "missing file ."}},
		{"twice", func(f map[string]string) { f["old/kettle-100.pes"] = "kettle-100.pes" }, []string{"duplicate file kettle-100.pes"}},
		{"stray", func(f map[string]string) { f["leaf.pes"] = "snail-130.pes" }, []string{"stray file leaf.pes"}},
		{"other stops", func(f map[string]string) { f["kettle-150.dst"] = "kettle-150-faulty.dst" }, []string{"stops differ ."}},
		{"inch", func(f map[string]string) { f["kettle-6in.pes"] = "kettle-125.pes"; delete(f, "kettle-125.pes") }, []string{"wrong name kettle-6in.pes"}},
		{"stretched", func(f map[string]string) { f["kettle-135.dst"] = "kettle-135-stretched.dst" }, []string{"stretched size ."}},
	} {
		files := wholePack()
		c.spoil(files)
		if diff := cmp.Diff(c.want, kindsOf(Prove(mustMatch(packOf(t, files))).Problems)); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
	m := mustMatch(packOf(t, wholePack()))
	m.Unreadable = append(m.Unreadable, report.Unreadable{Path: "pack/kettle-125.vp3", Error: "cut off"})
	if got := kindsOf(Prove(m).Problems); !slices.Equal(got, []string{"cannot be read kettle-125.vp3"}) {
		t.Errorf("%q", got)
	}
	if p := Prove(mustMatch(nil)); p.Ready || len(p.Designs) != 0 {
		t.Errorf("an empty pack is ready: %+v", p)
	}
}

func TestSizesInName(t *testing.T) {
	for _, c := range []struct {
		name   string
		w, h   float64 // of the stitches
		agrees bool
		told   int
	}{
		{"block-5in", 127, 127, true, 1},
		{"block-5in", 124.5, 124.5, true, 1},
		{"block-5in", 152, 152, false, 1},
		{"block 5 inch", 127, 110, true, 1},
		{"block_5x5", 125, 125, true, 1},
		{"block-5x7", 126, 175, true, 1},
		{"block-5x7", 175, 126, true, 1},
		{"block-5x7", 100, 100, false, 1},
		{"block-4x4", 99.8, 99.8, true, 1},
		{"block-4x4", 127, 127, false, 1},
		{"block 130", 130, 128, true, 1},
		{"block 130", 150, 150, false, 1},
		{"130x180mm heart", 130, 180, true, 1},
		{"block-13cm", 130, 130, true, 1},
		{"block-v2", 130, 130, false, 0},
		{"block", 130, 130, false, 0},
		{"3_8mm_pad", 4, 4, false, 0},
		{"2 hearts 150", 150, 150, true, 1},
	} {
		all := sizesInName(c.name)
		got := false
		for i := range all {
			got = got || all[i].agrees(c.w, c.h)
		}
		if len(all) != c.told || got != c.agrees {
			t.Errorf("%q for %g x %g: %v, agrees %v", c.name, c.w, c.h, all, got)
		}
	}
}

// Of threads that differ it is told once, of the file that is not like most; the colours
// of a short list tell nothing of the thread that is meant.
func TestProofOfThreads(t *testing.T) {
	files := func(colours ...string) *Matching {
		d := MatchedDesign{Name: "block"}
		for i, c := range colours {
			format, colour, _ := strings.Cut(c, " ")
			side := float64(100 + 20*i)
			s := &Signature{Path: fmt.Sprintf("block-%g.%s", side, strings.ToLower(format)), Format: format, WidthMM: side, HeightMM: side, colours: []*string{&colour}, stops: make([]stopSign, 1)}
			d.Sizes = append(d.Sizes, MatchedSize{WidthMM: side, HeightMM: side, Verdict: report.DigitisedAnew, lead: s, Files: []MatchedFile{{Path: s.Path, Format: format, Edition: 1, sign: s}}})
		}
		return &Matching{Designs: []MatchedDesign{d}}
	}
	for _, c := range []struct {
		name    string
		colours []string
		want    []string
	}{
		{"all alike", []string{"PES #ed171f", "PES #ed171f", "PES #ed171f"}, nil},
		{"a shade off", []string{"PES #ed171f", "PES #ea1a20", "PES #ed171f"}, nil},
		{"one in the middle", []string{"PES #ed171f", "PES #7d6f00", "PES #ed171f", "PES #ed171f"}, []string{"stop 1 has thread olive #7d6f00 in block-120.pes, and red #ed171f in 3 other PES files"}},
		{"of two, the larger", []string{"PES #ed171f", "PES #7d6f00"}, []string{"stop 1 has thread olive #7d6f00 in block-120.pes, and red #ed171f in block-100.pes"}},
		{"another format, near", []string{"PES #ed171f", "VP3 #c70156"}, nil},
		{"another format", []string{"PES #ed171f", "PES #ed171f", "VP3 #134a46", "VP3 #134a46"}, []string{"stop 1 has thread dark teal #134a46 in VP3 files, and red #ed171f in PES files"}},
		{"a short list", []string{"HUS #8484e7", "VP3 #5ac8d2"}, nil},
	} {
		var got []string
		for _, n := range Prove(files(c.colours...)).Notes {
			if n.Kind == OddThreads {
				got = append(got, n.Message)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// Formats that hold no cuts are told of once each, and what to do about it is for the seller.
func TestProofOfCuts(t *testing.T) {
	var signs []*Signature
	for _, f := range []string{"a-100.dst", "a-100.pcs", "a-130.dst", "a-130.pcs"} {
		side := 100.0
		if strings.Contains(f, "130") {
			side = 130
		}
		d := setOf(side, asDrawn, 0, 1, 2, 3, 4)
		d.Format = strings.ToUpper(f[len(f)-3:])
		s := signed(d, f)
		if d.Format == "DST" {
			s.stops[1].trims = 2
		}
		signs = append(signs, s)
	}
	var got []string
	for _, n := range Prove(mustMatch(signs)).Notes {
		got = append(got, string(n.Kind)+": "+n.Path+n.Advice[:18])
	}
	if diff := cmp.Diff([]string{"cuts differ: Some formats hold "}, got); diff != "" {
		t.Error(diff)
	}
}
