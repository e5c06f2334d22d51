package truth

import (
	"math"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

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
