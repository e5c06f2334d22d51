// Package samples makes the small pictures of what each check finds: a sound
// sample and one with the fault, side by side.
package samples

import (
	"image/color"

	"github.com/stopcard/stopcard/analyse/analysetest"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Sample shows one rule.
type Sample struct {
	Rule          string
	Alt           string // the picture in words
	Sound, Faulty Panel
}

// Panel is one half of a picture: a design, how it is analysed, and the part of
// it that is shown. Lengths are in mm, in the design's own coordinates.
type Panel struct {
	Caption string
	Design  *stitchfile.Design
	HoopMM  float64 // side of the hoop it must fit; 0: none, and none is drawn

	Middle  st.Point // of what is shown
	WidthMM float64  // of what is shown
	Stops   int      // how many colour stops are drawn; 0: all
	Patches []Patch  // cloth, in the order it is laid
	Holes   bool     // draw the needle holes
	Ring    *st.Point
	RingMM  float64 // radius of the ring about the finding; 0: an eighth of the width shown
}

// Patch is a piece of cloth laid after a stop.
type Patch struct {
	After  int // 0: before anything is sewn
	Shape  st.Path
	Colour color.RGBA
}

// Report is the analysis of the panel's design.
func (p Panel) Report() *report.Report {
	s := report.DefaultSettings()
	s.HoopWidthMM, s.HoopHeightMM = p.HoopMM, p.HoopMM
	return analysetest.Run(p.Design, s)
}

// Samples are all samples, in the order of the rules in the README.
func Samples() []Sample {
	return []Sample{
		outsideHoop(), edgeUncovered(), inSight(), coverMissing(), tackDownMissing(), missingPause(), wrongOrder(), noPause(), sameColour(), openOutline(), astray(), drawnIn(),
		thinCover(), narrowSatin(), wideSatin(), longStitch(), shortStitch(),
		crowded(), stacked(), untrimmed(), noTie(), stretched(),
	}
}

var (
	teal  = color.RGBA{22, 92, 104, 255}
	brick = color.RGBA{178, 66, 48, 255}
	plum  = color.RGBA{104, 52, 110, 255}
	navy  = color.RGBA{36, 58, 110, 255}
	fern  = color.RGBA{62, 112, 66, 255}

	yellow = color.RGBA{243, 201, 92, 255} // the applique cloth
)

func pt(x, y float64) st.Point { return st.Point{X: x, Y: y} }

// maker sews parts that are tied at both ends and cut.
type maker struct {
	st.Builder
	begun bool
}

// stop starts a colour.
func (m *maker) stop(c color.RGBA) {
	if m.begun {
		m.Stop()
	}
	m.begun = true
	m.Thread(c, "")
}

func (m *maker) part(from, towards st.Point, sew func()) {
	m.TieIn(from, pt(towards.X-from.X, towards.Y-from.Y))
	sew()
	m.tieBack()
	m.Trim()
}

// tieBack ends a thread with lock stitches along the stitch it came by, so that
// they do not stick out.
func (m *maker) tieBack() {
	moves := m.Design().Moves
	last, before := moves[len(moves)-2], moves[len(moves)-3]
	m.Lock(m.At(), pt(float64(before.X-last.X), float64(before.Y-last.Y)), 0.6, 4)
}

func (m *maker) run(p st.Path) { m.part(p[0], p[1], func() { m.Run(p, 2.5) }) }

func (m *maker) satin(p st.Path, width, pitch float64) {
	m.part(p[0], p[1], func() { m.Satin(p, st.SatinAlong{Width: width, Pitch: pitch}) })
}

func (m *maker) fill(p st.Path, spacing, length, angle float64) {
	first := new(st.Builder).Fill(p, spacing, length, angle).Design().Moves[0]
	from := pt(float64(first.X)/10, float64(first.Y)/10)
	m.part(from, pt(from.X+1, from.Y), func() { m.Fill(p, spacing, length, angle) })
}
