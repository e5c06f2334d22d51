package render

import (
	"image/color"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// hooped is a square design in which piece 1 is laid for stop 2, trimmed after stop
// 3, and batting laid under it for stop 4.
func hooped() *stopPictures {
	d, one := square(color.RGBA{200, 20, 20, 255})
	r := *one
	r.Stops = nil
	piece := report.Lying{What: report.AppliqueCloth, Piece: 1, Side: report.Face}
	in := func(s report.LyingState) report.Lying { piece.State = s; return piece }
	base := report.Lying{What: report.Stabiliser, State: report.Hooped, Side: report.Face}
	under := report.Lying{What: report.Batting, State: report.Laid, Side: report.Underside}
	for i, lies := range [][]report.Lying{{base}, {base, in(report.Laid)}, {base, in(report.Held)}, {base, in(report.Trimmed), under}, {base, in(report.Covered), under}} {
		s := one.Stops[0]
		s.Number, s.LiesInHoop = i+1, lies
		r.Stops = append(r.Stops, s)
	}
	r.Stops[2].AfterSteps = []report.Step{{Kind: report.StepTrim, What: report.AppliqueCloth, Pieces: []int{1}}}
	r.Pieces = []report.Piece{{Number: 1, CutSizeMM: [2]float64{60, 60}, CutEdge: []geom.Polyline{{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}, {X: -20, Y: -20}}}}}
	return &stopPictures{d: d, r: &r, side: 308} // 2 pixels to a mm
}

// Cloth is tinted from its laying on, to its corners until it is cut and to its cut
// edge after that; batting shows on the underside.
func TestClothInRowPictures(t *testing.T) {
	p := hooped()
	at := func(n int, x, y float64) color.RGBA {
		img := p.draw([]*report.Stop{&p.r.Stops[n-1]})
		px, py := p.place.at(geom.Point{X: x, Y: y})
		return img.RGBAAt(int(px), int(py))
	}
	for _, c := range []struct {
		stop         int
		inside, rest color.RGBA // in the piece, and in its corner that is cut off
	}{{1, white, white}, {2, pieceTint, pieceTint}, {3, pieceTint, pieceTint}, {5, pieceTint, white}} {
		p := *hooped()
		img := p.draw([]*report.Stop{&p.r.Stops[c.stop-1]})
		for _, q := range []struct {
			mm   float64
			want color.RGBA
		}{{3.5, c.inside}, {26, c.rest}} {
			px, py := p.place.at(geom.Point{X: -q.mm, Y: q.mm})
			if got := img.RGBAAt(int(px), int(py)); got != q.want {
				t.Errorf("stop %d, %v mm out: %v, want %v", c.stop, q.mm, got, q.want)
			}
		}
	}
	if got := at(4, 74, 74); got == white {
		t.Error("the underside looks like the face")
	}
	if u := p.under(&p.r.Stops[3]); u == nil || u.What != report.Batting {
		t.Errorf("under stop 4: %v", u)
	}
	if len(p.cloth.cuts(&p.r.Stops[2])) != 1 || len(p.cloth.cuts(&p.r.Stops[1])) != 0 {
		t.Error("scissors are not where the trim is")
	}
}

// Batting on the face is drawn to its corners, and to its line once it is trimmed.
func TestTrimmedBattingInRowPictures(t *testing.T) {
	for _, trimmed := range []bool{false, true} {
		p := hooped()
		p.r.Pieces = nil
		p.r.Cloths = []report.Cloth{{Kind: "batting", Stop: 1, WidthMM: 2 * p.r.WidthMM, HeightMM: 2 * p.r.HeightMM}}
		for i := range p.r.Stops {
			state := report.Held
			if trimmed && i > 0 {
				state = report.Trimmed
			}
			p.r.Stops[i].LiesInHoop = []report.Lying{{What: report.Batting, State: state, Side: report.Face}}
			p.r.Stops[i].AfterSteps = nil
		}
		p.begin()
		corner := geom.Point{X: -0.52 * p.r.WidthMM, Y: 0} // outside the design, inside the batting
		dots := false
		img := p.draw([]*report.Stop{&p.r.Stops[2]})
		for y := -0.4 * p.r.HeightMM; y < 0.4*p.r.HeightMM; y += 0.5 {
			for x := corner.X - 2; x < corner.X+2; x += 0.5 {
				px, py := p.place.at(geom.Point{X: x, Y: y})
				dots = dots || img.RGBAAt(int(px), int(py)) == battingDot
			}
		}
		if dots == trimmed {
			t.Errorf("trimmed %v: batting past the design: %v", trimmed, dots)
		}
	}
}

// Only the stop at hand has colour, whatever came before it.
func TestRowPicturesGreyThePast(t *testing.T) {
	p := hooped()
	p.r.Stops[0].Thread.Colour = color.RGBA{20, 200, 20, 255}
	p.r.Pieces = nil
	img := p.draw([]*report.Stop{&p.r.Stops[1]})
	for i := 0; i < len(img.Pix); i += 4 {
		if int(img.Pix[i+1]) > int(img.Pix[i])+40 {
			t.Fatalf("green of stop 1 on the picture of stop 2: %v", img.Pix[i:i+3])
		}
	}
}

// The verbs say what the hands do in the fewest words, in the order of the work.
func TestHandVerbs(t *testing.T) {
	p := hooped()
	step := func(k report.StepKind, m report.Material, pieces ...int) report.Step {
		return report.Step{Kind: k, What: m, Pieces: pieces}
	}
	for _, c := range []struct {
		stop  int
		steps []report.Step
		want  string
	}{
		{2, []report.Step{step(report.StepLay, report.AppliqueCloth, 1)}, "LAY piece 1"},
		{2, []report.Step{step(report.StepLay, report.AppliqueCloth, 1, 2, 3)}, "LAY pieces 1, 2 and 3"},
		{3, []report.Step{step(report.StepHoopOff, ""), step(report.StepTrim, report.AppliqueCloth, 1), step(report.StepHoopOn, "")}, "HOOP OFF, TRIM"},
		{4, []report.Step{step(report.StepHoopOff, ""), step(report.StepTurnOver, ""), step(report.StepLay, report.Batting)}, "TURN, LAY batting"},
		{4, []report.Step{step(report.StepLay, report.Batting)}, "LAY batting UNDER"},
		{4, []report.Step{step(report.StepTrim, report.Batting)}, "TRIM batting"},
		{5, []report.Step{step(report.StepTrim, report.AppliqueCloth, 1)}, "TRIM if not yet"},
		{1, []report.Step{step(report.StepNote, ""), step(report.StepChangeThread, "")}, ""},
	} {
		if got := handVerbs(p.r, &p.r.Stops[c.stop-1], c.steps); got != c.want {
			t.Errorf("stop %d: %q, want %q", c.stop, got, c.want)
		}
	}
}
