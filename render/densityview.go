package render

import (
	"fmt"
	"image"
	"iter"
	"math"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var densityView = View{
	Name: "density",
	Doc:  "how many layers of thread lie on the cloth, by squares",
	Draw: heatDrawer(func(d *report.Density, set *report.Settings) heat {
		return heat{
			title: "Layers of thread: thread area over cloth area", each: 1, unit: "layers",
			limit: set.Limit("stacked-layers"), most: d.MaxLayers,
			at: d.MaxLayersAt, stops: d.MaxLayersStops,
			cells: func(g *report.Grid) []float32 { return g.Layers },
		}
	}),
}

var penetrationsView = View{
	Name: "penetrations",
	Doc:  "how many needle holes each square millimetre of cloth must bear",
	Draw: heatDrawer(func(d *report.Density, set *report.Settings) heat {
		each, unit := words.UnitsOf(set).HoleUnit()
		return heat{
			title: "Needle holes, each counted once", each: each, unit: unit,
			limit: set.Limit("crowded-needle"), most: d.MaxPenetrations,
			at: d.MaxPenetAt, stops: d.MaxPenetStops,
			cells: crowdingOf, smooth: true,
		}
	}),
}

func crowdingOf(g *report.Grid) []float32 {
	if g.Crowding == nil {
		return nil
	}
	return g.Crowding()
}

// heatDrawer draws the one picture of a heat.
func heatDrawer(of func(*report.Density, *report.Settings) heat) func(*stitchfile.Design, *report.Report, Options) iter.Seq[Picture] {
	return single(func(d *stitchfile.Design, r *report.Report, o Options) Picture {
		set := settingsOf(r)
		return of(&r.Density, &set).draw(d, r, o)
	})
}

// heat is a picture of one of the grids of a report's density.
type heat struct {
	title, unit string
	each        float64 // of the unit, for one that the report counts
	limit, most float64
	at          geom.Place
	stops       []int
	cells       func(*report.Grid) []float32
	smooth      bool // the cells are means over their neighbourhood already
}

func (h heat) draw(d *stitchfile.Design, r *report.Report, o Options) Picture {
	g := r.Density.Grid
	limit, most := math.Round(h.limit*h.each*1000)/1000, h.most*h.each
	digits := 1 // as findings tell them
	if h.each > 1 {
		limit, digits = math.Round(limit*10)/10, 0
	}
	figure, _ := words.Past(most, limit, digits)
	f := foot{title: h.title}
	var cells []float32
	if g != nil {
		cells = h.cells(g)
	}
	if g == nil || g.NX <= 0 || g.NY <= 0 || len(cells) != g.NX*g.NY || len(g.Layers) != g.NX*g.NY || !(g.CellMM > 0) {
		f.notes = append(f.notes, "Density was not measured for this design.")
		s := newSheet(d, r, o, f)
		s.faint()
		return s.picture()
	}
	f.notes = append(f.notes, fmt.Sprintf("Means over %s, drawn in squares of %s. The most: %s %s%s.", spotOf(g, unitsOf(r)), unitsOf(r).Small(g.CellMM), figure, h.unit, byStops(h.stops)))
	// The scale reaches past the limit, so that what is below it is seen to be.
	top := math.Ceil(max(most, limit*1.25))
	f.keys = append(f.keys, key{colour: Cloth, text: "no thread"})
	unit, _, _ := strings.Cut(h.unit, " to a ")
	f.ramp = &scaleRamp{most: top, unit: unit, limit: limit, name: "limit"}
	s := newSheet(d, r, o, f)
	in := s.img.SubImage(s.field).(*image.RGBA)
	for j := range g.NY {
		for i := range g.NX {
			if !(g.Layers[j*g.NX+i] > 0) {
				continue // bare cloth
			}
			v := float64(cells[j*g.NX+i])
			if !h.smooth {
				v = meanAround(cells, g.NX, g.NY, i, j)
			}
			x0, y1 := s.place.at(geom.Point{X: g.X + float64(i)*g.CellMM, Y: g.Y + float64(j)*g.CellMM})
			x1, y0 := s.place.at(geom.Point{X: g.X + float64(i+1)*g.CellMM, Y: g.Y + float64(j+1)*g.CellMM})
			box(in, image.Rect(int(math.Round(x0)), int(math.Round(y0)), int(math.Round(x1)), int(math.Round(y1))), rampAt(v*h.each/top))
		}
	}
	if h.most > 0 && !o.Bare {
		b := &s.plates
		x, y := s.place.at(geom.Point{X: h.at[0], Y: h.at[1]})
		b.add(s, in, x, y, "most: "+figure, white)
	}
	return s.picture()
}

// spotOf is the square over which the means of a grid are taken.
func spotOf(g *report.Grid, u words.Units) string {
	if g.CellMM == 1 {
		return u.Spot()
	}
	return u.Field(3*g.CellMM, 3*g.CellMM)
}

// meanAround is the mean of a cell and its eight neighbours, which is what the
// report's peaks and the limits are about: single cells catch two rows of holes
// or none.
func meanAround(cells []float32, nx, ny, i, j int) float64 {
	var sum float32
	for y := max(0, j-1); y <= min(ny-1, j+1); y++ {
		for x := max(0, i-1); x <= min(nx-1, i+1); x++ {
			sum += cells[y*nx+x]
		}
	}
	return float64(sum) / 9
}

// byStops names the stops that make a peak.
func byStops(stops []int) string {
	switch len(stops) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf(", made by stop %d", stops[0])
	}
	return ", made by stops " + numberList(stops)
}

// faint draws the whole design as thin pale lines.
func (s *sheet) faint() {
	in := s.img.SubImage(s.field).(*image.RGBA)
	for i := range s.r.Stops {
		s.trace(in, &s.r.Stops[i], mix(s.ground, ink, 0.25), max(1, s.laid()/2))
	}
}
