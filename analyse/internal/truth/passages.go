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

var fills = []recipe{
	{"fills of several angles", func(s *sheet) {
		for i, a := range []float64{0, 0.5, math.Pi / 4, 1.2, math.Pi / 2, 2.5} {
			s.Fill(s.path(rect(40*float64(i), 0, 30, 20)), 0.4, 4, s.angle(a)).TieOff().Trim()
		}
	}},
	{"fills of several spacings", func(s *sheet) {
		for i, d := range []float64{0.3, 0.4, 0.5, 0.8, 1.2} {
			s.Fill(s.path(circle(40*float64(i), 0, 15)), d, 3.5, s.angle(0.3)).TieOff().Trim()
		}
	}},
	{"fills of several stitch lengths", func(s *sheet) {
		for i, l := range []float64{2, 2.5, 3, 4, 5, 7} {
			s.Fill(s.path(rect(50*float64(i), 0, 40, 25)), 0.4, l, s.angle(1)).TieOff().Trim()
		}
	}},
	{"fill of narrow leaves", func(s *sheet) {
		for i := range 5 {
			p := s.path(leaf(0, 20*float64(i), 40, 12))
			s.Fill(p, 0.4, 3, s.angle(math.Pi/2)).TieOff().Trim()
		}
	}},
	{"fill along narrow leaves", func(s *sheet) {
		for i := range 5 {
			s.Fill(s.path(leaf(0, 12*float64(i), 30, 6)), 0.4, 3, s.angle(0)).TieOff().Trim()
		}
	}},
	{"fill with slanting rows", func(s *sheet) {
		s.SlantFill(s.path(rect(0, 0, 30, 20)), 0.4, 4, s.angle(0)).TieOff().Trim()
		s.SlantFill(s.path(circle(40, 0, 15)), 0.25, 3, s.angle(0.8)).TieOff().Trim()
		s.SlantFill(s.path(leaf(80, 0, 40, 14)), 0.4, 3, s.angle(1.2)).TieOff()
	}},
	{"fill of a star", func(s *sheet) { s.Fill(s.path(star(0, 0, 35, 15, 5)), 0.4, 4, s.angle(0)).TieOff() }},
	{"fill of a heart, 10 mm", func(s *sheet) { s.Fill(s.path(heart(0, 0, 10)), 0.4, 2.5, s.angle(0.2)).TieOff() }},
	{"fill of a field, 150 mm", func(s *sheet) { s.Fill(s.path(rect(0, 0, 150, 60)), 0.45, 4, s.angle(0.6)).TieOff() }},
	{"fill over an open fill", func(s *sheet) {
		p := s.path(blob(0, 0, 18))
		s.either(st.Run, func() { s.Fill(p, 2, 3, s.angle(math.Pi/2)) })
		s.Fill(p, 0.4, 4, s.angle(0)).TieOff()
	}},
	{"fill with an edge run and a satin border", func(s *sheet) {
		p := s.path(circle(0, 0, 16))
		s.Run(s.path(circle(0, 0, 15)), 2.5)
		s.Fill(p, 0.4, 3.5, s.angle(0.4))
		s.Satin(p, st.SatinAlong{Width: 3, Pitch: 0.4}).TieOff()
	}},
}

