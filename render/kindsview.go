package render

import (
	"fmt"
	"image"
	"image/color"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var kindsView = View{
	Name: "kinds",
	Doc:  "stitches by their kind: runs, satin, fill, ties and travel",
	Draw: single(drawKinds),
}

// kindColours are apart in lightness as well as in hue.
var kindColours = map[report.Kind]color.RGBA{
	report.KindRun:        {0, 114, 178, 255},
	report.KindDoubleRun:  {86, 180, 233, 255},
	report.KindTripleRun:  {0, 60, 96, 255},
	report.KindSatin:      {213, 94, 0, 255},
	report.KindOpenZigzag: {230, 159, 0, 255},
	report.KindFill:       {0, 158, 115, 255},
	report.KindTie:        {204, 121, 167, 255},
	report.KindTravel:     {110, 110, 110, 255},
}

func drawKinds(d *stitchfile.Design, r *report.Report, o Options) Picture {
	f := foot{title: "Kinds of stitches"}
	known := len(r.Kinds) == len(d.Moves)
	counts := map[report.Kind]int{}
	if known {
		for i, k := range r.Kinds {
			if d.Moves[i].Kind == stitchfile.Stitch {
				counts[k]++
			}
		}
		for _, k := range report.Kinds() {
			if n := counts[k]; n > 0 {
				f.keys = append(f.keys, key{colour: kindColours[k], text: fmt.Sprintf("%v: %s", k, words.Count(n, "stitch"))})
			}
		}
	}
	if len(f.keys) == 0 {
		f.notes = append(f.notes, "The kinds of stitches are not known for this design.")
	}
	s := newSheet(d, r, o, f)
	in := s.img.SubImage(s.field).(*image.RGBA)
	thick := max(s.laid()*0.7, s.em/14)
	p := threadPainter{img: in}
	if !known {
		p.line(mix(s.ground, ink, 0.25), thick)
		for i := range r.Stops {
			s.place.stitches(d, r, &r.Stops[i], func(_ int, x0, y0, x1, y1 float64) { p.stitch(x0, y0, x1, y1) })
		}
		return s.picture()
	}
	// Surfaces first, lines over them, ties last: each would hide the next.
	for _, layer := range [][]report.Kind{{report.KindFill, report.KindSatin}, {report.KindOpenZigzag, report.KindRun, report.KindDoubleRun, report.KindTripleRun, report.KindTravel}, {report.KindTie}} {
		for _, k := range layer {
			if counts[k] == 0 {
				continue
			}
			p.line(kindColours[k], thick)
			if k == report.KindTie {
				p.line(kindColours[k], thick*2.2)
			}
			for i := range r.Stops {
				s.place.stitches(d, r, &r.Stops[i], func(i int, x0, y0, x1, y1 float64) {
					if r.Kinds[i] == k {
						p.stitch(x0, y0, x1, y1)
					}
				})
			}
		}
	}
	return s.picture()
}
