package analyse_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// crowdedSays is how gravely crowded-needle is told of a design, where its limit is such
// that the most holes are so many times as many; empty where it is not.
func crowdedSays(d *stitchfile.Design, times float64) (report.Severity, *report.Finding) {
	most := mustRun(d, report.DefaultSettings()).Density.MaxPenetrations
	s := report.DefaultSettings()
	s.Limits = map[string]float64{"crowded-needle": most / times}
	r := mustRun(d, s)
	i := slices.IndexFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "crowded-needle" })
	if i < 0 {
		return "", nil
	}
	return r.Findings[i].Severity, &r.Findings[i]
}

// smallLetter sews a letter of satin strokes, so many mm tall.
func smallLetter(b *st.Builder, x, tall float64) {
	at := func(u, v float64) st.Point { return st.Point{X: x + u*tall, Y: v * tall} }
	for _, stroke := range []st.Path{{at(0, 0), at(0.35, 1), at(0.7, 0)}, {at(0.14, 0.4), at(0.56, 0.4)}} {
		b.TieIn(stroke[0], st.Point{X: 1}).Satin(stroke, st.SatinAlong{Width: 1.1, Pitch: 0.4}).TieOff().Trim()
	}
}

// What crowds a small spot alone, such as a letter, is a note, up to 1.25 times the limit;
// what is nearly as crowded all about is an alarm, and so is the one beside the other.
func TestSpotsThatAreCrowdedAlone(t *testing.T) {
	letter := func(b *st.Builder) { smallLetter(b, 0, 5) }
	lattice := func(x, apart, wide float64) func(*st.Builder) {
		return func(b *st.Builder) {
			for v := 0.0; v <= wide; v += apart {
				b.Run(st.Line(st.Point{X: x, Y: v}, st.Point{X: x + wide, Y: v}), apart).Trim()
			}
		}
	}
	sewn := func(parts ...func(*st.Builder)) *stitchfile.Design {
		b := new(st.Builder)
		for i, sew := range parts {
			if i > 0 {
				b.Stop()
			}
			sew(b)
		}
		return b.Design()
	}
	star := func(b *st.Builder) { // columns that meet in a middle
		for k := range 12 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 6)
			b.Satin(st.Line(st.Point{X: 3 * cos, Y: 3 * sin}, st.Point{X: 15 * cos, Y: 15 * sin}), st.SatinAlong{Width: 1.8, Pitch: 0.5}).TieOff().Trim()
		}
	}
	patch := func(wide, ground float64) func(*st.Builder) { // on a ground whose holes lie so far apart
		return func(b *st.Builder) {
			lattice(0, 0.5, wide)(b)
			if ground == 0 {
				return
			}
			for v := -8.0; v <= 12; v += ground {
				for _, side := range [][2]float64{{-8, 0}, {wide, 8 + wide}} {
					if v < 0 || v > wide {
						side = [2]float64{-8, 8 + wide}
					}
					b.Run(st.Line(st.Point{X: side[0], Y: v}, st.Point{X: side[1], Y: v}), ground).Trim()
					if v < 0 || v > wide {
						break
					}
				}
			}
		}
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		times  float64
		want   report.Severity
		stop   int
	}{
		{"patch of 5 mm", sewn(patch(5, 0)), 1.1, report.Note, 1},
		{"patch of 7 mm", sewn(patch(7, 0)), 1.1, report.Caution, 1},
		{"patch of 4 mm on a ground that is less crowded", sewn(patch(4, 0.75)), 1.1, report.Note, 1},
		{"patch of 4 mm on a ground that is nearly so", sewn(patch(4, 0.57)), 1.1, report.Caution, 1},
		{"letter", sewn(letter), 0.98, "", 0},
		{"letter", sewn(letter), 1.03, report.Note, 1},
		{"letter", sewn(letter), 1.22, report.Note, 1},
		{"letter", sewn(letter), 1.28, report.Caution, 1},
		{"wide ground", sewn(lattice(0, 0.5, 20)), 1.1, report.Caution, 1},
		{"columns that meet", sewn(star), 1.1, report.Caution, 1},
		{"letter beside a wide ground that is crowded less", sewn(letter, lattice(30, 0.49, 20)), 1.2, report.Caution, 2},
	} {
		got, f := crowdedSays(c.design, c.times)
		if got != c.want || f != nil && f.Stop != c.stop {
			t.Errorf("%s, %.2f times the limit: %q, want %q of stop %d: %+v", c.name, c.times, got, c.want, c.stop, f)
		}
	}
}
