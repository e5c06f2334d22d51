package render

import (
	"fmt"
	"image"
	"math"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/stitchfile"
)

var densityView = View{
	Name: "density",
	Doc:  "how many layers of thread lie on the cloth, by squares",
	Draw: single(func(d *stitchfile.Design, r *analyse.Report, o Options) Picture {
		h := heat{
			title: "Layers of thread: thread area over cloth area", unit: "layers",
			limit: pickLimit(o.LayersLimit, "stacked-layers"), most: r.Density.MaxLayers,
			at: r.Density.MaxLayersAt, stops: r.Density.MaxLayersStops,
		}
		if g := r.Density.Grid; g != nil {
			h.cells = g.Layers
		}
		return h.draw(d, r, o)
	}),
}

var penetrationsView = View{
	Name: "penetrations",
	Doc:  "how many needle holes each square millimetre of cloth must bear",
	Draw: single(func(d *stitchfile.Design, r *analyse.Report, o Options) Picture {
		h := heat{
			title: "Needle penetrations", unit: "holes per mm2",
			limit: pickLimit(o.NeedlesLimit, "crowded-needle"), most: r.Density.MaxPenetrations,
			at: r.Density.MaxPenetAt, stops: r.Density.MaxPenetStops,
		}
		if g := r.Density.Grid; g != nil {
			h.cells = g.Needles
		}
		return h.draw(d, r, o)
	}),
}

func pickLimit(given float64, name string) float64 {
	if given > 0 {
		return given
	}
	s := analyse.DefaultSettings()
	return s.Limit(name)
}

// heat is a picture of one of the grids of a report's density.
type heat struct {
	title, unit string
	limit, most float64
	at          analyse.Place
	stops       []int
	cells       []float32
}

func (h heat) draw(d *stitchfile.Design, r *analyse.Report, o Options) Picture {
	g := r.Density.Grid
	f := foot{title: h.title}
	if g == nil || g.NX <= 0 || g.NY <= 0 || len(h.cells) != g.NX*g.NY || !(g.CellMM > 0) {
		f.notes = append(f.notes, "Density was not measured for this design.")
		s := newSheet(d, r, o, f)
		s.faint()
		return s.picture()
	}
	f.notes = append(f.notes, fmt.Sprintf("Each square is %s mm wide. The most: %s %s%s.", figure(g.CellMM), figure(h.most), h.unit, byStops(h.stops)))
	// The scale reaches past the limit, so that what is below it is seen to be.
	top := math.Ceil(max(h.most, h.limit*1.25))
	f.ramp = &scaleRamp{most: top, unit: h.unit, limit: h.limit, name: "limit"}
	s := newSheet(d, r, o, f)
	in := s.img.SubImage(s.field).(*image.RGBA)
	for j := range g.NY {
		for i := range g.NX {
			v := float64(h.cells[j*g.NX+i])
			if !(v > 0) {
				continue
			}
			x0, y1 := s.place.at(analyse.Point{X: g.X + float64(i)*g.CellMM, Y: g.Y + float64(j)*g.CellMM})
			x1, y0 := s.place.at(analyse.Point{X: g.X + float64(i+1)*g.CellMM, Y: g.Y + float64(j+1)*g.CellMM})
			box(in, image.Rect(int(math.Round(x0)), int(math.Round(y0)), int(math.Round(x1)), int(math.Round(y1))), rampAt(v/top))
		}
	}
	if h.most > 0 && !o.Bare {
		b := &s.plates
		x, y := s.place.at(analyse.Point{X: h.at[0], Y: h.at[1]})
		b.add(s, in, x, y, "most: "+figure(h.most), white)
	}
	return s.picture()
}

// byStops names the stops that make a peak.
func byStops(stops []int) string {
	const most = 8
	switch len(stops) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf(", made by stop %d", stops[0])
	}
	text := ", made by stops"
	for i, n := range stops {
		if i == most {
			return text + " and others"
		}
		sep := ","
		if i == 0 {
			sep = ""
		} else if i == len(stops)-1 {
			sep = " and"
		}
		text += fmt.Sprintf("%s %d", sep, n)
	}
	return text
}

// faint draws the whole design as thin pale lines.
func (s *sheet) faint() {
	in := s.img.SubImage(s.field).(*image.RGBA)
	for i := range s.r.Stops {
		s.trace(in, &s.r.Stops[i], mix(s.ground, ink, 0.25), max(1, s.laid()/2))
	}
}
