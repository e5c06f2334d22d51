package match

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// signed makes the signature of a design as if read from a path.
func signed(d *stitchfile.Design, path string) *Signature {
	r := mustRun(d, report.DefaultSettings())
	r.Path = path
	return Sign(mustRecognise(d), r)
}

func demoSigns(t *testing.T, names ...string) []*Signature {
	t.Helper()
	var out []*Signature
	for _, n := range names {
		out = append(out, signed(truth.Demo(t, n), n))
	}
	return out
}

// found lists rules, severities and stops.
func foundIn(d *MatchedDesign, rule string) []report.Finding {
	var out []report.Finding
	for _, f := range d.Findings {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

// The demo's three sizes in three formats are one design digitised anew.
func TestMatchDemo(t *testing.T) {
	signs := demoSigns(t, "kettle-150.pes", "kettle-100.dst", "kettle-100.jef", "kettle-100.pes", "kettle-125.dst", "kettle-125.jef", "kettle-125.pes", "kettle-150.dst", "kettle-150.jef")
	m := mustMatch(signs)
	if len(m.Designs) != 1 {
		t.Fatalf("%d designs", len(m.Designs))
	}
	d := &m.Designs[0]
	if d.Name != "kettle" || len(d.Sizes) != 3 {
		t.Fatalf("%q in %d sizes", d.Name, len(d.Sizes))
	}
	refs := 0
	for i, z := range d.Sizes {
		if z.Verdict == report.Reference {
			refs++
		} else if z.Verdict != report.DigitisedAnew {
			t.Errorf("%.0f mm: %s", z.WidthMM, z.Verdict)
		}
		if want := []float64{100, 125, 150}[i]; math.Abs(z.WidthMM-want) > 1 || len(z.Files) != 3 {
			t.Errorf("%.1f mm with %d files, want %g with 3", z.WidthMM, len(z.Files), want)
		}
		for _, f := range z.Files {
			if f.Edition != 1 {
				t.Errorf("%s is another edition", f.Path)
			}
		}
		if math.Abs(z.Spacing.SatinPitchMM-0.40) > 0.02 || math.Abs(z.Spacing.RunStitchMM-2.5) > 0.2 {
			t.Errorf("%.0f mm: %+v", z.WidthMM, z.Spacing)
		}
	}
	if refs != 1 || len(foundIn(d, "stretched-copy")) != 0 {
		t.Errorf("%d references, %v", refs, d.Findings)
	}
	for _, f := range d.Findings {
		if f.Severity == report.Fault {
			t.Errorf("%+v", f)
		}
	}
}

// The stretched copy and the faulty edition are named as what they are, whatever
// the files are called and in whatever order they come.
func TestMatchDemoOdd(t *testing.T) {
	wholeOnly(t)
	names := []string{"kettle-150-faulty.dst", "kettle-135-stretched.dst", "kettle-150.dst", "kettle-150.pes", "kettle-100.dst", "kettle-125.jef"}
	for turn := range names {
		signs := demoSigns(t, append(slices.Clone(names[turn:]), names[:turn]...)...)
		if turn%2 == 1 {
			for i, s := range signs {
				s.Path = strings.Repeat("x", i+1) + "." + s.Format
			}
		}
		m := mustMatch(signs)
		if len(m.Designs) != 1 || len(m.Designs[0].Sizes) != 4 {
			t.Fatalf("turn %d: %d designs", turn, len(m.Designs))
		}
		d := &m.Designs[0]
		z := d.Sizes[2]
		if z.Verdict != report.StretchedCopy || math.Abs(z.Factor-1.35) > 0.02 || z.Of == nil || math.Abs(z.Of[0]-100) > 1 {
			t.Errorf("turn %d: the stretched copy: %s of %v, %.3f", turn, z.Verdict, z.Of, z.Factor)
		}
		if f := foundIn(d, "stretched-copy"); len(f) != 1 || math.Abs(f[0].Measured-1.35) > 0.02 || f[0].Severity != report.Caution {
			t.Errorf("turn %d: %+v", turn, f)
		}
		odd := 0
		for _, f := range d.Sizes[3].Files {
			if f.Edition > 1 {
				odd++
			}
		}
		faults := 0
		for _, f := range foundIn(d, "set-disagrees") {
			if f.Severity == report.Fault && f.Unit == "stops" {
				faults++
			}
		}
		if odd != 1 || faults != 1 {
			t.Errorf("turn %d: %d other editions, %d faults: %+v", turn, odd, faults, d.Findings)
		}
	}
}

// A copy that was stretched and whose original is not in the set stands out by
// its spacing.
func TestMatchSpacingAlone(t *testing.T) {
	block := func(size, spacing float64) *stitchfile.Design {
		c := st.Circle(st.Point{}, 40*size)
		b := new(st.Builder).Run(c, 2.5*spacing).Stop()
		b.Satin(c, st.SatinAlong{Width: 3.5, Pitch: 0.4 * spacing}).TieOff().Stop()
		return b.Fill(st.Rect(st.Point{X: -10 * size, Y: -10 * size}, 20*size, 20*size), 0.4*spacing, 4*spacing, 0).TieOff().Design()
	}
	for _, c := range []struct {
		size, spacing float64
		want          report.Verdict
	}{
		{1.4, 1, report.DigitisedAnew}, {1.4, 1.4, report.StretchedCopy}, {1.25, 1.25, report.StretchedCopy}, {0.7, 0.7, report.StretchedCopy}, {0.8, 1, report.DigitisedAnew}, {1.6, 1.25, report.Unclear},
	} {
		m := mustMatch([]*Signature{signed(block(1, 1), "a.dst"), signed(block(c.size, c.spacing), "b.dst")})
		if len(m.Designs) != 1 || len(m.Designs[0].Sizes) != 2 {
			t.Errorf("%g: not one design in two sizes", c.size)
			continue
		}
		for _, z := range m.Designs[0].Sizes {
			if z.Verdict == report.Reference {
				continue
			}
			if z.Verdict != c.want || z.Verdict == report.StretchedCopy && math.Abs(z.Factor-c.size) > 0.02 {
				t.Errorf("size %g, spacing %g: %s by %.3f (%+v)", c.size, c.spacing, z.Verdict, z.Factor, z.Spacing)
			}
		}
	}
}

// Different designs are different, and a design laid out turned and shifted by
// a format's own origin is the same.
func TestMatchTellsDesignsApart(t *testing.T) {
	var signs []*Signature
	for _, b := range truth.Blocks() {
		if !strings.Contains(b.Name, "turned") && !strings.Contains(b.Name, "mirrored") {
			signs = append(signs, signed(b.Design, b.Name+".dst"))
		}
	}
	m := mustMatch(signs)
	for _, d := range m.Designs {
		if len(d.Sizes) > 1 || len(d.Sizes[0].Files) > 1 {
			var names []string
			for _, z := range d.Sizes {
				for _, f := range z.Files {
					names = append(names, f.Path)
				}
			}
			t.Logf("taken for one design: %q", names)
		}
	}
	if len(m.Designs) < len(signs)*2/3 {
		t.Errorf("%d designs of %d", len(m.Designs), len(signs))
	}
}

func TestDiffer(t *testing.T) {
	lay := func(dx, dy float64, odd int, cut, more bool) *stitchfile.Design {
		b := new(st.Builder)
		for i := range 60 {
			q := st.Point{X: 2*float64(i) + dx, Y: float64(i*i%7) + dy}
			if i == odd {
				q.Y += 1
			}
			b.StitchTo(q)
			if i == 20 {
				b.Stop()
			}
			if i == 40 && cut {
				b.Trim()
			}
		}
		if more {
			b.Stop().Run(st.Line(st.Point{X: 0, Y: 3}, st.Point{X: 100, Y: 3}), 2)
		}
		return b.Design()
	}
	a := signed(lay(0, 0, -1, false, false), "a.dst")
	for _, c := range []struct {
		name string
		d    *stitchfile.Design
		stop int
		unit string
		rank report.Severity
	}{
		{"shifted", lay(31.3, -7.7, -1, false, false), 0, "", ""},
		{"one point off", lay(3, 4, 30, false, false), 2, "stitches", report.Caution},
		{"a stop more", lay(0, 0, -1, false, true), 3, "stops", report.Fault},
	} {
		f := differ(a, signed(c.d, "b.pes"))
		switch {
		case f == nil && c.stop == 0:
		case f == nil || c.stop == 0:
			t.Errorf("%s: %+v", c.name, f)
		case f.Stop != c.stop || f.Unit != c.unit || f.Severity != c.rank:
			t.Errorf("%s: %+v", c.name, f)
		}
	}
	f := trimsDiffer(a, signed(lay(0, 0, -1, true, false), "b.pes"))
	if len(f) != 1 || f[0].Severity != report.Note || f[0].Stop != 2 {
		t.Errorf("trims: %+v", f)
	}
}

// A file alone is only noted, and only when its spacings are off alike.
func TestStretchedAlone(t *testing.T) {
	wholeOnly(t)
	note := func(d *stitchfile.Design) *report.Finding {
		for _, f := range mustRun(d, report.DefaultSettings()).Findings {
			if f.Rule == "stretched-copy" {
				return &f
			}
		}
		return nil
	}
	f := note(truth.Demo(t, "kettle-135-stretched.dst"))
	if f == nil || f.Severity != report.Note || math.Abs(f.Measured-1.35) > 0.05 || !strings.Contains(f.Message, "confidence") {
		t.Errorf("the stretched copy: %+v", f)
	}
	for _, name := range []string{"kettle-100.dst", "kettle-125.dst", "kettle-150.pes", "kettle-150-faulty.dst"} {
		if f := note(truth.Demo(t, name)); f != nil {
			t.Errorf("%s: %+v", name, f)
		}
	}
	for _, b := range truth.Blocks() {
		if f := note(b.Design); f != nil {
			t.Errorf("%s: %s", b.Name, f.Message)
		}
	}
}

func TestMatchNothing(t *testing.T) {
	if m := mustMatch(nil); len(m.Designs) != 0 {
		t.Errorf("%+v", m)
	}
	one := &stitchfile.Design{Moves: []stitchfile.Move{{Kind: stitchfile.Stitch}}}
	m := mustMatch([]*Signature{signed(&stitchfile.Design{}, "a"), signed(one, "b"), signed(one, "c"), signed(&stitchfile.Design{}, "d")})
	if len(m.Designs) != 3 {
		t.Errorf("%d designs of an empty file twice and a single stitch twice", len(m.Designs))
	}
}

// FuzzResizeMatch holds resizing and matching to designs of any moves: no panic,
// figures in their ranges, and every design one with itself.
func FuzzResizeMatch(f *testing.F) {
	f.Add([]byte{0, 10, 10, 0, 200, 3, 0, 9, 90, 3, 0, 0, 0, 5, 5, 2, 1, 1})
	f.Add([]byte("zigzag and back again, there and there, stitch after stitch after stitch"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 3000 {
			return
		}
		d := &stitchfile.Design{}
		var x, y int32
		for i := 0; i+2 < len(data); i += 3 {
			k := stitchfile.Stitch
			switch data[i] % 16 {
			case 13:
				k = stitchfile.Jump
			case 14:
				k = stitchfile.Trim
			case 15:
				k = stitchfile.ColourStop
			case 12:
				x, y = int32(data[i+1])<<24, int32(data[i+2])<<24
			}
			x, y = x+int32(int8(data[i+1])), y+int32(int8(data[i+2]))
			d.Moves = append(d.Moves, stitchfile.Move{X: x, Y: y, Kind: k})
		}
		s := report.DefaultSettings()
		s.HoopWidthMM, s.HoopHeightMM = 100, 60
		r := mustRun(d, s)
		rec := mustRecognise(d)
		p, err := analyse.MeasurePass(context.Background(), rec, analyse.Options{Settings: &s}, 1)
		if err != nil {
			t.Fatal(err)
		}
		z, err := resize.Limits(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		if z != nil {
			if !(z.Smallest >= report.ResizeFrom && z.Smallest <= 1 && z.Largest >= 1 && z.Largest <= report.ResizeTo) {
				t.Errorf("from %g to %g", z.Smallest, z.Largest)
			}
			after, err := analyse.Measure(context.Background(), rec, analyse.Options{Settings: &s}, 1.2)
			if err != nil {
				t.Fatal(err)
			}
			e := resize.At(rec, r, after, 1.2)
			if e.Anew < 0 || e.Stitches != r.Stitches {
				t.Errorf("%+v", e)
			}
			resize.CoverViews(context.Background(), rec, r, s, []float64{z.Smallest, 1, z.Largest})
		}
		m := mustMatch([]*Signature{Sign(mustRecognise(d), r), Sign(mustRecognise(d), r)})
		if want := 1; r.Stitches > 0 && len(m.Designs) != want {
			t.Errorf("%d designs of one twice", len(m.Designs))
		}
		for _, g := range m.Designs {
			for _, z := range g.Sizes {
				for _, v := range []float64{z.Spacing.SatinPitchMM, z.Spacing.RunStitchMM, z.Spacing.FillSpacingMM, z.Factor} {
					if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
						t.Errorf("%+v", z)
					}
				}
			}
		}
	})
}

func ExampleMatch() {
	block := func(size float64) *Signature {
		c := st.Circle(st.Point{}, 40*size)
		d := new(st.Builder).Run(c, 2.5).Stop().Run(c, 2.5).Stop().
			Satin(c, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff().Design()
		r := mustRun(d, report.DefaultSettings())
		r.Path = fmt.Sprintf("disc-%.0f.dst", 80*size)
		return Sign(mustRecognise(d), r)
	}
	for _, d := range mustMatch([]*Signature{block(1), block(1.5)}).Designs {
		for _, z := range d.Sizes {
			fmt.Printf("%s %.0f mm: %s\n", d.Name, z.WidthMM, z.Verdict)
		}
	}
	// Output:
	// disc 83 mm: reference
	// disc 123 mm: digitised anew
}

// A context that has ended ends the matching, with no half result.
func TestMatchEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	d := new(st.Builder).Run(st.Rect(st.Point{}, 40, 30), 2.5).Design()
	if m, err := Match(ctx, []*Signature{signed(d, "a.dst")}); m != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v", m, err)
	}
}
