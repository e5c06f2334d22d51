package stitchfile_test

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// What a run of jumps is taken for, in a format without a record for cuts: by itself,
// and in a file that shows in another place how it writes them.
func TestCutsByTheFile(t *testing.T) {
	type run struct {
		jumps     []stitchtest.Point // steps in mm
		ends      float64            // and of the stitch that ends them, along x
		none, pad string             // what it is in a file by itself, and beside short runs made longer
		toFro     string             // and beside a cut written by jumps to and fro
	}
	step := func(n int, x float64) []stitchtest.Point {
		return slices.Repeat([]stitchtest.Point{{X: x}}, n)
	}
	toFro := []stitchtest.Point{{X: 0.2, Y: 0.2}, {X: -0.4, Y: -0.4}, {X: 0.2, Y: 0.2}}
	for name, r := range map[string]run{
		"two jumps, no cut":                 {step(2, 12), 2, "", "", ""},
		"a short way of three":              {step(3, 3), 2, "cut", "cut", "cut"},
		"a short way and jumps in place":    {append(step(1, 10), step(2, 0)...), 2, "cut", "cut", "cut"},
		"as many as 36 mm need":             {step(3, 12), 2, "unsure", "cut", "unsure"},
		"one more than 36 mm need":          {append(step(3, 12), step(1, 0)...), 2, "cut", "cut", "cut"},
		"a way of 120 mm":                   {step(10, 12), 2, "unsure", "cut", "unsure"},
		"one long move of 48 mm":            {step(3, 12), 12, "", "unsure", "unsure"},
		"one move of 46 mm, rounded":        {append(step(2, 11.5), step(1, 11.4)...), 11.6, "", "unsure", "unsure"},
		"three jumps and a stitch unlike":   {step(3, 12), 6, "unsure", "cut", "unsure"},
		"to and fro, and then a long way":   {append(slices.Clone(toFro), step(4, 12)...), 2, "cut", "cut", "cut"},
		"a short way in as even a division": {step(3, 5), 5, "cut", "cut", "cut"},
	} {
		for beside, want := range map[string]string{"": r.none, "padded": r.pad, "to and fro": r.toFro} {
			b := new(stitchtest.Builder)
			by := func(x, y float64) stitchtest.Point {
				return stitchtest.Point{X: b.At().X + x, Y: b.At().Y + y}
			}
			sew := func() {
				for range 8 {
					b.StitchTo(by(2, 0.5))
				}
			}
			jump := func(steps ...stitchtest.Point) {
				for _, s := range steps {
					b.JumpTo(by(s.X, s.Y))
				}
			}
			sew()
			jump(r.jumps...)
			b.StitchTo(by(r.ends, 0))
			sew()
			switch beside {
			case "padded":
				jump(stitchtest.Point{X: 7}, stitchtest.Point{}, stitchtest.Point{})
			case "to and fro":
				jump(append(slices.Clone(toFro), stitchtest.Point{X: 7})...)
			}
			sew()
			data, err := stitchtest.Encode("DST", b.Design())
			if err != nil {
				t.Fatal(err)
			}
			d, err := new(stitchfile.Decoder).DecodeBytes(data)
			if err != nil {
				t.Fatal(err)
			}
			at := slices.IndexFunc(d.Moves, func(m stitchfile.Move) bool { return m.Kind != stitchfile.Stitch })
			got := ""
			if m := d.Moves[at]; m.Kind == stitchfile.Trim {
				got = "cut"
				if m.Mark&stitchfile.MarkUnsure != 0 {
					got = "unsure"
				}
				if m.Mark&stitchfile.MarkDerived == 0 || m.X != d.Moves[at-1].X || m.Y != d.Moves[at-1].Y {
					t.Errorf("%s: the cut %+v is not derived where the run begins", name, m)
				}
			}
			if got != want {
				t.Errorf("%s, with %q beside it: %q, want %q", name, beside, got, want)
			}
			// What the owner says of the machine is obeyed.
			d, err = (&stitchfile.Decoder{TrimJumps: 3}).DecodeBytes(data)
			if err != nil {
				t.Fatal(err)
			}
			if m := d.Moves[at]; (m.Kind == stitchfile.Trim) != (len(r.jumps) >= 3) || m.Mark&stitchfile.MarkUnsure != 0 {
				t.Errorf("%s, cut after 3 jumps: %+v", name, m)
			}
		}
	}
}