var lines = []recipe{
	{"single runs", func(s *sheet) {
		s.Run(s.path(line(0, 0, 60, 0)), 2.5).TieOff().Trim()
		s.Run(s.path(wave(0, 15, 60, 6, 2)), 2).TieOff().Trim()
		s.Run(s.path(circle(30, 45, 12)), 3).TieOff().Trim()
		s.Run(s.path(star(100, 20, 30, 13, 5)), 2.5).TieOff()
	}},
	{"single runs of short and long stitches", func(s *sheet) {
		for i, l := range []float64{1, 1.5, 4, 6} {
			s.Run(s.path(wave(0, 15*float64(i), 80, 4, 1)), l).TieOff().Trim()
		}
	}},
	{"double runs there and back", func(s *sheet) {
		s.DoubleRun(s.path(line(0, 0, 60, 0)), 2.5).TieOff().Trim()
		s.DoubleRun(s.path(wave(0, 15, 60, 6, 2)), 2).TieOff().Trim()
		s.DoubleRun(s.path(st.Path{xy(0, 30), xy(20, 40), xy(40, 30), xy(60, 40)}), 2.5).TieOff()
	}},
	{"double runs twice round", func(s *sheet) {
		s.DoubleRun(s.path(circle(0, 0, 20)), 2.5).TieOff().Trim()
		s.DoubleRun(s.path(rect(60, 0, 50, 40)), 2.5).TieOff().Trim()
		s.DoubleRun(s.path(heart(130, 0, 50)), 2).TieOff()
	}},
	{"double run a little aside", func(s *sheet) {
		s.Run(s.path(line(0, 20, 40, 20)), 2.5).Trim()
		p := s.path(blob(0, -40, 24))
		s.As(st.DoubleRun).JumpTo(p[0]).StitchTo(p[0])
		for _, q := range []st.Path{p, p.Offset(0.3)} {
			for _, v := range q.Sample(int(q.Length() / 2.2)) {
				s.StitchTo(v)
			}
		}
	}},
	{"triple runs", func(s *sheet) {
		s.TripleRun(s.path(line(0, 0, 60, 0)), 2.5).TieOff().Trim()
		s.TripleRun(s.path(wave(0, 15, 60, 6, 2)), 2).TieOff().Trim()
		s.TripleRun(s.path(circle(30, 45, 12)), 3).TieOff().Trim()
		s.TripleRun(s.path(star(100, 20, 30, 13, 5)), 2.5).TieOff()
	}},
	{"runs of every sort, one after the other", func(s *sheet) {
		s.TieIn(s.pt(0, 0), s.dir(1, 0))
		s.Run(s.path(line(0, 0, 40, 0)), 2.5)
		s.TripleRun(s.path(line(40, 10, 80, 10)), 2.5)
		s.DoubleRun(s.path(line(80, 25, 120, 35)), 2.5)
		s.TieOff()
	}},
	{"echo lines, 4 mm apart", func(s *sheet) {
		for i := range 6 {
			s.Run(s.path(blob(0, 0, 20+4*float64(i))), 2.5)
		}
		s.TieOff()
	}},
	{"quilting meander", func(s *sheet) {
		var p st.Path
		for i := range 401 {
			t := float64(i) / 400
			p = append(p, xy(120*t+6*math.Sin(24*math.Pi*t), 8*math.Cos(24*math.Pi*t)+10*math.Sin(5*t)))
		}
		s.Run(s.path(p), 2).TieOff()
	}},
	{"block outline, 300 mm", func(s *sheet) { s.Run(s.path(rect(0, 0, 300, 300)), 3).TieOff() }},
	{"one outline in two stops", func(s *sheet) {
		s.Run(s.path(circle(0, 0, 30)), 2.5).Stop()
		s.Run(s.path(circle(0, 0, 30)), 2.5).Stop()
		s.Run(s.path(circle(0, 0, 29.5)), 2)
	}},
	{"tiny lines", func(s *sheet) {
		for i := range 6 {
			s.Run(s.path(line(5*float64(i), 0, 5*float64(i)+2, 8)), 1.5).TieOff().Trim()
		}
	}},
}

var zigzags = []recipe{
	{"open zigzags", func(s *sheet) {
		y := 0.0
		for _, w := range []float64{1.5, 2, 3, 4} {
			for _, p := range []float64{1.5, 2, 3} {
				s.OpenZigzag(s.path(line(0, y, 50, y)), w, p).TieOff().Trim()
				y += 7
			}
		}
	}},
	{"open zigzag round outlines", func(s *sheet) {
		s.OpenZigzag(s.path(circle(0, 0, 25)), 2, 1.5).TieOff().Trim()
		s.OpenZigzag(s.path(heart(70, 0, 60)), 2, 2).TieOff().Trim()
		s.OpenZigzag(s.path(blob(140, 0, 28)), 1.8, 1.2).TieOff()
	}},
	{"blanket stitch", func(s *sheet) {
		s.EStitch(s.path(line(0, 0, 60, 0)), 3, 2.5).TieOff().Trim()
		s.EStitch(s.path(circle(30, 40, 20)), 2, 2).TieOff().Trim()
		s.EStitch(s.path(wave(0, 80, 60, 5, 1)), 2.5, 3).TieOff()
	}},
	{"zigzag over a tack-down run", func(s *sheet) {
		p := s.path(circle(0, 0, 25))
		s.Run(p, 2.5).OpenZigzag(p, 2, 1.5).TieOff()
	}},
}

