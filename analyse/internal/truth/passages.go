package truth

import (
	"math"
	"sync"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

type recipe struct {
	name string
	lay  func(s *sheet)
}

// Passages are labelled designs, each as drawn, turned, and turned and mirrored.
// All calls give the same designs, which must not be changed.
func Passages() []Labelled { return madePassages() }

var madePassages = sync.OnceValue(func() []Labelled {
	var out []Labelled
	for _, list := range [][]recipe{satins, underlaid, fills, lines, zigzags, mixed} {
		for _, r := range list {
			for _, as := range []struct {
				name string
				place
			}{
				{"", place{scale: 1}},
				{", turned", place{scale: 1, turn: 0.41, dx: 13.3, dy: -7.1}},
				{", mirrored", place{scale: 1, turn: -1.13, mirror: true, dx: -40.2, dy: 21.7}},
			} {
				s := &sheet{place: as.place}
				s.Name = r.name
				r.lay(s)
				out = append(out, s.labelled(r.name+as.name))
			}
		}
	}
	return out
})

// satin lays a column with lock stitches at both ends.
func (s *sheet) satin(p st.Path, width, pitch float64) {
	q := s.path(p)
	s.TieIn(q[0], s.dir(0, 1))
	s.Satin(q, st.SatinAlong{Width: width, Pitch: pitch})
	s.TieOff().Trim()
}

var satins = []recipe{
	{"straight satin, widths 1 to 9", func(s *sheet) {
		for i, w := range []float64{1, 1.5, 2, 3, 4, 5, 7, 9} {
			s.satin(line(0, 14*float64(i), 40, 14*float64(i)), w, 0.4)
		}
	}},
	{"straight satin, pitches 0.3 to 0.9", func(s *sheet) {
		for i, p := range []float64{0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9} {
			s.satin(line(0, 10*float64(i), 40, 10*float64(i)+3), 4, p)
		}
	}},
	{"straight satin without ties", func(s *sheet) {
		s.Satin(s.path(line(0, 0, 30, 0)), st.SatinAlong{Width: 3, Pitch: 0.4}).Trim()
		s.Satin(s.path(line(0, 8, 30, 8)), st.SatinAlong{Width: 3, Pitch: 0.4, Slant: true}).Trim()
		s.Satin(s.path(line(0, 16, 30, 16)), st.SatinAlong{Width: 2, Pitch: 0.6, Slant: true})
	}},
	{"satin ring", func(s *sheet) { s.satin(circle(0, 0, 20), 4, 0.4) }},
	{"satin ring, 300 mm", func(s *sheet) { s.satin(circle(0, 0, 148), 4, 0.45) }},
	{"satin ring, 10 mm", func(s *sheet) { s.satin(circle(0, 0, 4), 2, 0.4) }},
	{"satin in tight curves", func(s *sheet) { s.satin(wave(0, 0, 60, 6, 4), 3, 0.4) }},
	{"satin with mitred corners", func(s *sheet) {
		s.Mitred(s.path(rect(0, 0, 40, 30)), 4, 0.4).Trim()
		s.Mitred(s.path(st.Path{xy(40, 0), xy(70, 0), xy(70, 30), xy(100, 30)}), 3, 0.4).TieOff()
	}},
	{"mitred star", func(s *sheet) {
		s.runs = true // across sharp corners
		s.Mitred(s.path(star(0, 0, 40, 22, 6)), 3.5, 0.4).TieOff()
	}},
	{"satin tapering to a point", func(s *sheet) {
		taper := func(t float64) float64 { return 1 - t }
		oval := func(t float64) float64 { return math.Sin(math.Pi * t) }
		for i, f := range []func(float64) float64{taper, oval} {
			p := s.path(line(0, 15*float64(i), 40, 15*float64(i)))
			s.Satin(p, st.SatinAlong{Width: 6, Pitch: 0.4, Shape: f}).TieOff().Trim()
		}
	}},
	{"satin with short stitches in the bends", func(s *sheet) {
		s.ShortStitches(s.path(st.Arc(st.Point{}, 5, 0, 1.5*math.Pi)), st.SatinAlong{Width: 4, Pitch: 0.45}, 0.25).TieOff().Trim()
		s.ShortStitches(s.path(wave(20, 0, 60, 7, 2)), st.SatinAlong{Width: 5, Pitch: 0.4}, 0.3).TieOff()
	}},
	{"split wide satin", func(s *sheet) {
		s.Satin(s.path(line(0, 0, 50, 0)), st.SatinAlong{Width: 9, Pitch: 0.4, Split: 6}).TieOff().Trim()
		s.Satin(s.path(line(0, 20, 50, 20)), st.SatinAlong{Width: 14, Pitch: 0.4, Split: 7}).TieOff()
	}},
	{"split satin that narrows", func(s *sheet) {
		s.Rails(s.path(line(0, 6, 60, 1.5)), s.path(line(0, -6, 60, -1.5)), 0.4, 7).TieOff()
	}},
	{"split satin ring", func(s *sheet) {
		s.Satin(s.path(circle(0, 0, 30)), st.SatinAlong{Width: 10, Pitch: 0.45, Split: 7}).TieOff()
	}},
	{"ladder crossings", func(s *sheet) {
		s.Ladder(s.path(line(0, 0, 40, 0)), 4, 0.4).TieOff().Trim()
		s.Ladder(s.path(st.Arc(st.Point{Y: 20}, 15, 0, math.Pi)), 3, 0.5).TieOff()
	}},
	{"satin letters, 3 to 6 mm", func(s *sheet) {
		x := 0.0
		for _, h := range []float64{3, 4, 5, 6} {
			for _, c := range "HOLEST" {
				x += s.letter(c, x, 0, h) + 0.25*h
			}
			x += h
		}
	}},
	{"satin letters, 12 and 25 mm", func(s *sheet) {
		x := 0.0
		for _, h := range []float64{12, 25} {
			for _, c := range "HOLEST" {
				x += s.letter(c, x, 0, h) + 0.25*h
			}
			x += h
		}
	}},
	{"satin between rails that lean", func(s *sheet) {
		s.Rails(s.path(line(3, 4, 43, 4)), s.path(line(0, 0, 40, 0)), 0.4, 0).TieOff()
	}},
	{"short satin bars", func(s *sheet) {
		for i := range 8 {
			x := 6 * float64(i)
			s.satin(line(x, 0, x, 4+float64(i)), 2, 0.4)
		}
	}},
}

// letter sews one capital of height h in satin strokes joined by travel under
// the next stroke, and gives its width.
func (s *sheet) letter(c rune, x, y, h float64) float64 {
	s.runs = true
	stroke := max(0.9, 0.16*h)
	w := 0.62 * h
	at := func(u, v float64) st.Point { return s.pt(x+u*w, y+v*h) }
	go_ := func(pts ...st.Point) {
		s.Satin(st.Path(pts), st.SatinAlong{Width: stroke, Pitch: 0.38})
	}
	switch c {
	case 'H':
		go_(at(0, 0), at(0, 1))
		go_(at(0, 0.5), at(1, 0.5))
		go_(at(1, 1), at(1, 0))
	case 'O':
		var p st.Path
		for _, q := range st.Circle(st.Point{}, 1) {
			p = append(p, at(0.5+0.5*q.X, 0.5+0.5*q.Y))
		}
		go_(p...)
	case 'L':
		go_(at(0, 1), at(0, 0))
		go_(at(0, 0), at(1, 0))
	case 'E':
		go_(at(0, 1), at(0, 0))
		go_(at(0, 0), at(1, 0))
		go_(at(0.8, 0.5), at(0, 0.5))
		go_(at(0, 1), at(1, 1))
	case 'S':
		var p st.Path
		for i := range 41 {
			a := math.Pi/3 + float64(i)/40*math.Pi*7/6
			p = append(p, at(0.5+0.5*math.Cos(a), 0.75+0.25*math.Sin(a)))
		}
		for i := range 41 {
			a := math.Pi/2 - float64(i)/40*math.Pi*7/6
			p = append(p, at(0.5+0.5*math.Cos(a), 0.25+0.25*math.Sin(a)))
		}
		go_(p...)
	case 'T':
		go_(at(0, 1), at(1, 1))
		go_(at(0.5, 1), at(0.5, 0))
	}
	s.TieOff().Trim()
	return w
}

var underlaid = []recipe{
	{"satin over a centre run", func(s *sheet) {
		for i := range 3 {
			p := s.path(line(0, 12*float64(i), 45, 12*float64(i)))
			s.Run(p, 2.5).Satin(p.Reverse(), st.SatinAlong{Width: 3 + float64(i), Pitch: 0.4}).TieOff().Trim()
		}
	}},
	{"satin over a double centre run", func(s *sheet) {
		p := s.path(wave(0, 0, 50, 5, 1))
		s.DoubleRun(p, 2).Satin(p, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff()
	}},
	{"satin over an edge run", func(s *sheet) {
		p := s.path(line(0, 0, 50, 0))
		s.EdgeRun(p, 5, 0.7, 2.5).Satin(p, st.SatinAlong{Width: 5, Pitch: 0.4}).TieOff().Trim()
		q := s.path(st.Arc(st.Point{Y: 30}, 18, 0, 4))
		s.EdgeRun(q, 4, 0.7, 2.5).Satin(q, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}},
	{"satin ring over edge runs", func(s *sheet) {
		p := s.path(circle(0, 0, 22))
		s.EdgeRun(p, 4, 0.7, 2.5).Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}},
	{"satin over a zigzag", func(s *sheet) {
		p := s.path(line(0, 0, 50, 0))
		s.OpenZigzag(p, 3.6, 2).Satin(p.Reverse(), st.SatinAlong{Width: 5, Pitch: 0.4}).TieOff().Trim()
		q := s.path(line(0, 15, 60, 20))
		s.Run(q, 2.5).OpenZigzag(q.Reverse(), 4.6, 2.5).Satin(q, st.SatinAlong{Width: 6, Pitch: 0.4}).TieOff()
	}},
	{"satin ring over a zigzag", func(s *sheet) {
		p := s.path(circle(0, 0, 30))
		s.OpenZigzag(p, 2.6, 2).Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}},
	{"columns joined by travel under them", func(s *sheet) {
		s.TieIn(s.pt(0, 0), s.dir(1, 0))
		for i := range 4 {
			y := 15 * float64(i)
			p := s.path(line(0, y, 10, y+8))
			// Out along the middle of the column that will hide it, and back in satin.
			s.either(st.Travel, func() { s.Run(p, 2) })
			s.Satin(p.Reverse(), st.SatinAlong{Width: 3, Pitch: 0.4})
		}
		s.TieOff()
	}},
	{"mitred frame over runs", func(s *sheet) {
		p := s.path(rect(0, 0, 70, 50))
		s.Run(p.Offset(1), 2.5).Run(p.Offset(-1), 2.5).Mitred(p, 4, 0.4).TieOff()
	}},
}
