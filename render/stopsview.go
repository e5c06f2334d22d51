package render

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var stopsView = View{
	Name: "stops",
	Doc:  "each colour stop in a colour of its own, numbered where it starts",
	Draw: single(drawStops),
}

// stopHues are the hues of Okabe and Ito that stand out on a pale ground, then
// darker and paler ones of the same, so that 24 stops differ. Numbers tell them
// apart beyond that.
var stopHues = func() []color.RGBA {
	base := []color.RGBA{
		{0, 114, 178, 255}, {213, 94, 0, 255}, {0, 158, 115, 255}, {204, 121, 167, 255},
		{230, 159, 0, 255}, {86, 180, 233, 255}, {64, 64, 64, 255}, {240, 228, 66, 255},
	}
	all := append([]color.RGBA{}, base...)
	for _, c := range base {
		all = append(all, mix(c, color.RGBA{0, 0, 0, 255}, 0.45))
	}
	// In another order, since pale green and pale purple look alike to some.
	for _, i := range []int{0, 1, 2, 4, 3, 7, 5, 6} {
		all = append(all, mix(base[i], white, 0.5))
	}
	return all
}()

// nearStops is how many stops before one must differ from it plainly, wherever they
// lie; stops that lie on it or beside it must as well, as far back as alongStops.
const (
	nearStops    = 4
	alongStops   = 40
	plainlyApart = 18.0 // CIEDE2000; 10 reads as another colour
)

// stopColours gives each stop a colour of its own set: the one that differs most from
// those of its neighbours, in the order of sewing and on the cloth.
func stopColours(r *report.Report) []color.RGBA {
	labs := make([]words.Lab, len(stopHues))
	for i, c := range stopHues {
		labs[i] = words.LabOf(c)
	}
	out := make([]color.RGBA, len(r.Stops))
	index := make([]int, len(r.Stops))
	used := make([]int, len(stopHues))
	for i := range r.Stops {
		best, most := 0, -math.MaxFloat64
		for h := range stopHues {
			least := 60.0
			for j := max(0, i-alongStops); j < i; j++ {
				if i-j <= nearStops || boxOf(&r.Stops[i]).Meets(boxOf(&r.Stops[j])) {
					least = min(least, words.CIEDE2000(labs[h], labs[index[j]]))
				}
			}
			// Of those that do, the least used, in the order of the set.
			score := least - 100
			if least >= plainlyApart {
				score = -float64(used[h])
			}
			if score > most {
				best, most = h, score
			}
		}
		used[best]++
		index[i], out[i] = best, stopHues[best]
	}
	return out
}

// maxKeys bounds the entries of a legend.
const maxKeys = 60

func drawStops(d *stitchfile.Design, r *report.Report, o Options) Picture {
	f := foot{title: "Colour stops in sewing order"}
	colours := stopColours(r)
	for i := range r.Stops {
		if i == maxKeys {
			f.notes = append(f.notes, fmt.Sprintf("%d more stops are not listed.", len(r.Stops)-i))
			break
		}
		st := &r.Stops[i]
		f.keys = append(f.keys, key{colours[i], fmt.Sprint(st.Number), words.Role(r, st)})
	}
	if len(r.Stops) == 0 {
		f.notes = append(f.notes, "Nothing is sewn in this design.")
	} else {
		f.notes = append(f.notes, "These colours only tell the stops apart: they are not the colours of the threads. A number stands where its stop begins.")
	}
	s := newSheet(d, r, o, f)
	in := s.img.SubImage(s.field).(*image.RGBA)
	// Lines go over surfaces, whatever their order: satin would hide the
	// placement line it covers.
	for _, lines := range []bool{false, true} {
		for i := range r.Stops {
			st := &r.Stops[i]
			if isLine(d, r, st) != lines {
				continue
			}
			c := colours[i]
			switch {
			case contrast(c, s.ground) < 1.7: // too pale to show
				s.trace(in, st, quiet, s.laid()+max(1.5, s.em/12))
			case lines:
				s.trace(in, st, s.ground, s.laid()+max(2, s.em/8))
			}
			s.trace(in, st, c, max(s.laid(), s.em/12))
		}
	}
	if !o.Bare {
		s.numbers(in, colours)
	}
	return s.picture()
}

// trace draws the stitches of a stop as plain lines.
func (s *sheet) trace(img *image.RGBA, st *report.Stop, c color.RGBA, thick float64) {
	p := threadPainter{img: img}
	p.line(c, thick)
	s.place.stitches(s.d, s.r, st, func(_ int, x0, y0, x1, y1 float64) { p.stitch(x0, y0, x1, y1) })
}

// isLine reports whether a stop sews lines rather than surfaces: by the kinds of
// its stitches, or by its role where they are not known.
func isLine(d *stitchfile.Design, r *report.Report, s *report.Stop) bool {
	if len(r.Kinds) != len(d.Moves) {
		switch s.Role {
		case report.RoleClothOutline, report.RoleClothHoldDown, report.RolePlacementLine, report.RoleTackDown,
			report.RoleEdgeRun, report.RoleBattingHoldDown, report.RoleBackingHoldDown, report.RoleQuilting:
			return true
		}
		return false
	}
	surface := 0
	for _, k := range r.Kinds[s.First:s.Last] {
		switch k {
		case report.KindSatin, report.KindFill:
			surface++
		}
	}
	return surface*5 < s.Stitches*2
}

// numbers puts a badge at the start of each stop.
func (s *sheet) numbers(img *image.RGBA, colours []color.RGBA) {
	b := &s.plates
	for i := range s.r.Stops {
		st := &s.r.Stops[i]
		x, y := s.place.at(start(s.d, s.r, st))
		b.add(s, img, x, y, fmt.Sprint(st.Number), colours[i])
	}
}