var mixed = []recipe{
	{"flower", func(s *sheet) {
		s.TieIn(s.pt(0, 0), s.dir(1, 0))
		s.Fill(s.path(circle(0, 0, 7)), 0.4, 2.5, s.angle(0.5)).TieOff().Trim()
		for i := range 6 {
			sin, cos := math.Sincos(math.Pi / 3 * float64(i))
			p := s.path(line(8*cos, 8*sin, 26*cos, 26*sin))
			oval := func(t float64) float64 { return 0.15 + 0.85*math.Sin(math.Pi*t) }
			s.Run(p, 2).Satin(p.Reverse(), st.SatinAlong{Width: 7, Pitch: 0.4, Shape: oval}).TieOff().Trim()
		}
		s.Stop()
		s.TripleRun(s.path(st.Path{xy(0, -26), xy(3, -45), xy(-2, -65)}), 2.5).TieOff()
	}},
	{"badge", func(s *sheet) {
		s.Run(s.path(circle(0, 0, 38)), 2.5).Stop()
		s.Fill(s.path(circle(0, 0, 36)), 0.45, 4, s.angle(0)).TieOff().Stop()
		for i, c := range "HOTEL" {
			s.letter(c, -30+12*float64(i), -4, 8)
		}
		s.Stop()
		p := s.path(circle(0, 0, 37))
		s.OpenZigzag(p, 2.6, 2).Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
	}},
	{"redwork bird", func(s *sheet) {
		body := s.path(blob(0, 0, 25))
		s.TripleRun(body, 2.2)
		s.DoubleRun(s.path(wave(-15, 0, 30, 4, 1.5)), 2)
		s.TieOff().Trim()
		s.Run(s.path(st.Path{xy(24, 3), xy(32, 0), xy(24, -3)}), 1.5).TieOff().Trim()
		s.Satin(s.path(line(9, 8, 12, 8)), st.SatinAlong{Width: 2.5, Pitch: 0.35}).TieOff()
	}},
	{"vine with leaves", func(s *sheet) {
		s.TripleRun(s.path(wave(0, 0, 120, 8, 1.5)), 2.5).TieOff().Stop()
		oval := func(t float64) float64 { return math.Sin(math.Pi * t) }
		for i := range 8 {
			x := 8 + 14*float64(i)
			y := 14.0
			if i%2 == 1 {
				y = -14
			}
			p := s.path(line(x, y/2, x+6, y*1.8))
			s.Run(p, 2).Satin(p.Reverse(), st.SatinAlong{Width: 6, Pitch: 0.45, Shape: oval}).TieOff().Trim()
		}
	}},
	{"applique ring in stops", func(s *sheet) {
		s.Run(s.path(circle(0, 0, 25)), 2.5).TieOff().Stop()
		s.DoubleRun(s.path(circle(0, 0, 24.5)), 2).TieOff().Stop()
		p := s.path(circle(0, 0, 25))
		s.EdgeRun(p, 3.5, 0.7, 2.5).Satin(p, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff().Stop()
		s.TripleRun(s.path(circle(0, 0, 27.5)), 2.5).TieOff()
	}},
	{"lock stitches of several sizes", func(s *sheet) {
		for i, l := range []float64{0.3, 0.4, 0.5, 0.7} {
			y := 12 * float64(i)
			s.Lock(s.pt(0, y), s.dir(1, 0), l, 4)
			s.Run(s.path(line(0, y, 40, y)), 2.5)
			s.Lock(s.pt(40, y), s.dir(-1, 0), l, 3)
			s.Trim()
		}
	}},
}
