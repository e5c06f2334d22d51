package applique

import (
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// asideBy is a piece whose tack-down lies so far inside its line all round and is moved
// aside with its cover. A stop between sews along the line where again is set.
func asideBy(r, in, aside float64, again bool) *stitchfile.Design {
	line, moved := st.Circle(st.Point{}, r), st.Circle(st.Point{X: aside}, r)
	b := new(st.Builder).Run(line, 2.5).TieOff().Stop()
	if again {
		b.Run(line, 2.2).TieOff().Stop()
	}
	b.DoubleRun(moved.Offset(in), 2.2).TieOff().Stop()
	return b.Satin(moved, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

func TestMovedAsideWithItsCover(t *testing.T) {
	for _, c := range []struct {
		name          string
		r, in, aside  float64
		again, astray bool
	}{
		{"6 mm aside", 30, 0.5, 6, false, true},
		{"11.7 mm aside", 40, 0.5, 11.7, false, true},
		{"12.3 mm aside", 40, 0.5, 12.3, false, false},
		{"a third of its breadth aside", 15, 0.5, 10, false, true},
		{"three eighths of its breadth aside", 15, 0.5, 11.3, false, false},
		{"1.1 mm inside besides", 30, 1.1, 6, false, true},
		{"1.4 mm inside besides", 30, 1.4, 6, false, false},
		{"from a line that another follows", 30, 0.5, 6, true, false},
	} {
		rec := recognised(t, asideBy(c.r, c.in, c.aside, c.again))
		astray := false
		for _, w := range rec.Pieces {
			if w.Aside > 0 {
				astray = true
				if w.PreCut || w.Place.Stop != 0 || w.Tack.Stop != 1 || w.Aside < c.aside-0.3 || w.Aside > c.aside+0.3 {
					t.Errorf("%s: line in stop %d, tack-down in stop %d, %.1f mm aside", c.name, w.Place.Stop+1, w.Tack.Stop+1, w.Aside)
				}
			}
		}
		if astray != c.astray {
			t.Errorf("a tack-down and its cover %s: told %v, want %v", c.name, astray, c.astray)
		}
	}
}

// strayed is a piece whose cover lies over its line, and whose tack-down is set out by so
// much all round, or moved aside.
func strayed(out, aside float64, more func(b *st.Builder)) *stitchfile.Design {
	line, tack := st.Circle(st.Point{}, 30), st.Circle(st.Point{X: aside}, 30+out)
	b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(tack, 2.2).TieOff().Stop()
	if more != nil {
		more(b)
		b.TieOff().Stop()
	}
	return b.Satin(line, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

func TestMovedAwayFromUnderItsCover(t *testing.T) {
	for _, c := range []struct {
		name       string
		out, aside float64
		more       func(b *st.Builder)
		astray     bool
	}{
		{"5 mm outside", 5, 0, nil, true},
		{"6.3 mm outside", 6.3, 0, nil, true},
		{"6.8 mm outside", 6.8, 0, nil, false},
		{"5 mm outside, uneven by 1 mm", 5, 0.5, nil, true},
		{"5 mm outside, uneven by 1.5 mm", 5, 0.8, nil, false},
		{"7 mm aside", -0.5, 7, nil, true},
		{"5 mm outside another that lies in its place", 5, 0, func(b *st.Builder) { b.DoubleRun(st.Circle(st.Point{}, 29.5), 2.2) }, false},
		{"5 mm outside, and satin of its own over it", 5, 0, func(b *st.Builder) {
			b.Satin(st.Circle(st.Point{}, 35), st.SatinAlong{Width: 3, Pitch: 0.4})
		}, false},
	} {
		astray := 0.0
		for _, w := range recognised(t, strayed(c.out, c.aside, c.more)).Pieces {
			if w.AsideAlone {
				astray = w.Aside
				if w.PreCut || w.Place.Stop != 0 || w.Tack.Stop != 1 {
					t.Errorf("%s: line in stop %d, tack-down in stop %d", c.name, w.Place.Stop+1, w.Tack.Stop+1)
				}
			}
		}
		if far := max(c.out, c.aside); (astray > 0) != c.astray || astray > 0 && (astray < far-0.5 || astray > far+0.5) {
			t.Errorf("a tack-down %s: %.1f mm off, want it told %v", c.name, astray, c.astray)
		}
	}
}
